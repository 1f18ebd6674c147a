package logfile

import (
	"fmt"
	"math"
	"time"
)

// An Average is what the numbers of one column in one window come to. Empty and
// unreadable cells do not count. The zero value is no number at all.
type Average struct {
	N int // numbers that count
	// Mean is in the column's own unit; NaN where N is 0. A mean of counts is not
	// the count of the mean light where the sensor is not linear, nor where some of
	// them are at the end of the range: look at Min and Max.
	Mean float64
	// SD is the sample standard deviation, with N-1; NaN where N is below 2. It is
	// the spread of the numbers and no uncertainty of Mean: readings a second apart
	// are not independent.
	SD       float64
	Min, Max float64 // NaN where N is 0
	// At is the mean of the stamps of the numbers that count: where a gap cuts into
	// the window, Mean belongs there and not to the middle. The zero time where N
	// is 0. Resolution 1 ns, error below 1 us in windows of up to a day.
	At time.Time
}

// A Window is the average of the records of one stretch of time. There is none
// without a record, so a gap in the records is a gap in the windows.
type Window struct {
	// Start belongs to the window, End to the next, UTC. A mean belongs to Middle,
	// not to Start: half a window is a clock error to whoever fits one.
	Start, End time.Time
	Line       int // of the first record, in its file
	Records    int // how many are in it
	// By the roles of the columns, in the file's own units. Longitudes are averaged
	// the short way round, so that Lon may lie past 180 degrees.
	Light, Light2, Temp, Pressure, Humidity, Lat, Lon Average
}

// Middle is the instant half way between Start and End.
func (w Window) Middle() time.Time { return w.Start.Add(w.End.Sub(w.Start) / 2) }

// Join is the average over the records of two windows, which must not share any:
// minutes make hours, and the two halves of a window that a clock stepped back into
// make one. It spans both, and what lies between. Formulas for the joint variance: T.
// F. Chan, G. H. Golub & R. J. LeVeque, Am. Stat. 37 (1983) 242.
func (w Window) Join(o Window) Window {
	switch {
	case w.Records == 0:
		return o
	case o.Records == 0:
		return w
	}
	out := w
	if o.Start.Before(w.Start) {
		out.Start = o.Start
	}
	if o.End.After(w.End) {
		out.End = o.End
	}
	out.Records += o.Records
	for role, a := range out.averages() {
		if a != nil {
			*a = joint(*a, *o.averages()[role], Role(role) == Lon)
		}
	}
	return out
}

// averages are the window's by role.
func (w *Window) averages() [roleCount]*Average {
	return [roleCount]*Average{Light: &w.Light, Light2: &w.Light2, Temp: &w.Temp, Pressure: &w.Pressure, Humidity: &w.Humidity, Lat: &w.Lat, Lon: &w.Lon}
}

func joint(a, b Average, round bool) Average {
	switch {
	case a.N == 0:
		return b
	case b.N == 0:
		return a
	}
	var shift float64
	if round {
		shift = a.Mean + math.Remainder(b.Mean-a.Mean, 360) - b.Mean
	}
	n, share := a.N+b.N, float64(b.N)/float64(a.N+b.N)
	step := b.Mean + shift - a.Mean
	sum := a.squares() + b.squares() + step*step*share*float64(a.N)
	return Average{N: n, Mean: a.Mean + step*share, SD: math.Sqrt(sum / float64(n-1)), Min: math.Min(a.Min, b.Min+shift), Max: math.Max(a.Max, b.Max+shift),
		At: a.At.Add(time.Duration(math.Round(float64(b.At.Sub(a.At)) * share)))}
}

// squares is the sum of squared differences from the mean.
func (a Average) squares() float64 {
	if a.N < 2 {
		return 0
	}
	return a.SD * a.SD * float64(a.N-1)
}

