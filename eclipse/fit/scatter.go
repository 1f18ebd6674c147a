package fit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// scatter is by how much the log's own scatter exceeds what its noise model says,
// as a factor on the shift's deviation, one at least: the sandwich of H. White,
// Econometrica 48 (1980) 817. Each stretch of the log pulls the shift one way or
// the other; the pulls should add up in squares to the information. Cloud has
// heavier tails than any normal distribution, and shows here.
func (p *problem) scatter(readings []pull) float64 {
	most := 1.0
	for _, length := range pullLengths {
		most = math.Max(most, scattered(p.stretches(readings, length)))
	}
	return most
}

// scattered is that factor for stretches of one length.
func scattered(stretches []pull) float64 {
	var info, squares, infoSquares float64
	for _, b := range stretches {
		info += b.info
		squares += b.pull * b.pull
		infoSquares += b.info * b.info
	}
	if !(info > 0) {
		return 1
	}
	n := info * info / infoSquares // stretches that count
	if n < 2 {
		return 1
	}
	seen := squares / info * n / (n - 1) // the shift itself has taken one
	return math.Sqrt(math.Max(1, (usualPulls+n*seen)/(usualPulls+n)))
}

// pullLengths are s: the cloud's memory or so, so that stretches are nearly independent, and
// that of a sky whose unrest lasts longer than any cloud.
var pullLengths = []float64{240, 720}

const (
	usualPulls = 2.0 // stretches' worth of belief that the noise is as modelled; common practice, no source
)

// A pull is what a reading, or some minutes of log, know of the shift and which way they
// pull it.
type pull struct{ info, pull float64 }

// clouded is the part of what is known of the shift that was read through cloud.
func clouded(readings []pull, cloudy []bool) float64 {
	var under, all float64
	for k, r := range readings {
		all += r.info
		if cloudy[k] {
			under += r.info
		}
	}
	if !(all > 0) {
		return 0
	}
	return under / all
}

// stretches adds up the pulls of so many seconds each.
func (p *problem) stretches(readings []pull, length float64) (out []pull) {
	start := math.Inf(-1)
	for k, r := range readings {
		if p.t[k]-start > length {
			out = append(out, pull{})
			start = p.t[k]
		}
		b := &out[len(out)-1]
		b.info += r.info
		b.pull += r.pull
	}
	return out
}

// pulls are those of the single readings.
func (p *problem) pulls(best float64) []pull {
	const h = 0.25 // s
	p.deviance(best)
	beta := slices.Clone(p.reg.beta.Data)
	// predicted leaves each row's prediction in its column colPower.
	predicted := func(shift float64) []row {
		p.fill(shift)
		out := make([]row, len(p.rows))
		for k := range out {
			for j, b := range beta {
				out[k][colPower] += b * p.rows[k][j]
			}
		}
		return out
	}
	slope, before := predicted(best+h), predicted(best-h)
	for k := range slope {
		slope[k][colPower] = (slope[k][colPower] - before[k][colPower]) / (2 * h)
	}
	apply[moving](p.filter, slope, colPower, p.reg.white)
	gain := slices.Clone(p.reg.column(colPower))
	p.deviance(best)
	left := p.reg.innovations()
	// What other columns could explain of it carries no information.
	right := make([]float64, columns)
	for j := range right {
		right[j] = floats.Dot(p.reg.column(j), gain)
	}
	for j, c := range p.reg.solve(right) {
		floats.AddScaled(gain, -c, p.reg.column(j))
	}
	out := make([]pull, len(gain))
	for k, g := range gain {
		out[k] = pull{info: g * g, pull: g * left[k]}
	}
	return out
}
