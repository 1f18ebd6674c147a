package shadow

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// local asks the site itself.
func local(t testing.TB, s *Shadow, site sun.Site) (eclipse.Circumstances, *eclipse.Observer) {
	t.Helper()
	o, err := s.prep.Observer(site)
	require.NoError(t, err)
	return o.Circumstances(), &o
}

// toward goes from a along the great circle to b; negative the other way.
func toward(a, b sun.Site, km float64) sun.Site {
	sinA, cosA := math.Sincos(a.Lat * deg)
	sinB, cosB := math.Sincos(b.Lat * deg)
	sinλ, cosλ := math.Sincos((b.Lon - a.Lon) * deg)
	return arc(a, km/6371.0088, math.Atan2(sinλ*cosB, cosA*sinB-sinA*cosB*cosλ))
}

// drawn draws sections at random from the paths of the canon.
func drawn(t *testing.T, n int, use func(*Shadow, Section)) {
	t.Helper()
	rng := rand.New(rand.NewPCG(3, 4))
	all := every(t)
	for done := 0; done < n; {
		s := all[rng.IntN(len(all))]
		if !s.global.U1.Exists {
			continue
		}
		from, to := s.global.U1.TT, s.global.U4.TT
		use(s, s.Section(from+timescale.TT(rng.Float64()*float64(to-from))))
		done++
	}
}

// Lines and limits against the sites' own circumstances, found by another road: a
// site on the limit has no more than a moment of the central phase, one a kilometre
// inside has some, one a kilometre outside none, and the middle of it falls on the
// section's instant; a site on the central line is no distance from it.
func TestSitesAgreeWithTheLimits(t *testing.T) {
	lines, limits, worst := 0, 0, 0.0
	drawn(t, 1500, func(s *Shadow, sec Section) {
		date := s.elements.Date
		if sec.Center.Exists {
			lines++
			c, o := local(t, s, sec.Center.Site)
			if km := o.CentralLine().Km; !(km <= 0.01) {
				t.Errorf("%s: %v is %.4f km from the central line", date, sec.Center.Site, km)
			}
			if c.Geometry != sec.Kind || !c.C2.Exists || c.C2.TT > sec.TT || c.C3.TT < sec.TT {
				t.Errorf("%s: %v sees %v, section says %v", date, sec.Center.Site, c.Geometry, sec.Kind)
			}
		}
		if !sec.North.Exists || !sec.South.Exists {
			return
		}
		if d := distance(sec.North.Site, sec.South.Site); d < 4 || d > 1500 {
			return // too narrow to be a kilometre inside, or so low that the way across is long and bent
		}
		for _, p := range [][2]sun.Site{{sec.North.Site, sec.South.Site}, {sec.South.Site, sec.North.Site}} {
			limits++
			on, _ := local(t, s, p[0])
			worst = math.Max(worst, on.Duration)
			if !(on.Duration <= 0.2) {
				t.Errorf("%s: %.3f s on the limit at %v", date, on.Duration, p[0])
			}
			in, _ := local(t, s, toward(p[0], p[1], 1))
			out, _ := local(t, s, toward(p[0], p[1], -1))
			if !in.C2.Exists || out.C2.Exists {
				t.Errorf("%s: at %v a kilometre inside %v, outside %v", date, p[0], in.Geometry, out.Geometry)
				continue
			}
			if mid := (in.C2.TT + in.C3.TT) / 2; in.Max.Alt > 10 && !(math.Abs(float64(mid-sec.TT)) <= 3) {
				t.Errorf("%s: at %v the middle is %.1f s off", date, p[0], mid-sec.TT)
			}
		}
	})
	t.Logf("%d points of central lines, %d of limits; longest central phase on a limit %.3f s", lines, limits, worst)
	if lines < 1000 || limits < 1500 {
		t.Errorf("only %d and %d points", lines, limits)
	}
}

// The penumbra's limits: magnitude changes sign there.
func TestSitesAgreeWithThePenumbra(t *testing.T) {
	n := 0
	drawn(t, 500, func(s *Shadow, sec Section) {
		for _, p := range []Place{sec.PenumbraNorth, sec.PenumbraSouth} {
			if !p.Exists {
				continue
			}
			n++
			_, o := local(t, s, p.Site)
			if m := o.Aspect(o.LeastAxisDistance()).Magnitude; !(math.Abs(m) <= 1e-5) {
				t.Errorf("%s: greatest magnitude %.7f on the penumbra's limit at %v", s.elements.Date, m, p.Site)
			}
		}
	})
	if n < 300 {
		t.Errorf("only %d points", n)
	}
}

// Width against the ground itself: from the line, at right angles to it, to the
// last site that sees a central phase.
func TestWidthOnTheGround(t *testing.T) {
	n, worst := 0, 0.0
	drawn(t, 600, func(s *Shadow, sec Section) {
		if !sec.Center.Exists || sec.Alt < 15 || sec.Width < 5 || math.Abs(sec.Center.Site.Lat) > 80 {
			return
		}
		n++
		a, b := s.Section(sec.TT-5).Center.Site, s.Section(sec.TT+5).Center.Site
		east := math.Remainder(b.Lon-a.Lon, 360) * math.Cos(sec.Center.Site.Lat*deg)
		north := b.Lat - a.Lat
		reach := func(sign float64) float64 {
			step := func(km float64) sun.Site {
				return arc(sec.Center.Site, km/6371.0088, math.Atan2(east, north)+sign*math.Pi/2)
			}
			in, out := 0.0, 3*sec.Width
			for range 40 {
				km := (in + out) / 2
				if c, _ := local(t, s, step(km)); c.C2.Exists {
					in = km
				} else {
					out = km
				}
			}
			return distance(sec.Center.Site, step(in))
		}
		got := reach(1) + reach(-1)
		worst = math.Max(worst, math.Abs(got/sec.Width-1))
		if tol := 0.006 + 0.02*math.Pow(sec.Width/500/math.Sin(sec.Alt*deg), 2); !(math.Abs(got/sec.Width-1) <= tol) {
			t.Errorf("%s at %v: %.2f km on the ground, Width %.2f, the Sun at %.0f", s.elements.Date, sec.Center.Site, got, sec.Width, sec.Alt)
		}
	})
	t.Logf("%d widths, worst ratio %.4f off", n, worst)
	if n < 200 {
		t.Errorf("only %d widths", n)
	}
}

// arc is the end of a great circle of length d that starts at azimuth az, radians.
func arc(a sun.Site, d, az float64) sun.Site {
	sinφ, cosφ := math.Sincos(a.Lat * deg)
	sin, cos := math.Sincos(d)
	φ := math.Asin(sinφ*cos + cosφ*sin*math.Cos(az))
	λ := math.Atan2(math.Sin(az)*sin*cosφ, cos-sinφ*math.Sin(φ))
	lon := math.Remainder(a.Lon+λ/deg, 360)
	if lon >= 180 {
		lon -= 360
	}
	return sun.Site{Lat: φ / deg, Lon: lon}
}
