package limb

import (
	"errors"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/limb/internal/packed"
	"example.org/noonfall/sun"
)

func TestEmbeddedGrid(t *testing.T) {
	if len(file) > 200_000 {
		t.Errorf("%d bytes, want at most 200 kB", len(file))
	}
	g, err := load()
	require.NoError(t, err)
	for _, a := range []struct {
		axis packed.Axis
		most float64 // degrees
	}{{g.Lon, 6.5}, {g.Lat, 1.2}} {
		if !(math.Abs(a.axis.First+a.most) <= 1e-9 && math.Abs(a.axis.At(a.axis.Count-1)-a.most) <= 1e-9) {
			t.Errorf("librations %+v, want ± %g", a.axis, a.most)
		}
	}
	o, err := Origin()
	require.NoError(t, err)
	if len(o.SHA256) != 64 || o.Command == "" || o.Source == "" {
		t.Errorf("%+v", o)
	}
	if _, err := read(file[:len(file)-1]); !errors.Is(err, packed.ErrDamaged) {
		t.Errorf("a file cut short: %v", err)
	}
}

// Librations of central eclipses lie well on the grid: in longitude as far as the Moon's
// orbit makes them, in latitude near the equator, because Sun, node of the orbit and node
// of the Moon's equator are then in one line (G. D. Cassini's third law).
func TestGridHoldsEveryLibration(t *testing.T) {
	lon, lat := 0.0, 0.0
	for _, kind := range kinds {
		for _, o := range centrals(t, kind, 400) {
			l := moonOf(t, o).Libration(o.Circumstances().Max.TT)
			lon, lat = math.Max(lon, math.Abs(l.Lon)), math.Max(lat, math.Abs(l.Lat))
			if !(math.Abs(l.Axis) <= 26) {
				t.Errorf("%s: axis at %.2f°", o.Elements().Date, l.Axis)
			}
		}
	}
	if !(lon <= 6 && lat <= 0.6 && lon > 5 && lat > 0.2) {
		t.Errorf("librations up to %.2f° and %.2f°", lon, lat)
	}
	t.Logf("up to %.2f° in longitude and %.2f° in latitude", lon, lat)
}

// Heights between the nodes against those marched over the map there.
func TestHeightsBetweenNodes(t *testing.T) {
	b, err := os.ReadFile("testdata/marched.bin")
	require.NoError(t, err)
	h, heights, err := packed.Decode(b)
	require.NoError(t, err)
	g, err := load()
	require.NoError(t, err)
	require.Equal(t, g.SHA256, h.SHA256)
	marched := &grid{Header: h, heights: heights}
	var squares, worst, n float64
	for i := range h.Lon.Count {
		for j := range h.Lat.Count {
			var got, want [points]float64
			g.radii(h.Lon.At(i), h.Lat.At(j), &got)
			marched.radii(h.Lon.At(i), h.Lat.At(j), &want)
			for k := range got {
				d := got[k] - want[k]
				squares, n, worst = squares+d*d, n+1, math.Max(worst, math.Abs(d))
			}
		}
	}
	rms := math.Sqrt(squares / n)
	if !(rms <= 0.06 && worst <= 0.8) { // km
		t.Errorf("%.0f m rms, %.0f m at worst", 1000*rms, 1000*worst)
	}
	t.Logf("%.0f m rms, %.0f m at worst", 1000*rms, 1000*worst)
}

func TestProfile(t *testing.T) {
	o := watch(t, elements(t, "2027-08-02"), sun.Site{Lat: 36, Lon: -5.6}, 69)
	m := moonOf(t, o)
	p := m.Profile(o.Circumstances().Max.TT)
	n, mean := 0, 0.0
	for angle, height := range p.All() {
		if got := p.Height(angle + p.Axis); !(math.Abs(got-height) <= 1e-9) {
			t.Errorf("height %.4f km at %.1f°, All has %.4f km", got, angle, height)
		}
		n, mean = n+1, mean+height/points
	}
	f := p.Figure()
	if n != points || !(math.Abs(mean-(f.Radius-p.Base)) <= 1e-9) {
		t.Errorf("%d points, mean height %.4f km, figure %+v over %.3f km", n, mean, f, p.Base)
	}
	half := p.Height(p.Axis + step/2)
	if want := (p.Height(p.Axis) + p.Height(p.Axis+step)) / 2; !(math.Abs(half-want) <= 1e-9) {
		t.Errorf("halfway %.4f km, want %.4f km", half, want)
	}
	// The angle that the mean sphere's radius makes, by the Moon's distance.
	_, moon := o.Places(o.Circumstances().Max.TT)
	if want := math.Atan(1/moon.Distance) / deg * 3600; !(math.Abs(p.Arcsec/want-1) <= 1e-5) {
		t.Errorf("%.5f arcsec a km, want %.5f", p.Arcsec, want)
	}
}
