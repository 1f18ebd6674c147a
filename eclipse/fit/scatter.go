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
func (p *problem) scatter(best float64) float64 {
	pull := p.pulls(best)
	var info, squares, infoSquares float64
	for _, b := range pull {
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

const (
	pullLength = 240.0 // s; the cloud's memory or so, so that stretches are nearly independent
	usualPulls = 2.0   // stretches' worth of belief that the noise is as modelled; common practice, no source
)

// A stretch is some minutes of log: what they know of the shift and which way
// they pull it.
type stretch struct{ info, pull float64 }

func (p *problem) pulls(best float64) []stretch {
	const h = 0.25 // s
	p.deviance(best)
	beta := slices.Clone(p.reg.beta.Data)
	// predicted leaves each row's prediction in its first column.
	predicted := func(shift float64) []row {
		p.fill(shift)
		out := make([]row, len(p.rows))
		for k := range out {
			for j, b := range beta {
				out[k][0] += b * p.rows[k][j]
			}
		}
		return out
	}
	slope, before := predicted(best+h), predicted(best-h)
	for k := range slope {
		slope[k][0] = (slope[k][0] - before[k][0]) / (2 * h)
	}
	p.filter.apply(slope, p.reg.white)
	pull := slices.Clone(p.reg.column(0))
	p.deviance(best)
	left := p.reg.innovations()
	// What other columns could explain of it carries no information.
	right := make([]float64, columns)
	for j := range right {
		right[j] = floats.Dot(p.reg.column(j), pull)
	}
	for j, c := range p.reg.solve(right) {
		floats.AddScaled(pull, -c, p.reg.column(j))
	}
	var out []stretch
	start := math.Inf(-1)
	for k, g := range pull {
		if p.t[k]-start > pullLength {
			out = append(out, stretch{})
			start = p.t[k]
		}
		b := &out[len(out)-1]
		b.info += g * g
		b.pull += g * left[k]
	}
	return out
}
