package crystal

import (
	"fmt"
	"math"
	"time"
)

// A Budget is how wrong a clock may be. A zero Budget is refused: set Seconds.
type Budget struct {
	Seconds float64 // the error that is allowed, either way, [0.001, 1e6]
	// Coverage is how many standard uncertainties must fit into the budget beside
	// the drift itself, [0.1, 10]. Zero means 2, about 95 %.
	Coverage float64
	SetU     float64 // standard uncertainty of the setting, s, [0, 1e6]; 0.3 s by hand and eye is common practice, no source
}

// A Verdict says what a Deadline means. The zero value is an instant.
type Verdict uint8

// The verdicts.
const (
	By     Verdict = iota // Deadline.At is the instant
	Always                // as far as was looked, the budget is never overspent
	Never                 // the setting alone overspends the budget
)

var verdicts = [...]string{By: "by", Always: "always", Never: "never"}

// String is one of "by", "always" and "never".
func (v Verdict) String() string {
	if int(v) < len(verdicts) {
		return verdicts[v]
	}
	return fmt.Sprintf("verdict %d", uint8(v))
}

// A Deadline is an instant by which a clock must be set, or the word that there is none.
type Deadline struct {
	Verdict Verdict
	// At is the instant where Verdict is By; where it is Always, the end of what was
	// looked at; where it is Never, the instant that was asked about.
	At time.Time
}

// horizon, s, is how far a constant temperature is believed: ten years, about a battery's life (no source).
const horizon = 10 * year

// SetAgainBy returns the last instant at which a clock set at the given one is
// still sure to be inside the budget throughout. Look no further than the history,
// or ten years where the temperature is constant. Errors are those of Drift, and a
// *RangeError for the budget.
func (c *Clock) SetAgainBy(set time.Time, b Budget) (Deadline, error) {
	_, last := c.reach(set)
	return c.search(set, last, b, func(t time.Time) Drift { return c.drift(set, t) })
}

// SetFrom returns the earliest instant from which on any setting leaves the clock
// inside the budget when it is used. Set earlier than that, it may have drifted too
// far by then. Look back no further than the history, or ten years where the
// temperature is constant. Errors as for SetAgainBy.
func (c *Clock) SetFrom(use time.Time, b Budget) (Deadline, error) {
	first, _ := c.reach(use)
	return c.search(use, first, b, func(t time.Time) Drift { return c.drift(t, use) })
}

// reach is how far before and after t one may look.
func (c *Clock) reach(t time.Time) (first, last time.Time) {
	ps := c.path.points
	if len(ps) == 1 {
		const ten = time.Duration(horizon) * time.Second
		return t.Add(-ten), t.Add(ten)
	}
	return ps[0].Time, ps[len(ps)-1].Time
}

// search walks from one instant to another, forward or back, for as long as the
// budget holds. Drift plus coverage changes by at most c.steepest a second, so a
// step of nearly what is left of the budget over that cannot jump an overspending.
// The least step is a second or a millionth of the way, at most 5 min: that is how
// sharp the answer is, always on the safe side, and a shorter stay outside could be
// missed.
func (c *Clock) search(from, to time.Time, b Budget, drift func(time.Time) Drift) (Deadline, error) {
	if b.Coverage == 0 { // not set
		b.Coverage = 2
	}
	if err := checked(row{"Budget.Seconds", b.Seconds, 1e-3, 1e6}, row{"Budget.Coverage", b.Coverage, 0.1, 10},
		row{"Budget.SetU", b.SetU, 0, 1e6}); err != nil {
		return Deadline{}, err
	}
	early, late := from, to
	if to.Before(from) {
		early, late = to, from
	}
	if err := c.path.covers(from); err != nil {
		return Deadline{}, err
	}
	if err := c.admits(early, late); err != nil {
		return Deadline{}, err
	}
	left := func(t time.Time) float64 {
		d := drift(t)
		return b.Seconds - math.Abs(d.Seconds) - b.Coverage*math.Hypot(d.SecondsU, b.SetU)
	}
	if left(from) < 0 {
		return Deadline{Verdict: Never, At: from}, nil
	}
	total := late.Sub(early)
	steepest := c.steepest(early, late, b.Coverage)
	at := func(walked time.Duration) time.Time {
		if to.Before(from) {
			return from.Add(-walked)
		}
		return from.Add(walked)
	}
	least := math.Max(1, total.Seconds()/1e6)
	for walked := time.Duration(0); walked < total; {
		step := total - walked
		if s := math.Max(0.99*left(at(walked))/steepest, least); s < step.Seconds() {
			step = time.Duration(s * float64(time.Second))
		}
		if left(at(walked+step)) < 0 {
			return Deadline{Verdict: By, At: at(walked)}, nil
		}
		walked += step
	}
	return Deadline{Verdict: Always, At: to}, nil
}

// steepest bounds by how many seconds a second the drift and its coverage can grow
// between two instants: every integral by the greatest value of what is under it.
func (c *Clock) steepest(early, late time.Time, coverage float64) float64 {
	k := c.crystal
	far := math.Max(math.Abs(c.path.least), math.Abs(c.path.most))
	aged := late.Sub(early).Seconds() / year
	if m := k.Measured; !m.IsZero() {
		aged = math.Max(math.Abs(early.Sub(m).Seconds()), math.Abs(late.Sub(m).Seconds())) / year
	}
	rate := math.Abs(k.OffsetPPM) + k.Curvature*far*far + math.Abs(k.AgeingPPM)*aged
	u := c.tempU
	spread := math.Hypot(math.Hypot(k.OffsetPPMU, k.AgeingPPMU*aged), math.Hypot(
		k.CurvatureU*math.Sqrt((far*far+u*u)*(far*far+u*u)+4*far*far*u*u+2*u*u*u*u),
		k.Curvature*math.Sqrt(4*far*far*u*u+3*u*u*u*u)))
	return ppm*(rate+coverage*spread) + 1e-15 // never nothing, even of a perfect clock
}
