package fit

import (
	"cmp"
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/floats"

	"example.org/noonfall/eclipse/internal/quantile"
	"example.org/noonfall/sun/timescale"
)

// A pause is an interval between two stamps that is longer than those beside it, or shorter:
// the logger missed a reading, or its clock was moved by as much.
type pause struct {
	from, to time.Time // the stamps
	at       float64   // between them, moved back or not, s from the predicted maximum
	excess   float64   // s beyond the intervals beside it
	usual    float64   // those
	spread   float64   // of them, root mean square
	before   float64   // the part of what the log knows of the shift that lies before it
	steep    float64   // the same, were all its light told as well as any
	like     int       // intervals in the eclipse that are as odd or half as odd, this one with them
}

// pauses are the intervals in the part of the log that has the eclipse at a shift which are odd
// by some seconds at least. The stamps are those of all samples: one that is no number leaves
// no gap in them.
func (l *light) pauses(samples []Sample, s *series, shift, least float64) (out []pause) {
	from, to := shift+l.c1, shift+l.c4
	if !s.pauses(from, to, least) {
		return nil
	}
	scale := l.curve.Observer().Scale()
	first, last := scale.UTC(l.max+timescale.TT(from)), scale.UTC(l.max+timescale.TT(to))
	var stamps []time.Time
	for i := range samples {
		if t := samples[i].Time; !t.Before(first) && !t.After(last) {
			stamps = append(stamps, t)
		}
	}
	slices.SortFunc(stamps, time.Time.Compare)
	excess := excesses(stamps, s.cadence, least)
	odd := make([]float64, len(excess))
	for i, e := range excess {
		odd[i] = math.Abs(e)
	}
	slices.Sort(odd)
	for i, e := range excess {
		if math.Abs(e) < least || math.Abs(e) > matchReach {
			continue
		}
		step := stamps[i+1].Sub(stamps[i]).Seconds()
		fewer, _ := slices.BinarySearch(odd, math.Abs(e)/2)
		out = append(out, pause{from: stamps[i], to: stamps[i+1], at: float64(scale.TT(stamps[i])-l.max) + min(step, step-e)/2,
			excess: e, usual: step - e, spread: besides(excess, i), like: len(odd) - fewer})
	}
	return out
}

// pauses says that there may be some, from the samples that are numbers.
func (s *series) pauses(from, to, least float64) bool {
	for i := 1; i < len(s.samples); i++ {
		a, b := s.samples[i-1].t, s.samples[i].t
		if math.Abs(b-a-s.cadence) >= least && a >= from && b <= to {
			return true
		}
	}
	return false
}

// besideSide is how many intervals either way tell which is usual: a logger may keep another
// pace near totality. Common practice, no source.
const besideSide = 7

// excesses are by how many seconds each interval is longer than the median of those beside it;
// none where all are within least of the cadence.
func excesses(stamps []time.Time, cadence, least float64) []float64 {
	steps := make([]float64, max(1, len(stamps))-1)
	odd := false
	for i := range steps {
		steps[i] = stamps[i+1].Sub(stamps[i]).Seconds()
		odd = odd || math.Abs(steps[i]-cadence) >= least
	}
	if !odd {
		return nil
	}
	out := make([]float64, len(steps))
	beside := make([]float64, 0, 2*besideSide+1)
	for i, d := range steps {
		beside = append(beside[:0], steps[max(0, i-besideSide):min(len(steps), i+besideSide+1)]...)
		out[i] = d - quantile.MedianOf(beside)
	}
	return out
}

// besides is the root mean square of the excesses beside one.
func besides(excess []float64, i int) float64 {
	var squares, n float64
	for j := max(0, i-besideSide); j < min(len(excess), i+besideSide+1); j++ {
		if j != i {
			squares += excess[j] * excess[j]
			n++
		}
	}
	return math.Sqrt(squares / math.Max(1, n))
}

// harmful keeps those of the pauses in which a moved clock would do harm: by how much it would
// draw the shift away from the nearer of its own two is the excess times the lesser part of
// what the log knows of the shift, before it or after. Of pauses that are about as long and
// have about as much before them one stands for all, the most harmful; and of a log that has
// many, those first that halve what is known.
func (p *problem) harmful(all []pause, shift, least float64) (out []pause) {
	const sizes, zones, most = 2, 3, 6 // to an octave; from the middle to the ends; pauses
	known, steep := p.known(shift)
	type kind struct{ zone, size int }
	worst := map[kind]pause{}
	for _, q := range all {
		k, _ := slices.BinarySearch(p.t, q.at)
		q.before, q.steep = known[k], steep[k]
		at := kind{int(2 * zones * min(0.49, math.Abs(q.middle()-0.5))), int(math.Floor(sizes * math.Log2(math.Abs(q.excess))))}
		if harm := q.harm(); harm >= least && harm > worst[at].harm() {
			worst[at] = q
		}
	}
	for zone := range zones {
		var here []pause
		for at, q := range worst {
			if at.zone == zone {
				here = append(here, q)
			}
		}
		slices.SortFunc(here, func(a, b pause) int { return cmp.Or(cmp.Compare(b.harm(), a.harm()), a.from.Compare(b.from)) })
		out = append(out, here...)
	}
	return out[:min(most, len(out))]
}

// known is the part of what the log knows of the shift before each reading and after the last,
// and what that would be where all its light were told as well as any: where the clock was
// moved the fit may have taken a contact for the edge of a cloud, from which it knows nothing.
func (p *problem) known(shift float64) (known, steep []float64) {
	known, steep = []float64{0}, []float64{0, 0}
	for k, r := range p.pulls(shift) {
		known = append(known, known[k]+r.info)
		if k > 0 {
			d := p.rows[k][colPower] - p.rows[k-1][colPower]
			steep = append(steep, steep[k]+d*d/math.Max(1, p.t[k]-p.t[k-1]))
		}
	}
	for _, parts := range [][]float64{known, steep} {
		floats.Scale(1/math.Max(parts[len(parts)-1], math.SmallestNonzeroFloat32), parts)
	}
	return known, steep
}

// middle is that of the two parts which is nearer to a half.
func (q *pause) middle() float64 {
	if math.Abs(q.steep-0.5) < math.Abs(q.before-0.5) {
		return q.steep
	}
	return q.before
}

// harm is by how many seconds a clock moved in the pause may draw the shift away from the
// nearer of its two.
func (q pause) harm() float64 { return math.Abs(q.excess) * (0.5 - math.Abs(q.middle()-0.5)) }
