package limb

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/disc"
	"example.org/noonfall/sun/timescale"
)

// A circle off the centre gives itself back.
func TestFigureOfACircle(t *testing.T) {
	g, err := load()
	require.NoError(t, err)
	const east, north, radius = 1.2, -0.7, 1737.0
	var radii [points]float64
	for i := range radii {
		along := east*g.sin[i] + north*g.cos[i]
		across := east*g.cos[i] - north*g.sin[i]
		radii[i] = along + math.Sqrt(radius*radius-across*across)
	}
	f := g.figure(&radii)
	if !(math.Abs(f.East-east) <= 1e-6 && math.Abs(f.North-north) <= 1e-6 && math.Abs(f.Radius-radius) <= 1e-3 && f.ReliefU <= 1e-3) {
		t.Errorf("%+v", f)
	}
}

// Almanacs that wanted the centre of the figure added 0.50 arcsec to the Moon's
// longitude and took 0.25 from its latitude (from memory); k2 is meant for the valleys
// of totals and k1 for the mean limb (testdata/references/elements.csv). The Moon's axes
// are within 1.6 degrees of the ecliptic's.
func TestMeanFigureAgainstAlmanacPractice(t *testing.T) {
	m, err := means()
	require.NoError(t, err)
	const arcsec = 3600 / deg / 384400 // of a kilometre at the mean distance
	for _, v := range []struct {
		name           string
		got, want, tol float64
		source         string
	}{
		{"longitude, arcsec", m.East * arcsec, 0.50, 0.10, "almanac practice"},
		{"latitude, arcsec", m.North * arcsec, -0.25, 0.20, "almanac practice"},
		{"k for totals", m.Total / earthRadius, 0.272281, 0.00016, "IAU k2; 0.00016 is half an arcsecond"},
		{"k for light", m.Radius / earthRadius, 0.2725076, 0.00016, "IAU k1"},
	} {
		if !(math.Abs(v.got-v.want) <= v.tol) {
			t.Errorf("%s %.6f, want %.6f ± %g (%s)", v.name, v.got, v.want, v.tol, v.source)
		}
	}
	if !(m.Total < m.Radius && m.Radius < m.Annular && m.TotalU > 0.2 && m.AnnularU > 0.2) {
		t.Errorf("%+v", m)
	}
	t.Logf("%+v; %.3f and %.3f arcsec, k %.6f %.6f %.6f", m, m.East*arcsec, m.North*arcsec,
		m.Total/earthRadius, m.Radius/earthRadius, m.Annular/earthRadius)
}

// With the mean figure contacts are right in the mean, which those of k2 about the
// centre of mass are not: what is left is the mountains of the place.
func TestFigureMakesContactsRightInTheMean(t *testing.T) {
	mean, err := means()
	require.NoError(t, err)
	g, err := load()
	require.NoError(t, err)
	for _, tt := range []struct {
		kind   eclipse.Kind
		radius float64
	}{{eclipse.Total, mean.Total}, {eclipse.Annular, mean.Annular}} {
		var squares, left, duration, n float64
		for _, o := range centrals(t, tt.kind, 150) {
			m := moonOf(t, o)
			circ, c := o.Circumstances(), m.Contacts()
			middle, half, _ := m.span(&circ)
			var s spells
			s.track, s.grid = m.follow(middle, half), g
			for i := range s.radius {
				s.radius[i] = tt.radius + mean.East*g.sin[i] + mean.North*g.cos[i]
			}
			phase, ok := s.only(tt.kind)
			if c.Count != 1 || !ok || circ.Duration < 60 {
				continue
			}
			begin, end := float64(s.instant(phase.begin)-c.LimbC2.TT), float64(s.instant(phase.end)-c.LimbC3.TT)
			squares += begin*begin + end*end
			duration += end - begin
			before, after := float64(circ.C2.TT-c.LimbC2.TT), float64(circ.C3.TT-c.LimbC3.TT)
			left += before*before + after*after
			n += 2
		}
		rms, round, bias := math.Sqrt(squares/n), math.Sqrt(left/n), duration/n
		if !(rms < 0.8*round && math.Abs(bias) <= 0.5) {
			t.Errorf("%v: %.2f s rms with the figure, %.2f with k2, bias of a contact %.2f s", tt.kind, rms, round, bias)
		}
		t.Logf("%v: %.2f s rms with the figure, %.2f with k2, bias of a contact %.2f s", tt.kind, rms, round, bias)
	}
}

// In partial phases mountains do not matter but the figure does: its circle gives the
// light of the limb.
func TestFigureStandsForTheLimbInPartialPhases(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	law := disc.Visible()
	rim := newRim(law)
	for _, tt := range []struct {
		kind     eclipse.Kind
		from, to float64 // s from the smooth contact; below 0 within a ring
		most     float64 // rms of the logarithm
	}{
		{eclipse.Total, 600, 3000, 0.0006},
		{eclipse.Total, 60, 600, 0.007},
		{eclipse.Annular, 60, 3000, 0.0006},
		{eclipse.Annular, -100, 20, 0.005},
	} {
		var squares, k2, n float64
		for _, o := range centrals(t, tt.kind, 20) {
			m := moonOf(t, o)
			circ := o.Circumstances()
			for range 10 {
				at := circ.C2.TT - timescale.TT(tt.from+(tt.to-tt.from)*rng.Float64())
				var p pane
				m.pane(m.follow(at, 10), &p)
				f := p.grid.figure(&p.radius)
				sun := p.sun[0]
				round := law.Flux(f.Radius/sun, math.Hypot(p.x[0]-f.East, p.y[0]-f.North)/sun)
				smooth := law.Flux(earthRadius*o.Elements().K2/sun, math.Hypot(p.x[0], p.y[0])/sun)
				d, e := math.Log(p.light(rim, 0)/round), math.Log(p.light(rim, 0)/smooth)
				squares, k2, n = squares+d*d, k2+e*e, n+1
			}
		}
		rms := math.Sqrt(squares / n)
		if !(rms <= tt.most && rms < math.Sqrt(k2/n)) {
			t.Errorf("%v, %g to %g s: %.4f rms from the figure, %.4f from k2", tt.kind, tt.from, tt.to, rms, math.Sqrt(k2/n))
		}
		t.Logf("%v, %g to %g s: %.4f rms from the figure, %.4f from k2", tt.kind, tt.from, tt.to, rms, math.Sqrt(k2/n))
	}
}
