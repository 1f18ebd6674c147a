package disc

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// ofEachKind has coefficients of a law of each kind. The last is steep: it shows where a
// sum goes wrong.
var ofEachKind = [...][]float64{
	uniform:    nil,
	polynomial: {0.2, 0.3, -0.1, 0.4, -0.3, 0.5},
	power:      {1.7},
}

// Every kind in the table keeps its promises: it reads back what it writes, its brightness
// is 1 in the middle, its ring is the integral of its brightness, and its light is that of
// the slow sum, wherever the discs stand.
func TestEveryKind(t *testing.T) {
	if len(ofEachKind) != len(kinds) {
		t.Fatalf("%d kinds and %d to try: add coefficients to ofEachKind", len(kinds), len(ofEachKind))
	}
	for k, row := range kinds {
		t.Run(row.name, func(t *testing.T) {
			l, err := row.build(ofEachKind[k])
			require.NoError(t, err)
			if l.kind != kind(k) {
				t.Fatalf("a %s law of kind %s", row.name, kinds[l.kind].name)
			}
			text, err := json.Marshal(l)
			require.NoError(t, err)
			var back Law
			require.NoError(t, json.Unmarshal(text, &back))
			if back != l {
				t.Errorf("%s comes back as %v", text, back)
			}
			if got := l.Intensity(1); !(math.Abs(got-1) <= 1e-15) {
				t.Errorf("brightness %v in the middle, want 1", got)
			}
			checkRing(t, l)
			rng := rand.New(rand.NewPCG(13, 14))
			for i := range 400 {
				p, z := placed(rng, i)
				if got, want := l.Flux(p, z), slow(l, p, z); !(math.Abs(got-want) <= 3e-12) {
					t.Errorf("p=%.9g z=%.12g: %.14f, want %.14f", p, z, got, want)
				}
			}
		})
	}
}

// checkRing holds H and K of a law against Simpson's rule over its brightness.
func checkRing(t *testing.T, l Law) {
	t.Helper()
	whole := simpson(func(m float64) float64 { return l.Intensity(m) * m }, 0, 1, 1e-14)
	if got := l.whole(); !(math.Abs(got-whole) <= 1e-12) {
		t.Errorf("the whole disc is %.14f, want %.14f", got, whole)
	}
	for _, mu := range []float64{0, 0.01, 0.2, 0.5, 0.9, 0.999} {
		want := simpson(func(m float64) float64 { return l.Intensity(m) * m }, 0, mu, 1e-14)
		h, k := l.ringAndDrop(mu)
		if !(math.Abs(h-want) <= 1e-12) || !(math.Abs(k*(1-mu*mu)-(whole-want)) <= 1e-12) {
			t.Errorf("mu %g: ring %.14f and drop %.14f, want %.14f and %.14f", mu, h, k, want, (whole-want)/(1-mu*mu))
		}
	}
}
