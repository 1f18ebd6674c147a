package fit

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/disc"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// The table against curves made under the other laws, before and after maximum, in a
// total, an annular and a partial eclipse.
func TestLawTable(t *testing.T) {
	for _, tt := range []struct {
		day  time.Time
		site sun.Site
	}{
		{time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 36, Lon: -5.6}},
		{time.Date(2028, 1, 26, 0, 0, 0, 0, time.UTC), sun.Site{Lat: -3, Lon: -60}},
		{time.Date(2026, 8, 12, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 51.5, Lon: 0}},
	} {
		o, c, l := smoothLight(t, tt.day, tt.site)
		law, err := disc.NeckelLabs(blueNM)
		require.NoError(t, err)
		blue, err := eclipse.NewCurve(o, eclipse.CurveOptions{Law: law})
		require.NoError(t, err)
		law, err = disc.HestrofferMagnan(edgeNM)
		require.NoError(t, err)
		edge, err := eclipse.NewCurve(o, eclipse.CurveOptions{Law: law})
		require.NoError(t, err)
		n, worst := 0, 0.0
		for x := l.c1 + 30; x < l.c4-30; x += 3.7 {
			at := l.max + timescale.TT(x)
			flux := c.Flux(at)
			if !(flux > 1e-5) {
				continue
			}
			n++
			gotBlue, gotEdge := l.laws.at(math.Log(flux))
			off := math.Max(math.Abs(gotBlue-math.Log(blue.Flux(at)/flux)), math.Abs(gotEdge-math.Log(edge.Flux(at)/flux)))
			if worst = math.Max(worst, off); !(off <= 3e-3) { // a per cent of what the laws differ by; worst inside a ring, where the light hardly changes
				t.Fatalf("%s, %.1f s from maximum: off by %g", tt.day.Format(time.DateOnly), x, off)
			}
		}
		t.Logf("%s: worst %.2g of %d", tt.day.Format(time.DateOnly), worst, n)
		if n < 500 {
			t.Errorf("%s: only %d instants", tt.day.Format(time.DateOnly), n)
		}
	}
}

// What the law of any colour and of either kind adds to the curve's own light is, but for
// modelError, a mixture of the two columns: the rest wanders by less than a third of it
// with every e-fold of light.
func TestLawsBeyondTheColumns(t *testing.T) {
	for _, tt := range []struct {
		day  time.Time
		site sun.Site
	}{
		{time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 36, Lon: -5.6}}, // total
		{time.Date(2028, 1, 26, 0, 0, 0, 0, time.UTC), sun.Site{Lat: -3, Lon: -60}}, // annular
		{time.Date(2026, 8, 12, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 51.5, Lon: 0}}, // 0.91
		{time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 52, Lon: 10}},   // 0.4
	} {
		_, _, l := smoothLight(t, tt.day, tt.site)
		for law := range disc.Presets() {
			if law.NM < 380 {
				continue // no window of a light sensor lets ultraviolet through
			}
			if walk := l.beyond(law.Law); !(walk <= modelError/3) {
				t.Errorf("%v: %v wanders by %.4f an e-fold beyond the columns", tt.day.Format(time.DateOnly), law, walk)
			}
		}
	}
}

// beyond is by how much the logarithm of a law's light over the curve's own wanders with
// every e-fold of light when the columns have taken up what they can.
func (l *light) beyond(law disc.Law) float64 {
	end := 0.0
	if l.dark {
		end = l.c2
	}
	const n = 600
	var efolds, more, blue, edge []float64
	for i := n; i > 0; i-- {
		s := float64(i) / n
		a := l.curve.Observer().Aspect(l.max + timescale.TT(end-(end-l.c1)*s*s*s))
		p, z := a.Ratio, a.Separation/a.SunRadius
		own := l.curve.Options().Law.Flux(p, z)
		if !(own > 1e-4 && own < 1) {
			continue
		}
		b, e := l.laws.at(math.Log(own))
		efolds, more = append(efolds, -math.Log(own)), append(more, math.Log(law.Flux(p, z)/own))
		blue, edge = append(blue, b), append(edge, e)
	}
	// Least squares of the increments, each weighed by the light that it spans.
	rows := len(more) - 1
	columns, right := mat.NewDense(rows, 2, nil), mat.NewVecDense(rows, nil)
	for k := range rows {
		w := 1 / math.Sqrt(math.Abs(efolds[k+1]-efolds[k])+1e-12)
		columns.SetRow(k, []float64{(blue[k+1] - blue[k]) * w, (edge[k+1] - edge[k]) * w})
		right.SetVec(k, (more[k+1]-more[k])*w)
	}
	var x mat.VecDense
	if err := x.SolveVec(columns, right); err != nil {
		return math.Inf(1)
	}
	left := func(k int) float64 { return more[k] - x.AtVec(0)*blue[k] - x.AtVec(1)*edge[k] }
	var squares, length float64
	for last, k := 0, 1; k < len(more); k++ {
		if step := efolds[k] - efolds[last]; step >= 0.5 || k == len(more)-1 {
			squares += (left(k) - left(last)) * (left(k) - left(last))
			length += step
			last = k
		}
	}
	return math.Sqrt(squares / length)
}
