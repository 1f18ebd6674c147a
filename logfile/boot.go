package logfile

import (
	"math"
	"slices"
	"strconv"
	"time"
)

// A boot follows a count since the logger's start from line to line, and says which
// power-on it counts from.
//
//	falls                    another power-on
//	falls, and is on over    the same one: a counter of 32 bits rolled over, of the
//	2^32 by no gap           count's own ticks, or of milliseconds told in seconds
//	is far off for a line    the same one: that line's digits were damaged
//
// Far is more than 10 cadences, no gap at most as much (or 20 s); common practice, no
// source.
type boot struct {
	at        place
	before    place // the count before the last, where the last is far off from it
	far       bool
	restarted bool // no record has come since the last power-on
	pace      cadence
}

// A place is a count and where it belongs.
type place struct {
	run   int     // power-on, from 1; 0 before the first
	base  float64 // what rolled over, in ticks
	count float64 // with base
}

// rollsAt is the number of ticks after which a counter of 32 bits begins again.
func rollsAt(tick time.Duration) float64 {
	if tick == time.Second {
		return (1 << 32) / 1e3 // milliseconds, divided: 49.7 days
	}
	return 1 << 32
}

// follow takes the next count as it stands in the file.
func (b *boot) follow(raw float64, tick time.Duration) {
	if b.at.run == 0 {
		b.at = place{run: 1, count: raw}
		return
	}
	lasts := func(ticks float64) time.Duration { return time.Duration(min(ticks*float64(tick), math.MaxInt64/2)) }
	paces := gapFactor * b.pace.median()
	if step := b.before.base + raw - b.before.count; b.far && step > 0 && lasts(step) <= paces {
		b.restarted = b.restarted && b.before.run == b.at.run
		b.at, b.far = b.before, false
		b.at.count += step
		return
	}
	step := b.at.base + raw - b.at.count
	if over := step + rollsAt(tick); step < 0 && over > 0 && lasts(over) <= max(paces, leastGap) {
		b.at.base += rollsAt(tick)
		step = over
	}
	if b.far = paces > 0 && lasts(math.Abs(step)) > paces; b.far {
		b.before = b.at
	}
	switch {
	case step < 0:
		b.at = place{run: b.at.run + 1, count: raw}
		b.restarted = true
		return
	case step > 0:
		b.pace.add(lasts(step))
	}
	b.at.count += step
}

// instant is when a place was, by the power-on's own start; false where nobody gave it.
func (p place) instant(starts []time.Time, tick time.Duration) (time.Time, bool) {
	if p.run > len(starts) || starts[p.run-1].IsZero() {
		return time.Time{}, false
	}
	whole := math.Floor(p.count)
	rest := math.Round((p.count - whole) * float64(tick))
	return starts[p.run-1].Add(time.Duration(whole)*tick + time.Duration(rest)).UTC(), true
}

// longestCount keeps an instant within what a Duration holds, with room to add.
const longestCount = math.MaxInt64 / 4 // ns: 73 years

// countCell reads a count since the logger's start.
func (r *Reader) countCell(c *Column, f []byte) bool {
	if c.suffix != "" {
		f = c.bare(f)
	}
	v, ok := parseNumber(f, r.layout.mark())
	if !ok || !(v >= 0 && v*float64(c.Tick) < longestCount) {
		return false
	}
	r.since, r.tick, r.now.sinceStart = v, c.Tick, true
	return true
}

// finishCount is finish for a count. What it learns of a line that is refused waits
// until it is, because a line may be read twice.
func (r *Reader) finishCount() bool {
	next := r.boot
	next.follow(r.since, r.tick)
	at, ok := next.at.instant(r.opt.Starts, r.tick)
	if !ok {
		r.now.why, r.unstarted = NoStart, next
		return false
	}
	r.boot = next
	r.rec.Time, r.rec.Leap = at, false
	return true
}

// unread says why a line of the right width is no record.
func (r *Reader) unread() Kind {
	switch r.now.why {
	case 0:
		return BadStamp
	case NoStart:
		r.boot = r.unstarted
	}
	return r.now.why
}

// countWords are headings of a count, beside those of the time. Common practice, no
// source.
var countWords = []string{"millis*", "msec*", "ms", "micros*", "usec*", "us", "sec", "secs", "second*", "uptime", "boot", "elapsed", "runtime", "tick*"}

