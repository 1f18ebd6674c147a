package cooling

import (
	"math"

	"gonum.org/v1/gonum/mat"
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
// size, each with a standard deviation of its size, degrees.
func (d *day) columns(t []float64, control *course) (cols [][]float64, sd []float64) {
	add := func(s float64, f func(x float64) float64) {
		c := make([]float64, len(t))
		for i, x := range t {
			c[i] = f(x)
		}
		cols, sd = append(cols, c), append(sd, s)
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
	return cols, sd
}

// smooth is the covariance of the smooth part of a day without eclipse.
func (s *series) smooth(bend float64, cols [][]float64, sd []float64) *mat.SymDense {
	n := len(s.t)
	out := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			v := bend * bend * walk((s.t[i]-s.t[0])/3600, (s.t[j]-s.t[0])/3600)
			for k, c := range cols {
				v += sd[k] * sd[k] * c[i] * c[j]
			}
			out.SetSym(i, j, v)
		}
	}
	return out
}

// covariance writes that of all of the day, with gusts, rounding and noise upon its smooth part.
func (s *series) covariance(all *mat.SymDense, g rough, smooth *mat.SymDense) {
	n := len(s.t)
	q := s.quantum * s.quantum / 12
	hold := math.Max(s.dwell/3, 1)
	q *= math.Min(1, 2*hold/math.Max(s.width, 1))
	gusts := g.seen(s.lag, s.box)
	// The times lie on a grid, and the same few hundred distances come again and again.
	place := make([]int, n)
	for i := range place {
		place[i] = s.place(i)
	}
	at := make([]float64, place[n-1]+1)
	from, into := smooth.RawSymmetric(), all.RawSymmetric()
	for i := range n {
		row, out := from.Data[i*from.Stride:][:n], into.Data[i*into.Stride:][:n]
		for j := i; j < n; j++ {
			k := place[j] - place[i]
			if at[k] == 0 { // not yet looked up; an exponential is never nothing
				dt := s.t[j] - s.t[i]
				at[k] = gusts.at(dt) + q*math.Exp(-dt/hold)
			}
			out[j] = row[j] + at[k]
		}
		out[i] += s.v[i]
	}
}

// walk is the covariance of a twice integrated white noise, one after one hour.
func walk(a, b float64) float64 {
	if a > b {
		a, b = b, a
	}
	return 3 * (a*a*b/2 - a*a*a/6)
}
