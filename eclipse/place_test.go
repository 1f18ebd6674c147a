package eclipse

import (
	"math"
	"testing"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// What Aspect and Instant say of the pair must come out of the two places: apart by
// as much, in the same direction, and with the radii that their distances give.
func TestPlacesAgreeWithAspect(t *testing.T) {
	n := 0
	for _, e := range all(t) {
		for _, site := range sites {
			o := watch(t, e, site, 69)
			c := o.Circumstances()
			if c.Geometry == None {
				continue
			}
			n++
			for _, at := range []timescale.TT{c.C1.TT, c.Max.TT, c.C4.TT} {
				a := o.Aspect(at)
				s, moon := o.Places(at)
				sinδ, cosδ := math.Sincos(moon.Dec * deg)
				sin0, cos0 := math.Sincos(s.Dec * deg)
				sinα, cosα := math.Sincos((moon.RA - s.RA) * deg)
				east, north := cosδ*sinα, sinδ*cos0-cosδ*sin0*cosα
				apart := math.Atan2(math.Hypot(east, north), sinδ*sin0+cosδ*cos0*cosα) / deg
				if !(math.Abs(apart-a.Separation) <= 1e-9) {
					t.Errorf("%s %v: %.10f° apart, Aspect has %.10f°", e.Date, site, apart, a.Separation)
				}
				p := math.Atan2(east, north) / deg
				if d := math.Remainder(p-o.Instant(at).P, 360); a.Separation > 0.01 && !(math.Abs(d) <= 1e-6) {
					t.Errorf("%s %v: the Moon at P %.7f°, Instant has %.7f°", e.Date, site, p, o.Instant(at).P)
				}
				for _, b := range []struct {
					name               string
					radius, away, want float64 // km, km, degrees
				}{
					{"Sun", sunRadius * earthRadius, s.Distance, a.SunRadius},
					{"Moon", o.k * earthRadius, moon.Distance, a.MoonRadius},
				} {
					if r := math.Asin(b.radius/b.away) / deg; !(math.Abs(r-b.want) <= 1e-9) {
						t.Errorf("%s %v: %s's radius %.10f°, Aspect has %.10f°", e.Date, site, b.name, r, b.want)
					}
				}
			}
		}
	}
	if n < 40 {
		t.Fatalf("%d eclipses seen", n)
	}
}

// Right ascension and declination themselves, against the Sun's own theory: seen from
// a site it is 8.8 arcsec off at most, and printed elements have their own roundings.
func TestPlacesOfTheSun(t *testing.T) {
	worst := 0.0
	for _, e := range all(t) {
		if e.Date == "2012-05-20" {
			continue // its 0h is that of the day before T0's: the table has greatest eclipse's day for it
		}
		o := watch(t, e, sites[0], 69)
		for _, at := range []timescale.TT{e.T0 - 7200, e.T0 + 7200} {
			got, _ := o.Places(at)
			want := sun.Apparent(at)
			apart := math.Hypot(math.Remainder(got.RA-want.RA, 360)*math.Cos(want.Dec*deg), got.Dec-want.Dec) * 3600
			worst = math.Max(worst, apart)
			if !(apart <= 8.8+2) {
				t.Errorf("%s: the Sun at %.4f° %.4f°, its theory has %.4f° %.4f°, %.1f arcsec off", e.Date, got.RA, got.Dec, want.RA, want.Dec, apart)
			}
			if !(math.Abs(got.Distance/149597870.7-want.Distance) <= 1e-4) {
				t.Errorf("%s: the Sun %.6f au away, want %.6f", e.Date, got.Distance/149597870.7, want.Distance)
			}
		}
	}
	t.Logf("worst %.1f arcsec", worst)
}
