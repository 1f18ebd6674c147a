package fit

import (
	"iter"
	"math"
)

// veil raises the roughness where light is lost to cloud: what takes so much of the light does
// not take it evenly, however smooth the minutes under it look. It returns the most that is
// lost, as a natural logarithm.
func (p *problem) veil(residual []float64) (most float64) {
	if p.plain {
		return 0
	}
	for k, l := range p.shortfall(residual) {
		p.rough[k] = math.Max(p.rough[k], veilWander*l*l)
		most = math.Max(most, l)
	}
	return most / math.Max(p.exponent(), leastExponent)
}

// veilWander is the variance a second that the level gains under what takes an e-fold of the
// light: as much as is lost, within a quarter of a minute, as where the edge of a cloud passes.
// Common practice, no source.
const veilWander = 1.0 / 15

// shortfall is the light that each reading is short of the course of its surroundings, in the
// logarithm of the readings, beyond what haze makes of it. Readings that are too dark to tell are
// as short as the worse of the bright ones beside them.
func (p *problem) shortfall(residual []float64) []float64 {
	power := math.Max(p.exponent(), leastExponent)
	base := p.upperCourse(residual)
	out := make([]float64, len(residual))
	for k := range out {
		if l := base[k] - residual[k] - cloudyEdge*power; p.bright(k) && l > 0 {
			out[k] = math.Min(l, power) // below a third of the light nothing is known of the rest
		}
	}
	for first, last := range p.dark() {
		var worse float64
		if first > 0 {
			worse = out[first-1]
		}
		if last+1 < len(out) {
			worse = math.Max(worse, out[last+1])
		}
		for k := first; k <= last; k++ {
			out[k] = worse
		}
	}
	return out
}

// bright says that a reading has light enough for cloud to be looked for.
func (p *problem) bright(k int) bool { return p.rows[k][colPower] > cloudDeep }

// dark yields the first and the last reading of each run of those that have not.
func (p *problem) dark() iter.Seq2[int, int] {
	return func(yield func(first, last int) bool) {
		n := len(p.rows)
		for first := 0; first < n; first++ {
			if p.bright(first) {
				continue
			}
			last := first
			for last+1 < n && !p.bright(last+1) {
				last++
			}
			if !yield(first, last) {
				return
			}
			first = last
		}
	}
}
