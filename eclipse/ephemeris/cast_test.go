package ephemeris

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// aligned is a sky with Sun, Moon and Earth in one line along the equinox.
var aligned = Sky{
	Sun:      Place{Distance: AstronomicalUnit},
	Moon:     Place{Distance: 60 * EarthRadius},
	Sidereal: 30,
}

func TestCastOnALine(t *testing.T) {
	s, err := Cast(aligned, 0.272488, 0.272281)
	require.NoError(t, err)
	gap := AstronomicalUnit/EarthRadius - 60
	f1 := math.Asin((sunRadius + 0.272488) / gap)
	f2 := math.Asin((sunRadius - 0.272281) / gap)
	for _, c := range []struct {
		name           string
		got, want, tol float64
	}{
		// C. W. Allen, Astrophysical Quantities (3rd ed., 1973): 695 990 km,
		// from memory; to its last digit
		{"sun radius, km", sunRadius * EarthRadius, 695990, 5},
		{"x", s.X, 0, 1e-15},
		{"y", s.Y, 0, 1e-15},
		{"d", s.D, 0, 1e-15},
		{"mu", s.Mu, 30, 1e-12},
		{"tan f1", s.TanF1, math.Tan(f1), 1e-15},
		{"tan f2", s.TanF2, math.Tan(f2), 1e-15},
		// the apex of the penumbra lies k1/sin f1 sunward of the Moon, that of
		// the umbra k2/sin f2 earthward
		{"l1", s.L1, (60 + 0.272488/math.Sin(f1)) * math.Tan(f1), 1e-14},
		{"l2", s.L2, (60 - 0.272281/math.Sin(f2)) * math.Tan(f2), 1e-14},
	} {
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s = %.15g, want %.15g ± %g", c.name, c.got, c.want, c.tol)
		}
	}
	if !(s.L2 > -0.05 && s.L2 < 0.05) {
		t.Errorf("umbra's radius %v Earth radii: out of the ordinary", s.L2)
	}
}

// skies draws a sky near new Moon.
func skies(r *rapid.T) Sky {
	ra := rapid.Float64Range(0, 360).Draw(r, "ra")
	dec := rapid.Float64Range(-23.5, 23.5).Draw(r, "dec")
	return Sky{
		Sun: Place{RA: ra, Dec: dec, Distance: rapid.Float64Range(147.1e6, 152.1e6).Draw(r, "sun km")},
		Moon: Place{
			RA:       ra + rapid.Float64Range(-2, 2).Draw(r, "offset in ra"),
			Dec:      dec + rapid.Float64Range(-1.5, 1.5).Draw(r, "offset in dec"),
			Distance: rapid.Float64Range(356e3, 407e3).Draw(r, "moon km"),
		},
		Sidereal: rapid.Float64Range(0, 360).Draw(r, "sidereal"),
	}
}

// A second method: from a point on one of the cones, built from the elements
// alone, the discs must touch, as plain vectors to Sun and Moon show.
func TestDiscsTouchOnTheCones(t *testing.T) {
	const k1, k2 = 0.272488, 0.272281
	rapid.Check(t, func(r *rapid.T) {
		sky := skies(r)
		s, err := Cast(sky, k1, k2)
		if err != nil {
			r.Fatal(err)
		}
		ζ := rapid.Float64Range(-1, 1).Draw(r, "height over the plane")
		θ := rapid.Float64Range(0, 2*math.Pi).Draw(r, "direction")
		sin, cos := math.Sincos(θ)
		for _, cone := range []struct {
			name          string
			l, tan, k     float64
			inside, scale float64
		}{
			{name: "penumbra", l: s.L1, tan: s.TanF1, k: k1, inside: 1},
			{name: "umbra", l: s.L2, tan: s.TanF2, k: k2, inside: -1},
		} {
			radius := cone.l - ζ*cone.tan
			p := untilted(s, sky.Sidereal, s.X+radius*sin, s.Y+radius*cos, ζ)
			toSun, toMoon := sky.Sun.vector().minus(p), sky.Moon.vector().minus(p)
			sun := math.Asin(sunRadius / toSun.length())
			moon := math.Asin(cone.k / toMoon.length())
			want := math.Abs(sun + cone.inside*moon)
			got := angle(toSun, toMoon)
			if !(math.Abs(got-want) <= 2e-12) { // 4e-7 arcsec; 1e-16 of the Sun's distance over the umbra's sine is 1e-13
				r.Fatalf("%s: centres are %.15f apart, discs touch at %.15f", cone.name, got, want)
			}
		}
	})
}

