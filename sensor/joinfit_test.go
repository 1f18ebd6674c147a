package sensor

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// The middle of the fit is told on the kept scale: where both are read without
// noise it is the mean of ln light, weighted as the ratio is, whatever the other one says.
func TestJoinPivot(t *testing.T) {
	w := newTwins(t, 1.5, 0)
	dim, bright := w.dusk(400, none)
	for _, keep := range []Keep{KeepDim, KeepBright} {
		j, err := FitJoin(dim, bright, JoinOptions{Keep: keep})
		require.NoError(t, err)
		kept, sum, mean := dim, 0.0, 0.0
		if keep == KeepBright {
			kept = bright
		}
		for i := range dim {
			if d, b := dim[i], bright[i]; d.Status == OK && b.Status == OK {
				weight := 1 / (square(d.RandomU/d.Lux) + square(b.RandomU/b.Lux))
				sum, mean = sum+weight, mean+weight*math.Log(kept[i].Lux)
			}
		}
		if want := math.Exp(mean / sum); !(math.Abs(j.PivotLux/want-1) <= 1e-4) { // the weights' floor is 1e-6 of some hundredths
			t.Errorf("keep %d: pivot %.4f lx, want %.4f", keep, j.PivotLux, want)
		}
	}
}

// With independent noise of a count the ratio scatters as it says; with noise that
// lasts it does too, and says more.
func TestJoinHonest(t *testing.T) {
	const trials = 400
	var said [2]float64
	for k, lasts := range []float64{0, 0.9} {
		rng := rand.New(rand.NewPCG(7, uint64(k)))
		w := newTwins(t, 1.25, 0)
		want := math.Pow(1.25, -1/0.7) // a cell of 1.25 times the ohms looks darker
		var ratio, tilt float64
		for range trials {
			var state [2]float64
			i := 0
			noise := func() float64 { // of each sensor by turns, of variance 1
				i = 1 - i
				state[i] = lasts*state[i] + math.Sqrt(1-lasts*lasts)*rng.NormFloat64()
				return state[i]
			}
			dim, bright := w.dusk(1500, noise)
			for i := range dim {
				dim[i].RandomU *= math.Hypot(1, math.Sqrt(1./12)) / math.Sqrt(1./12) // a count of noise, not only rounding
				bright[i].RandomU *= math.Hypot(1, math.Sqrt(1./12)) / math.Sqrt(1./12)
			}
			j, err := FitJoin(dim, bright, JoinOptions{FromLux: 60, ToLux: 2000})
			require.NoError(t, err)
			ratio += square(math.Log(j.Ratio/want)/j.RatioLnU) / trials
			tilt += square(j.Tilt/j.TiltU) / trials
			said[k] += j.RatioLnU / trials
		}
		t.Logf("noise that lasts by %g: mean squares %.3f and %.3f of their variances, u %.5f", lasts, ratio, tilt, said[k])
		// Four standard deviations of such a mean are 0.28; noise is stated a little large (rounding is not simulated), and
		// a fitted autoregression is short of the true one in short series.
		if !(ratio > 0.65 && ratio < 1.4) || !(tilt > 0.65 && tilt < 1.4) {
			t.Errorf("noise that lasts by %g: mean squares of ratio and tilt over their variances %.3f and %.3f, want 1", lasts, ratio, tilt)
		}
	}
	if !(said[1] > 2*said[0]) {
		t.Errorf("u of %.5f with noise that lasts, %.5f without", said[1], said[0])
	}
}

func TestJoinRefuses(t *testing.T) {
	w := newTwins(t, 1, 0)
	dim, bright := w.dusk(400, none)
	var night, noon []Reading // the dim one's numbers, the bright one's, never both
	for i := range dim {
		night, noon = append(night, dim[i]), append(noon, bright[i])
		if bright[i].Status == OK {
			night[i].Status = Saturated
		}
	}
	for name, r := range map[string]struct {
		dim, bright []Reading
		o           JoinOptions
		is          error // nil: a *PartError
	}{
		"lengths":    {dim[1:], bright, JoinOptions{}, ErrPairs},
		"nothing":    {nil, nil, JoinOptions{}, ErrNoOverlap},
		"never both": {night, noon, JoinOptions{}, ErrNoOverlap},
		"too few":    {dim, bright, JoinOptions{MinPairs: 390}, ErrNoOverlap},
		"narrow":     {dim, bright, JoinOptions{FromLux: 500, ToLux: 900, MinPairs: 3}, ErrNoOverlap},
		"NaN zone":   {dim, bright, JoinOptions{FromLux: math.NaN()}, nil},
		"no keep":    {dim, bright, JoinOptions{Keep: 9}, nil},
	} {
		_, err := FitJoin(r.dim, r.bright, r.o)
		wantRefused(t, name, err, r.is, "")
	}
}
