package station

import (
	"cmp"
	"math"
	"slices"
	"time"
)

func sortByUTC(notes []NotedOnce) {
	slices.SortStableFunc(notes, func(a, b NotedOnce) int { return cmp.Or(a.UTC.Compare(b.UTC), a.Stamp.Compare(b.Stamp)) })
}

// line lays a weighted straight line through the notes, and reads it at n.At. One note
// stays where it is, and its clock wanders from there as an unknown crystal does.
func (n *Noted) line(notes []NotedOnce) {
	var sw, sx, sy, sxx, sxy float64
	nearest := math.Inf(1)
	x := func(k NotedOnce) float64 { return k.UTC.Sub(n.At).Seconds() }
	for _, k := range notes {
		w, d := 1/(k.U*k.U), x(k)
		sw, sx, sy = sw+w, sx+w*d, sy+w*k.Offset
		nearest = math.Min(nearest, math.Abs(d))
	}
	meanX, meanY := sx/sw, sy/sw
	for _, k := range notes {
		w, d := 1/(k.U*k.U), x(k)-meanX
		sxx, sxy = sxx+w*d*d, sxy+w*d*(k.Offset-meanY)
	}
	if span := notes[len(notes)-1].UTC.Sub(notes[0].UTC); len(notes) < 2 || span < apartLeast {
		n.Offset, n.OffsetU = meanY, math.Hypot(1/math.Sqrt(sw), unknownPPM*1e-6*nearest)
		return
	}
	rate := sxy / sxx
	n.Offset = meanY - rate*meanX
	own := math.Sqrt(1/sw + meanX*meanX/sxx)
	rateU := 1 / math.Sqrt(sxx)
	if free := len(notes) - 2; free > 0 {
		left := 0.0
		for _, k := range notes {
			d := (k.Offset - meanY - rate*(x(k)-meanX)) / k.U
			left += d * d
		}
		n.Scatter = math.Sqrt(left / float64(free))
		own, rateU = own*math.Max(1, n.Scatter), rateU*math.Max(1, n.Scatter)
	}
	n.Drift = &NotedDrift{PPM: 1e6 * rate, U: 1e6 * rateU}
	n.OffsetU = math.Hypot(own, steadyPPM*1e-6*nearest)
}

// compare sets the notes against the light.
func (n *Noted) compare() {
	c := n.Fit
	if c == nil {
		return
	}
	all := (n.Offset - c.Offset) / math.Hypot(n.OffsetU, c.OffsetU)
	n.Normalised = &all
	for i := range n.Notes {
		k := &n.Notes[i]
		away := k.UTC.Sub(n.At).Seconds()
		drift, driftU := 0.0, unknownPPM*1e-6*math.Abs(away)
		if n.Drift != nil {
			drift, driftU = n.Drift.PPM*1e-6*away, math.Hypot(n.Drift.U, steadyPPM)*1e-6*math.Abs(away)
		}
		e := (k.Offset - c.Offset - drift) / math.Hypot(math.Hypot(k.U, c.OffsetU), driftU)
		k.Normalised = &e
	}
}

// What a note must do to be doubted; common practice, no source.
const (
	notedMost    = 3.0   // standard uncertainties
	notedScatter = 3.0   // times what the notes' own uncertainties allow
	notedPPM     = 500.0 // no crystal runs so fast or slow (from memory)
	notedZoneS   = 5.0   // from a quarter of an hour, to be called a zone
)

// doubtNotes says what does not go together.
func (r *Report) doubtNotes() {
	n := r.Noted
	if d := n.Drift; d != nil && math.Abs(d.PPM) > notedPPM+notedMost*d.U {
		r.warn("by the notes the clock gained %.3g s an hour, which no crystal does: was it set between them?", d.PPM*3.6e-3)
	}
	if n.Scatter > notedScatter {
		r.warn("the notes of the clock contradict each other, by %.2g times their uncertainties: is one of them mistyped?", n.Scatter)
	}
	if n.Normalised == nil || math.Abs(*n.Normalised) <= notedMost {
		return
	}
	apart := n.Offset - n.Fit.Offset
	quarter := 900 * math.Round(apart/900)
	if quarter != 0 && math.Abs(apart-quarter) < notedZoneS+notedMost*math.Hypot(n.OffsetU, n.Fit.OffsetU) {
		r.warn("the notes of the clock are %+.1f s from the light, %+g h and %+.1f s: were their stamps read in another zone than the log's?", apart, quarter/3600, apart-quarter)
		return
	}
	r.warn("the notes of the clock say %+.1f +- %.1f s at %s and the light %+.1f +- %.1f s, %.1f of their standard uncertainties apart; the light's has the sensor's lag and averaging in it, the notes' has not",
		n.Offset, n.OffsetU, n.At.Format(time.TimeOnly), n.Fit.Offset, n.Fit.OffsetU, math.Abs(*n.Normalised))
}
