package limb

import (
	"math"
	"testing"

	"example.org/noonfall/eclipse/disc"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// roundPane is a pane with a round Moon of some radius about the centre of mass, and the
// Sun's centre on a straight line, all in units of the Sun's radius.
func roundPane(t testing.TB, radius, aside float64) *pane {
	g, err := load()
	if err != nil {
		t.Fatal(err)
	}
	p := &pane{grid: g}
	p.x, p.y, p.sun = quartic{0, 2.2}, quartic{aside}, quartic{1}
	p.clear = quartic{aside*aside - 1, 0, 2.2 * 2.2}
	for i := range p.radius {
		p.radius[i] = radius
	}
	p.bound()
	return p
}

// A round limb must give the light that package disc has in closed form.
func TestLightOfARoundMoon(t *testing.T) {
	power, err := disc.HestrofferMagnan(550)
	if err != nil {
		t.Fatal(err)
	}
	worst, crescent := 0.0, 0.0
	for _, law := range []disc.Law{disc.Visible(), disc.Uniform(), power} {
		for _, radius := range []float64{0.945, 0.999, 1.001, 1.06} {
			for _, aside := range []float64{0, 0.03, -0.5} {
				p, rim := roundPane(t, radius, aside), newRim(law)
				for at := -1.; at <= 1; at += 0.0061 {
					z := math.Hypot(2.2*at, aside)
					got, want := p.light(rim, at), law.Flux(radius, z)
					worst = math.Max(worst, math.Abs(got-want))
					if !(math.Abs(got-want) <= 5e-6) {
						t.Errorf("%v, radius %g, separation %.4f: %.8f, want %.8f", law, radius, z, got, want)
					}
					if want > 1e-6 && z < 0.1 {
						crescent = math.Max(crescent, math.Abs(got/want-1))
					}
				}
			}
		}
	}
	if !(crescent <= 5e-4) {
		t.Errorf("a crescent is off by %.1e of itself", crescent)
	}
	t.Logf("worst %.1e of the full light; %.1e of a crescent's own", worst, crescent)
}

// The light of the real limb by the other way: the disc cut up in rings and sectors, and
// each piece asked whether the Moon stands before it.
func TestLightAgainstSummingTheDisc(t *testing.T) {
	if testing.Short() {
		t.Skip("thirty million places on the Sun")
	}
	law := disc.Visible()
	o := watch(t, elements(t, "2027-08-02"), sun.Site{Lat: 36, Lon: -5.6}, 69)
	m := moonOf(t, o)
	c := m.Contacts()
	for _, tt := range []struct {
		off, tol float64 // s before second contact; part of the light
		top      float64 // mu up to which there is light at all, or more
	}{{3600, 1e-4, 1}, {1500, 1e-4, 1}, {120, 5e-4, 1}, {20, 1e-3, 0.5}, {5, 1e-3, 0.2}, {2, 1e-3, 0.12}, {1, 3e-3, 0.08}} {
		var p pane
		m.pane(m.follow(c.LimbC2.TT-timescale.TT(tt.off), 100), &p)
		got, want := p.light(newRim(law), 0), summed(&p, law, tt.top)
		if !(math.Abs(got/want-1) <= tt.tol) {
			t.Errorf("%g s before second contact: %.4e of the light, summed %.4e", tt.off, got, want)
		}
		t.Logf("%g s before second contact: %.4e of the light, %.1e off", tt.off, got, got/want-1)
	}
}

func summed(p *pane, law disc.Law, top float64) float64 {
	const rings, sectors = 700, 6000
	sx, sy, sun := p.x.at(0), p.y.at(0), p.sun.at(0)
	sum := 0.0
	for i := range rings {
		mu := top * (float64(i) + 0.5) / rings
		weight := law.Intensity(mu) * mu
		r := sun * math.Sqrt(1-mu*mu)
		free := 0
		for j := range sectors {
			sin, cos := math.Sincos((float64(j) + 0.5) / sectors * 2 * math.Pi)
			x, y := sx+r*sin, sy+r*cos
			θ := circle(math.Atan2(x, y)/deg) / step
			k := int(θ)
			part := θ - float64(k)
			if math.Hypot(x, y) > (1-part)*p.radius[k%points]+part*p.radius[(k+1)%points] {
				free++
			}
		}
		sum += weight * float64(free) / sectors
	}
	return sum * top / rings / (law.Mean() / 2)
}
