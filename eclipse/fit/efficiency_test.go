package fit

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/limb"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// TestEfficiency has logs of the fit's own sky, all its nuisances at their means, in white
// noise. The scatter of the offset is held against the bound of Cramer and Rao: the inverse
// of the information of offset, level, slope, power and bends, with the priors that the
// fit has, from derivatives taken here by differences and nothing whitened. The design
// wants 1.2 times the bound; chance is allowed three deviations of a deviation of n logs.
func TestEfficiency(t *testing.T) {
	n := 40
	if testing.Short() {
		t.Skip("a scatter of many logs, which the ordinary test has")
	}
	if s := os.Getenv("NOONFALL_LOGS"); s != "" {
		var err error
		n, err = strconv.Atoi(s)
		require.NoError(t, err)
	}
	all, err := canon.Load()
	require.NoError(t, err)
	for _, tt := range []struct {
		name    string
		day     time.Time
		site    sun.Site
		cadence float64
		noise   float64
	}{
		{"total, 1 s", time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 36, Lon: -5.6}, 1, 0.005},
		{"total, 10 s", time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 36, Lon: -5.6}, 10, 0.005},
		{"annular, 1 s", time.Date(2028, 1, 26, 0, 0, 0, 0, time.UTC), sun.Site{Lat: -3, Lon: -60}, 1, 0.005},
		{"deep, 1 s", time.Date(2026, 8, 12, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 51.5, Lon: 0}, 1, 0.005},
		{"deep, 10 s", time.Date(2026, 8, 12, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 51.5, Lon: 0}, 10, 0.005},
		{"shallow, 1 s", time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 52, Lon: 10}, 1, 0.005},
	} {
		e, err := all.On(tt.day)
		require.NoError(t, err)
		o, err := eclipse.NewObserver(e, tt.site, eclipse.Options{})
		require.NoError(t, err)
		m, err := limb.NewMoon(o, limb.Options{})
		require.NoError(t, err)
		c, err := limb.NewCurve(m, eclipse.CurveOptions{})
		require.NoError(t, err)
		l, err := newLight(c)
		require.NoError(t, err)
		var at []float64
		for s := l.c1 - 1500; s < l.c4+1500; s += tt.cadence {
			if l.clear.at(s) > logLeastClear {
				at = append(at, s)
			}
		}
		bound := l.bound(at, tt.noise)
		var squares float64
		fitted := 0
		for seed := range uint64(n) {
			rng := rand.New(rand.NewPCG(seed, 7))
			late := 20 * (rng.Float64() - 0.5)
			samples := make([]Sample, len(at))
			for k, s := range at {
				value := math.Exp(l.logLux(s)) * math.Exp(tt.noise*rng.NormFloat64())
				samples[k] = Sample{Time: o.Scale().UTC(l.max + timescale.TT(s+late)), Value: value}
			}
			r, err := Clock(context.Background(), samples, c, Options{NoLimbTerm: true})
			if errors.As(err, new(*Refusal)) {
				t.Logf("%s: %v", tt.name, err)
				continue
			}
			require.NoError(t, err)
			fitted++
			squares += (r.Offset - late) * (r.Offset - late)
		}
		scatter := math.Sqrt(squares / float64(fitted))
		t.Logf("| %-12s | %d fitted | bound %.4f s | scatter %.4f s | ratio %.2f", tt.name, fitted, bound, scatter, scatter/bound)
		if most := 1.2 * (1 + 3/math.Sqrt(2*float64(fitted))); !(scatter/bound <= most) || fitted < n*9/10 {
			t.Errorf("%s: %d of %d fitted, scatter %.2f times the bound, at most %.2f are wanted", tt.name, fitted, n, scatter/bound, most)
		}
	}
}

// logLux is the prediction, the residual light included.
func (l *light) logLux(s float64) float64 {
	flux := l.flux(s)
	log, _ := lit(l.clear.at(s)+math.Log(math.Max(0, flux)), startFloor, math.Log(startFloor))
	return log
}

// bound is the standard deviation that no unbiased fit of these instants goes below that
// has to find all columns of the regression as well.
func (l *light) bound(at []float64, noise float64) float64 {
	const h = 0.05 // s
	readings := make([]reading, len(at))
	for k, s := range at {
		readings[k] = reading{t: s}
	}
	p := newProblem(l, readings)
	p.stand(0)
	p.setFloor(startFloor)
	p.fill(0)
	const k = columns + 1
	info := mat.NewSymDense(k, nil)
	for j, pr := range responsePriors {
		if !math.IsInf(pr.sd, 1) {
			info.SetSym(j+1, j+1, 1/(pr.sd*pr.sd))
		}
	}
	row := make([]float64, k)
	for i, s := range at {
		row[0] = (l.logLux(s-h) - l.logLux(s+h)) / (2 * h)
		copy(row[1:], p.rows[i][:columns])
		for a := range row {
			for b := a; b < k; b++ {
				info.SetSym(a, b, info.At(a, b)+row[a]*row[b]/(noise*noise))
			}
		}
	}
	var inverse mat.Dense
	if err := inverse.Inverse(info); err != nil && !errors.As(err, new(mat.Condition)) {
		panic(fmt.Sprint("the information is singular: ", err))
	}
	return math.Sqrt(inverse.At(0, 0))
}