// untilted turns a point of the fundamental frame back to the equator.
func untilted(s Shadow, siderealTime, ξ, η, ζ float64) vector {
	sinα, cosα := math.Sincos((siderealTime - s.Mu) * deg)
	sinδ, cosδ := math.Sincos(s.D * deg)
	along := ζ*cosδ - η*sinδ
	return vector{along*cosα - ξ*sinα, along*sinα + ξ*cosα, ζ*sinδ + η*cosδ}
}

func angle(a, b vector) float64 {
	cross := vector{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x}
	return math.Atan2(cross.length(), a.x*b.x+a.y*b.y+a.z*b.z)
}

// Turning the equinox under everything changes nothing; exchanging north and
// south changes the signs of y and d alone.
func TestCastSymmetries(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		sky := skies(r)
		turn := rapid.Float64Range(-180, 180).Draw(r, "turn")
		turned, mirrored := sky, sky
		turned.Sun.RA += turn
		turned.Moon.RA += turn
		turned.Sidereal = circle(sky.Sidereal + turn)
		mirrored.Sun.Dec, mirrored.Moon.Dec = -sky.Sun.Dec, -sky.Moon.Dec
		a, err := Cast(sky, DefaultK1, DefaultK2)
		if err != nil {
			r.Fatal(err)
		}
		b, err := Cast(turned, DefaultK1, DefaultK2)
		if err != nil {
			r.Fatal(err)
		}
		c, err := Cast(mirrored, DefaultK1, DefaultK2)
		if err != nil {
			r.Fatal(err)
		}
		c.Y, c.D = -c.Y, -c.D
		for _, other := range []Shadow{b, c} {
			// positions of 60 Earth radii carry 60 * 1e-16, angles of 720 degrees 1e-13
			near := math.Abs(a.X-other.X) <= 3e-13 && math.Abs(a.Y-other.Y) <= 3e-13 &&
				math.Abs(a.D-other.D) <= 1e-12 && math.Abs(math.Remainder(a.Mu-other.Mu, 360)) <= 1e-12 &&
				math.Abs(a.L1-other.L1) <= 1e-14 && math.Abs(a.L2-other.L2) <= 1e-14 &&
				math.Abs(a.TanF1-other.TanF1) <= 1e-15 && math.Abs(a.TanF2-other.TanF2) <= 1e-15
			if !near {
				r.Fatalf("%+v\nis not %+v", other, a)
			}
		}
	})
}

func TestCastRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(*Sky)
		k1    float64
		field string
	}{
		{"metres for kilometres", func(s *Sky) { s.Moon.Distance *= 1000 }, DefaultK1, "Sky.Moon.Distance, km"},
		{"au for kilometres", func(s *Sky) { s.Sun.Distance = 1 }, DefaultK1, "Sky.Sun.Distance, km"},
		{"not a number", func(s *Sky) { s.Moon.Dec = math.NaN() }, DefaultK1, "Sky.Moon.Dec, degrees"},
		{"infinite", func(s *Sky) { s.Sidereal = math.Inf(1) }, DefaultK1, "Sky.Sidereal, degrees"},
		{"zero sky", func(s *Sky) { *s = Sky{} }, DefaultK1, "Sky.Sun.Distance, km"},
		{"radius in lunar diameters", func(*Sky) {}, 0.5, "k1, Earth radii"},
	} {
		t.Run(c.name, func(t *testing.T) {
			sky := aligned
			c.spoil(&sky)
			_, err := Cast(sky, c.k1, DefaultK2)
			e, ok := errors.AsType[*RangeError](err)
			if !ok || e.Field != c.field {
				t.Errorf("error %v, want a RangeError of %s", err, c.field)
			}
		})
	}
}
