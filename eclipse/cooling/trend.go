package cooling

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// A rough is one guess of how the temperature wanders by itself.
type rough struct {
	bend   float64 // departure from a straight line in an hour, degrees: integrated random walk
	gust   float64 // standard deviation of what wind and cloud bring, degrees
	memory float64 // of the gusts, s
}

// The guesses are all combinations of these, equal before the readings speak: a factor of two to three
// apart, from a still day to a rough one. Common practice, no source; 24 stretches
// of six hours from six days of one meteorological station, clear to overcast, are likeliest
// with gusts of 0.06 to 0.8 degrees that are forgotten in 400 s to an hour, and 20 of them with
// one of the two greater bends.
var (
	bends    = [...]float64{0.02, 0.05, 0.12, 0.3}
	gusts    = [...]float64{0.01, 0.03, 0.06, 0.11, 0.2, 0.4, 0.8}
	memories = [...]float64{120, 400, 1200, 3600}
)

const roughs = len(bends) * len(gusts) * len(memories)

// columns are the parts of the day's course that are known in shape but not in
// size: each at one standard deviation of its size, degrees.
func (d *day) columns(t []float64, control *course) (out [][]float64) {
	add := func(sd float64, f func(x float64) float64) {
		c := make([]float64, len(t))
		for i, x := range t {
			c[i] = sd * f(x)
		}
		out = append(out, c)
	}
	// The shape of a fine day has a swing of 5 to 15 degrees; the level and a weather's
	// tendency are free. Common practice, no source.
	add(30, func(float64) float64 { return 1 })
	add(1, func(x float64) float64 { return x / 3600 })
	add(3, d.sunny.at)
	add(8, d.warm.at)
	if control != nil {
		add(0.5, control.at)
	}
	return out
}

// rounding is the variance of a reading's rounding, and for how long it stays, s.
func (s *series) rounding() (variance, hold float64) {
	hold = math.Max(s.dwell/3, 1)
	return s.quantum * s.quantum / 12 * math.Min(1, 2*hold/math.Max(s.width, 1)), hold
}

// walk is the covariance of a twice integrated white noise, one after one hour.
func walk(a, b float64) float64 {
	if a > b {
		a, b = b, a
	}
	return 3 * (a*a*b/2 - a*a*a/6)
}

// trend is the smooth part of readings that have no eclipse in them, one kind of day.
func (s *series) trend(g rough, columns [][]float64, readings []float64) ([]float64, error) {
	b := newBalance(s, columns, readings)
	r, _, err := b.weigh(g)
	if err != nil {
		return nil, err
	}
	// The columns' sizes solve R size = what R has of the readings.
	size := make([]float64, len(columns))
	for k := len(columns) - 1; k >= 0; k-- {
		row := r.Data[k*r.Stride:][:r.N]
		size[k] = (row[r.N-1] - floats.Dot(row[k+1:r.N-1], size[k+1:])) / row[k]
	}
	out, left := make([]float64, len(s.t)), slices.Clone(readings)
	for k, c := range columns {
		floats.AddScaled(out, size[k], c)
	}
	floats.Sub(left, out)
	for j, v := range b.chain.through(left) {
		for i := range out {
			out[i] += v * g.bend * g.bend * walk((s.t[i]-s.t[0])/3600, (s.t[j]-s.t[0])/3600)
		}
	}
	return out, nil
}
