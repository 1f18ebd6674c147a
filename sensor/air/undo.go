package air

import (
	"math"
	"slices"
	"time"
)

// Options tunes [Thermometer.Undo]. The zero value is the recommended setting.
type Options struct {
	// Window is how far either way the readings are used for a value and its slope.
	// Wider is quieter and blunter. Zero means half of Tau. One neighbour on each side
	// is used in any case. At most 6 h.
	Window time.Duration
	// Gap is the step between readings over which the series is cut: nothing is
	// concluded across it. Zero means five times the median step.
	Gap time.Duration
}

// Undo returns the air's temperature behind a series of readings: S + tau dS/dt,
// value and slope being those of a parabola, by least squares through the
// readings within the window. The series may be irregular; its times must increase
// (*OrderError), its fields be in range (*RangeError). There is a Value for each reading
// in the same order; one with fewer than two neighbours this side of a gap is Alone.
//
// Taking out a lag amplifies noise. With n readings in the window of half width W
// each of uncertainty u, the random part is about
//
//	u/sqrt n · sqrt(9/4 + 3 tau²/W²)
//
// that is 3.8 u/sqrt n for the recommended window in mid-series; at the ends, where
// the window is one-sided, up to nine times that. What the parabola cannot follow
// is not in U: of a swing of period P it loses the fraction (2 pi)³ tau W²/(10 P³).
// The work grows with samples times samples in a window: about half a second for 50 million.
func (m Thermometer) Undo(read []Sample, o Options) ([]Value, error) {
	if err := m.validate(); err != nil {
		return nil, err
	}
	ts, err := seconds(read)
	if err != nil {
		return nil, err
	}
	window, gap, err := o.resolve(m, ts)
	if err != nil {
		return nil, err
	}
	out := make([]Value, 0, len(read))
	for from := 0; from < len(ts); {
		to := from + 1
		for to < len(ts) && ts[to]-ts[to-1] <= gap {
			to++
		}
		out = m.stretch(out, ts[from:to], read[from:to], window)
		from = to
	}
	return out, nil
}

func (o Options) resolve(m Thermometer, ts []float64) (window, gap float64, err error) {
	if err := within("Options.Window", o.Window.Seconds(), 0, longestTau.Seconds(), "s"); err != nil {
		return 0, 0, err
	}
	if err := within("Options.Gap", o.Gap.Seconds(), 0, maxSpan, "s"); err != nil {
		return 0, 0, err
	}
	window, gap = o.Window.Seconds(), o.Gap.Seconds()
	if window == 0 { // not set
		window = m.Tau.Seconds() / 2
	}
	if gap == 0 && len(ts) > 1 {
		steps := make([]float64, len(ts)-1)
		for i := range steps {
			steps[i] = ts[i+1] - ts[i]
		}
		slices.Sort(steps)
		gap = 5 * steps[len(steps)/2]
	}
	return window, gap, nil
}

// stretch appends the values of readings that have no gap among them.
func (m Thermometer) stretch(out []Value, ts []float64, read []Sample, window float64) []Value {
	n := len(ts)
	if n < 3 {
		for _, s := range read {
			out = append(out, Value{Time: s.Time, C: math.NaN(), RandomU: math.NaN(), TauPart: math.NaN(), Alone: true})
		}
		return out
	}
	from, to := 0, 0 // the window is [from, to)
	for k, s := range read {
		for ts[from] < ts[k]-window {
			from++
		}
		for to < n && ts[to] <= ts[k]+window {
			to++
		}
		lo := max(0, min(from, k-1, n-3))
		hi := min(n, max(to, k+2, 3))
		slope, c, random := parabola(ts[lo:hi], ts[k], read[lo:hi], m.Tau.Seconds())
		out = append(out, Value{Time: s.Time, C: c, RandomU: random, TauPart: slope * m.TauU.Seconds()})
	}
	return out
}

// parabola fits three or more readings and returns the slope at the instant at,
// the value there plus tau times the slope, and what the readings' own
// uncertainties make of that. The three polynomials are orthogonal over the
// readings, which spares the normal equations and their lost digits.
func parabola(ts []float64, at float64, read []Sample, tau float64) (slope, c, random float64) {
	n := float64(len(ts))
	var mean float64
	for _, t := range ts {
		mean += (t - at) / n
	}
	var s2, s3 float64
	for _, t := range ts {
		x := t - at - mean
		s2 += x * x
		s3 += x * x * x
	}
	α, β := s3/s2, s2/n
	quad := func(x float64) float64 { return x*(x-α) - β }
	var norm float64
	for _, t := range ts {
		q := quad(t - at - mean)
		norm += q * q
	}
	q0, dq0 := quad(-mean), -2*mean-α
	var variance float64
	for i, t := range ts {
		x := t - at - mean
		q := quad(x)
		wv := 1/n - mean*x/s2 + q0*q/norm
		ws := x/s2 + dq0*q/norm
		w := wv + tau*ws
		slope += ws * read[i].C
		c += w * read[i].C
		variance += w * w * read[i].U * read[i].U
	}
	return slope, c, sqrt0(variance)
}