// countUnits are the words for what a count counts. Common practice, no source.
var countUnits = []struct {
	words []string
	tick  time.Duration
}{
	{[]string{"us", "µs", "μs", "micros*", "usec*"}, time.Microsecond},
	{[]string{"ms", "millis*", "msec*"}, time.Millisecond},
	{[]string{"s", "sec", "secs", "second*"}, time.Second},
	{[]string{"mins", "minutes"}, time.Minute},
}

// sinceStart makes the time of a column that counts from the logger's start, where
// there is no other. Without a heading for it, or the caller's Starts, the numbers
// themselves must show a start: near zero, and again after a fall or for eight rows.
func (l *Layout) sinceStart(d *draft, opt Options) {
	if l.has(Time) >= 0 || l.has(Clock) >= 0 {
		return
	}
	found, most := -1, 0
	for i := range d.shapes {
		role, _, other := meaning(l.Columns[i].Name)
		headed := role == Time || anyOf(countWords, tokens(l.Columns[i].Name))
		if role != Skip && role != Time || other && !headed {
			continue
		}
		climbs := d.shapes[i].countsUp(headed, len(opt.Starts) > 0)
		if climbs > 0 && headed {
			found = i
			break
		}
		if climbs > most {
			found, most = i, climbs
		}
	}
	if found >= 0 {
		l.Columns[found].Role, l.Columns[found].counts = Time, true
		l.because("column %d counts up from the logger's start", found+1)
	}
}

// countsUp says how often numbers climb, if they do but for falls to near zero; else 0.
// One step in five may be damaged. headed means that the heading says what they are,
// given that the caller has said that some column is a count.
func (s *shape) countsUp(headed, given bool) int {
	if len(s.values) < sureRows || !s.mostly(s.numbers) {
		return 0
	}
	var steps []float64
	for i, v := range s.values[1:] {
		if step := v - s.values[i]; step > 0 {
			steps = append(steps, step)
		}
	}
	if all := len(s.values) - 1; 2*len(steps) < all || !headed && 5*len(steps) < 3*all { // two values in turn climb half of the time
		return 0
	}
	slices.Sort(steps)
	near := gapFactor * steps[len(steps)/2]
	starts, odd := 0, 0
	for i, v := range s.values {
		switch {
		case v < 0, i > 0 && v < s.values[i-1] && v > near && !headed && !given:
			odd++
		case v <= near && (i == 0 || v < s.values[i-1]):
			starts++
		}
	}
	if odd*5 < len(s.values) && (headed || given || starts > 1 || starts > 0 && len(s.values) >= bareRows) {
		return len(steps)
	}
	return 0
}

// settleCount makes a count since the logger's start an instant: from when, and in
// what.
func (l *Layout) settleCount(opt Options, fail failer) error {
	i := l.has(Time)
	if i < 0 || !l.Columns[i].counts {
		return nil
	}
	column := "column " + strconv.Itoa(i+1)
	switch starts := opt.Starts; {
	case len(starts) == 0:
		return fail("starts", "%s counts from the logger's start", column)
	case !slices.IsSortedFunc(slices.DeleteFunc(slices.Clone(starts), time.Time.IsZero), time.Time.Compare):
		return fail("starts", "the starts given are not in the order of time")
	}
	c := &l.Columns[i]
	if c.Tick = l.tickOf(i); c.Tick <= 0 {
		return fail("tick", "%s counts from the logger's start, and its heading does not say in what", column)
	}
	l.because("%s counts steps of %v from the starts given", column, c.Tick)
	return nil
}

// scaleOf makes instants of a column's numbers, 0 where they are none. A count of
// milliseconds has the size of the seconds since 1970 after 11 days, one of microseconds
// after 16 minutes: where its unit is known it is not taken for them.
func (l *Layout) scaleOf(d *draft, i int) float64 {
	scale := d.shapes[i].scale()
	if tick := l.tickOf(i); tick > 0 && float64(tick)*scale < float64(time.Second) {
		return 0
	}
	return scale
}

// tickOf is the unit of a column that counts: as given, else by the words of the heading
// or behind the numbers; 0 where they tell none.
func (l *Layout) tickOf(i int) time.Duration {
	if l.tick != 0 {
		return l.tick
	}
	c := &l.Columns[i]
	words := append(tokens(c.Name), tokens(c.Unit)...)
	for _, u := range countUnits {
		if anyOf(u.words, words) {
			return u.tick
		}
	}
	return 0
}