// An Averager sees records one after the other and hands out the windows as they
// end, without keeping records. Nothing is interpolated: there is no finer grid than
// the records, because what the light did between them nobody knows.
//
// A window ends with the first record that lies outside it. So a file that is newest
// first gives its windows newest first; and where the clock stepped back, or records
// are out of order, the same window comes again, with the records after the step
// alone: stamps before and after it are not those of one clock. Merge sorts what
// should be sorted, Window.Join puts together what belongs together. A leap second
// counts to the minute that follows, as its Time does.
//
// It is not safe for concurrent use.
type Averager struct {
	every time.Duration
	open  Window
	tally [roleCount]tally
}

// NewAverager prepares windows of a length that divides 24 hours evenly; they begin
// at 00:00 UTC and at every multiple of the length after it. The error is for a length that
// does not.
func NewAverager(every time.Duration) (*Averager, error) {
	if every <= 0 || (24*time.Hour)%every != 0 {
		return nil, fmt.Errorf("logfile: windows of %v: they are counted from 00:00 UTC every day, so wanted a length that divides 24 h evenly, such as 10 s, 1 min or 5 min", every)
	}
	return &Averager{every: every}, nil
}

// See takes the next record and returns the window that ended before it, if one did.
func (a *Averager) See(r Record) (ended Window, ok bool) {
	if a.open.Records > 0 && (r.Time.Before(a.open.Start) || !r.Time.Before(a.open.End)) {
		ended, ok = a.Rest()
	}
	w := &a.open
	if w.Records == 0 {
		w.Start = r.Time.UTC().Truncate(a.every) // counted from year 1, in whole days of 24 h
		w.End, w.Line = w.Start.Add(a.every), r.Line
		a.tally = [roleCount]tally{}
	}
	w.Records++
	behind := float64(r.Time.Sub(w.Start))
	for role, v := range [...]float64{Light: r.Light, Light2: r.Light2, Temp: r.Temp, Pressure: r.Pressure, Humidity: r.Humidity, Lat: r.Lat, Lon: r.Lon} {
		if role >= int(Lat) && v == v {
			a.tally[role].add(v, behind, Role(role) == Lon)
		}
	}
	return ended, ok
}

// Rest returns the window that has not ended yet, if a record is in it, and begins
// anew. Call it after the last record.
func (a *Averager) Rest() (Window, bool) {
	if a.open.Records == 0 {
		return Window{}, false
	}
	out := a.open
	for role, p := range out.averages() {
		if p != nil {
			*p = a.tally[role].average(out.Start)
		}
	}
	a.open = Window{}
	return out, true
}

// A tally sums up the numbers of one column in one window, by the method of B. P.
// Welford, Technometrics 4 (1962) 419, which loses no digits where the numbers are
// large and their spread small.
type tally struct {
	n                 int
	mean, squares, at float64 // at: mean of the times behind the window's start, ns
	least, most       float64
}

func (t *tally) add(v, behind float64, round bool) {
	if t.n++; t.n == 1 {
		*t = tally{n: 1, mean: v, at: behind, least: v, most: v}
		return
	}
	if round && math.Abs(v-t.mean) > 180 {
		v = t.mean + math.Remainder(v-t.mean, 360)
	}
	share := 1 / float64(t.n)
	step := v - t.mean
	t.mean += step * share
	t.squares += step * (v - t.mean)
	t.at += (behind - t.at) * share
	t.least, t.most = min(t.least, v), max(t.most, v)
}

func (t *tally) average(start time.Time) Average {
	if t.n == 0 {
		return Average{Mean: math.NaN(), SD: math.NaN(), Min: math.NaN(), Max: math.NaN()}
	}
	out := Average{N: t.n, Mean: t.mean, SD: math.NaN(), Min: t.least, Max: t.most, At: start.Add(time.Duration(math.Round(t.at)))}
	if t.n > 1 {
		out.SD = math.Sqrt(t.squares / float64(t.n-1))
	}
	return out
}
