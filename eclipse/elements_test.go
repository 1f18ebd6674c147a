package eclipse

import (
	"encoding/json"
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

func TestElementsJSON(t *testing.T) {
	for _, e := range all(t) {
		data, err := json.Marshal(e)
		require.NoError(t, err)
		var back Elements
		require.NoError(t, json.Unmarshal(data, &back), string(data))
		if math.Abs(float64(back.T0-e.T0)) > 1e-6 || !slices.Equal(back.X, e.X) || back.K2 != e.K2 || back.Date != e.Date {
			t.Fatalf("%s came back as %+v", data, back)
		}
	}
	for _, bad := range []string{`{}`, `{"version":2}`, `{"version":1,"colour":"red"}`, `{"version":1,"t0_tt":"noon"}`} {
		if err := json.Unmarshal([]byte(bad), new(Elements)); err == nil {
			t.Errorf("%s was taken", bad)
		}
	}
}

func TestWithRadiiThereAndBack(t *testing.T) {
	for _, e := range all(t) {
		back := e.WithRadii(0.2724, 0.2724).WithRadii(e.K1, e.K2)
		if d := math.Abs(back.L1[0]-e.L1[0]) + math.Abs(back.L2[0]-e.L2[0]); !(d < 1e-9) {
			t.Errorf("%s: off by %g Earth radii", e.Date, d)
		}
		// A larger Moon casts a wider penumbra and a longer umbra.
		if w := e.WithRadii(e.K1+1e-4, e.K2+1e-4); !(w.L1[0] > e.L1[0] && w.L2[0] < e.L2[0]) {
			t.Errorf("%s: a larger Moon gives l1 %g to %g, l2 %g to %g", e.Date, e.L1[0], w.L1[0], e.L2[0], w.L2[0])
		}
	}
}

func TestObserverRefusals(t *testing.T) {
	e := all(t)[0]
	var rangeErr *sun.RangeError
	if _, err := NewObserver(e, sun.Site{Lat: 91}, Options{}); !errors.As(err, &rangeErr) {
		t.Errorf("latitude 91: %v", err)
	}
	for _, broken := range []func(*Elements){
		func(e *Elements) { e.X = nil }, func(e *Elements) { e.L1 = Poly{math.NaN()} }, func(e *Elements) { e.K1 = 0 },
		func(e *Elements) { e.Span = -1 }, func(e *Elements) { e.Date = "yesterday" }, func(e *Elements) { e.T0 = timescale.TT(math.Inf(1)) },
	} {
		b := *e
		broken(&b)
		var bad *ElementsError
		if _, err := NewObserver(&b, sun.Site{}, Options{}); !errors.As(err, &bad) {
			t.Errorf("%v", err)
		}
	}
	if _, err := NewObserver(nil, sun.Site{}, Options{}); err == nil {
		t.Error("no elements were taken")
	}
	if _, err := NewObserver(e, sun.Site{}, Options{Horizon: 9}); err == nil {
		t.Error("horizon 9 was taken")
	}
}
