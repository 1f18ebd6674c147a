package sensor

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
)

// What FitJoin refuses, beside fields that a PartError names.
var (
	// ErrPairs says that two series are not of one length: a reading of both for each
	// instant is wanted, Missing where there was none.
	ErrPairs = errors.New("sensor: the two series are not of one length: put a Missing reading where one has none")
	// ErrNoOverlap says that there are not enough instants at which both sensors read a
	// number, or that their lights are too near each other.
	ErrNoOverlap = errors.New("sensor: the two sensors overlap too little to fit their ratio: use a Join with FromLux and ToLux, or its zero value, and trust their calibrations")
)

// JoinOptions are for FitJoin. The zero value is recommended.
type JoinOptions struct {
	// FromLux and ToLux are the zone of the handover, lx, 0 to 1e6, as the bright sensor
	// and the dim one say, from Converter.Range or a Pair. 0 means the bright one's least and
	// the dim one's greatest number in the series.
	FromLux, ToLux float64
	// MinOverlap is the least ratio of the zone's ends, 1.1 to 1e6; 0 means 2, an
	// octave (common practice, no source).
	MinOverlap float64
	// MinPairs is the least number of instants at which both read a number in it, 3 to
	// 1e9; 0 means 10 (common practice, no source).
	MinPairs int
	Keep     Keep // whose lux are kept; the better known ones where not set
}

// overlap is what both sensors say of one light.
type overlap struct{ lnRatio, lnLux, weights, dimCommon, brightCommon []float64 }

// FitJoin finds the ratio between two sensors from the readings of light in which
// both see numbers, and the zone in which one hands over to the other. Reading i of both
// is of one instant; order matters only to what is said of noise that lasts.
//
// The ratio is a weighted mean of logarithms, by the readings' RandomU. Its
// uncertainty is at least what these say, more where the scatter is larger, and more
// where what one instant is off the next is off too (an order-1 autoregression: a cloud's
// edge or a bird shades one sensor for a while). Errors: ErrPairs, ErrNoOverlap,
// *PartError.
func FitJoin(dim, bright []Reading, o JoinOptions) (Join, error) {
	o.MinOverlap = orElse(o.MinOverlap, 2)
	if o.MinPairs == 0 {
		o.MinPairs = 10
	}
	if err := o.check(); err != nil {
		return Join{}, err
	}
	if len(dim) != len(bright) {
		return Join{}, fmt.Errorf("%w: %d of the dim one, %d of the bright one", ErrPairs, len(dim), len(bright))
	}
	o = o.zone(dim, bright)
	both := o.both(dim, bright)
	if n := len(both.lnRatio); n < o.MinPairs {
		return Join{}, fmt.Errorf("%w: %d instants, want %d", ErrNoOverlap, n, o.MinPairs)
	}
	j := both.fit()
	j.Kept = o.Keep
	if dimU, brightU := stat.Mean(both.dimCommon, both.weights), stat.Mean(both.brightCommon, both.weights); j.Kept == KeepDim || j.Kept == KeepBetter && dimU < (1-sameSure)*brightU {
		j.Kept, j.KeptLnU = KeepDim, dimU
		j.FromLux, j.ToLux = o.FromLux/j.Ratio, o.ToLux
		j.PivotLux /= math.Sqrt(j.Ratio)
	} else {
		j.Kept, j.KeptLnU = KeepBright, brightU
		j.FromLux, j.ToLux = o.FromLux, o.ToLux*j.Ratio
		j.PivotLux *= math.Sqrt(j.Ratio)
	}
	if !(j.ToLux >= o.MinOverlap*j.FromLux) {
		return Join{}, fmt.Errorf("%w: from %.4g to %.4g lx, want a ratio of %g", ErrNoOverlap, j.FromLux, j.ToLux, o.MinOverlap)
	}
	return j, nil
}

func (o JoinOptions) check() error {
	return checked([]row{
		{"join.from_lux", o.FromLux, 0, 1e6, ""}, {"join.to_lux", o.ToLux, 0, 1e6, ""},
		{"join.min_overlap", o.MinOverlap, 1.1, 1e6, ""}, {"join.min_pairs", float64(o.MinPairs), 3, 1e9, ""},
		{"join.keep", float64(o.Keep), float64(KeepBetter), float64(KeepBright), ""},
	})
}

// zone fills in the ends that were not given.
func (o JoinOptions) zone(dim, bright []Reading) JoinOptions {
	from, to := math.Inf(1), 0.0
	for i := range dim {
		if dim[i].Status == OK {
			to = math.Max(to, dim[i].Lux)
		}
		if bright[i].Status == OK && bright[i].Lux > 0 {
			from = math.Min(from, bright[i].Lux)
		}
	}
	o.FromLux, o.ToLux = orElse(o.FromLux, from), orElse(o.ToLux, to)
	return o
}

// both collects the pairs of numbers in the zone.
func (o JoinOptions) both(dim, bright []Reading) overlap {
	var both overlap
	for i, d := range dim {
		b := bright[i]
		if d.Status != OK || b.Status != OK || !(d.Lux > 0 && d.Lux <= o.ToLux && b.Lux >= o.FromLux && b.Lux > 0) {
			continue
		}
		both.lnRatio = append(both.lnRatio, math.Log(b.Lux/d.Lux))
		both.lnLux = append(both.lnLux, 0.5*math.Log(b.Lux*d.Lux))
		both.weights = append(both.weights, 1/(square(d.RandomU/d.Lux)+square(b.RandomU/b.Lux)+sameSure*sameSure))
		both.dimCommon = append(both.dimCommon, d.CommonU()/d.Lux)
		both.brightCommon = append(both.brightCommon, b.CommonU()/b.Lux)
	}
	return both
}

// fit is a straight line of ln ratio over ln lux about its middle, where value and
// slope are uncorrelated. PivotLux is still between the two scales.
func (v overlap) fit() Join {
	middle, mean := stat.Mean(v.lnLux, v.weights), stat.Mean(v.lnRatio, v.weights)
	var sum, sxx, sxy float64
	for i, w := range v.weights {
		x := v.lnLux[i] - middle
		sum, sxx, sxy = sum+w, sxx+w*x*x, sxy+w*x*(v.lnRatio[i]-mean)
	}
	j := Join{Ratio: math.Exp(mean), PivotLux: math.Exp(middle), Pairs: len(v.lnRatio)}
	if sxx > 0 { // else all in one light
		j.Tilt = sxy / sxx
	}
	// Residuals in units of their own uncertainty.
	residuals := make([]float64, len(v.weights))
	var chi, lagged float64
	for i, w := range v.weights {
		residuals[i] = math.Sqrt(w) * (v.lnRatio[i] - mean - j.Tilt*(v.lnLux[i]-middle))
		chi += residuals[i] * residuals[i]
		if i > 0 {
			lagged += residuals[i] * residuals[i-1]
		}
	}
	more := math.Max(1, chi/float64(len(residuals)-2))
	if chi > 0 && lagged > 0 {
		// n readings of an autoregression r are worth n (1-r)/(1+r).
		r := math.Min(lagged/chi, 1-2/float64(len(residuals)))
		more *= (1 + r) / (1 - r)
	}
	j.RatioLnU = math.Sqrt(more / sum)
	if sxx > 0 {
		j.TiltU = math.Sqrt(more / sxx)
	}
	return j
}
