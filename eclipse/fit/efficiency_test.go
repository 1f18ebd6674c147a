package fit

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
	"example.org/noonfall/testdata/study"
)

// TestEfficiency has logs of the fit's own sky in white noise: level and slope wander and the
// light model errs as the walk thinks likeliest before it has read a log, and the sensor's
// lean, its answer to slanting light, extinction, limb darkening and residual light are drawn
// from their priors (the residual light's tilt and the response's bends stand at their means). The
// scatter of the offset is held against the bound of Cramer and Rao as H. L. Van Trees has
// it for parameters that are drawn (Detection, Estimation, and Modulation Theory I (1968),
// 2.4.3): the inverse of the information of offset and all columns, that of their priors
// added, under the walk's true sizes, which the fit has to find. The design wants 1.2 times
// the bound; chance is allowed three deviations of a deviation of n logs.
func TestEfficiency(t *testing.T) {
	n, first := study.Size(t, 40, 0, 0)
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
		{"shallow, 10 s", time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 52, Lon: 10}, 10, 0.005},
	} {
		c, l := realLight(t, tt.day, tt.site)
		var at []float64
		for s := l.c1 - 1500; s < l.c4+1500; s += tt.cadence {
			if l.clear.at(s) > logLeastClear {
				at = append(at, s)
			}
		}
		var squares, bounds float64
		fitted := 0
		for seed := range uint64(n) {
			rng := rand.New(rand.NewPCG(uint64(first)+seed, 7))
			late := 20 * (rng.Float64() - 0.5)
			samples := make([]Sample, len(at))
			sky := l.drawn(rng, at, tt.noise)
			for k, y := range sky.log {
				samples[k] = Sample{Time: c.Observer().Scale().UTC(l.max + timescale.TT(at[k]+late)), Value: math.Exp(y)}
			}
			r, err := Clock(context.Background(), samples, c, Options{NoLimbTerm: true})
			if errors.As(err, new(*Refusal)) {
				t.Logf("%s: %v", tt.name, err)
				continue
			}
			require.NoError(t, err)
			fitted++
			z := (r.Offset - late) / sky.bound
			squares += z * z
			bounds += sky.bound
		}
		ratio, count := math.Sqrt(squares/float64(fitted)), float64(fitted)
		t.Logf("| %-13s | %d fitted | mean bound %.4f s | ratio %.2f", tt.name, fitted, bounds/count, ratio)
		if most := 1.2 * (1 + 3/math.Sqrt(2*count)); !(ratio <= most) || fitted < n*9/10 {
			t.Errorf("%s: %d of %d fitted, errors %.2f times the bound, at most %.2f are wanted", tt.name, fitted, n, ratio, most)
		}
	}
}

// ownSky is the problem that such a log poses at a shift of nothing: its columns, and the
// walk with its likeliest sizes.
func (l *light) ownSky(at []float64, noise, floor float64, m mount) *problem {
	readings := make([]reading, len(at))
	for k, s := range at {
		readings[k] = reading{t: s, rel: noise * noise}
	}
	p := newProblem(l, readings)
	p.mount = m
	p.stand(0)
	p.setFloor(floor)
	p.reg.beta.Data[colPower] = 1
	p.mistrust(0)
	var likely temper
	for i, pr := range temperPriors {
		likely[i] = pr.mean
	}
	p.use(likely)
	p.fill(0)
	return p
}

// A drawnSky is such a log, as logarithms, and the bound for it.
type drawnSky struct {
	log   []float64
	bound float64 // s
}

func (l *light) drawn(rng *rand.Rand, at []float64, noise float64) drawnSky {
	draw := func(sd float64) float64 { return sd * math.Max(-2, math.Min(2, rng.NormFloat64())) }
	p := l.ownSky(at, noise, startFloor*math.Exp(draw(floorSD)), mount{east: draw(leanSD), north: draw(leanSD)})
	var beta [columns]float64
	beta[colPower] = 1
	for _, j := range []int{colBlue, colEdge, colAir, colSlant} {
		beta[j] = responsePriors[j].sd * rng.NormFloat64()
	}
	out := make([]float64, len(at))
	var level, slope float64
	for k := range out {
		if k > 0 {
			// The integrated walk: what the slope gains, and what the level gains of it meanwhile.
			h := at[k] - at[k-1]
			q := math.Sqrt(p.walk.slope * h)
			a, b := rng.NormFloat64(), rng.NormFloat64()
			level += h*slope + q*h*(a/2+b/math.Sqrt(12)) + math.Sqrt(p.walk.level[k])*rng.NormFloat64()
			slope += q * a
		}
		out[k] = level + noise*rng.NormFloat64()
		for j, b := range beta {
			out[k] += b * p.rows[k][j]
		}
	}
	return drawnSky{log: out, bound: p.bound(beta)}
}

// bound is the standard deviation that no fit goes below that has to find all columns of the
// regression as well, near the coefficients given.
func (p *problem) bound(beta [columns]float64) float64 {
	const h = 0.05 // s
	light := func(shift float64) []float64 {
		p.fill(shift)
		out := make([]float64, len(p.rows))
		for k := range out {
			for j, b := range beta {
				out[k] += b * p.rows[k][j]
			}
		}
		return out
	}
	before, after := light(-h), light(h)
	p.fill(0)
	for k := range p.rows {
		p.rows[k][columns] = (after[k] - before[k]) / (2 * h)
	}
	apply[row](p.filter, p.rows, 0, p.reg.white)
	const all = columns + 1
	info := mat.NewSymDense(all, nil)
	for a := range all {
		for b := a; b < all; b++ {
			info.SetSym(a, b, floats.Dot(p.reg.column(a), p.reg.column(b)))
		}
	}
	for j, pr := range responsePriors {
		if !math.IsInf(pr.sd, 1) {
			info.SetSym(j, j, info.At(j, j)+1/(pr.sd*pr.sd))
		}
	}
	var inverse mat.Dense
	if err := inverse.Inverse(info); err != nil && !errors.As(err, new(mat.Condition)) {
		panic(fmt.Sprint("the information is singular: ", err))
	}
	return math.Sqrt(inverse.At(columns, columns))
}
