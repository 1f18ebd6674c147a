package dips

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"
)

// A Dip is one passage of a shadow. Uncertainties are standard ones (JCGM 100).
type Dip struct {
	// Start is where the light begins to fall, Least where least is left (the middle of a flat
	// bottom), End where all is back. Start < Least < End.
	Start, Least, End    time.Time
	StartU, LeastU, EndU time.Duration // standard uncertainties of the three
	// Depth is the part of the light that was taken at Least, above 0 and at most 1.
	Depth, DepthU float64
	Shape         Shape   // of its bottom
	Base, Bottom  float64 // readings without the shadow, and at Least
	Signal        float64 // how far it stands out, in units of the noise at its duration
	Readings      int     // from Start to End
}

// A Shape is the form of a dip's bottom.
type Shape uint8

// The shapes.
const (
	Partial Shape = iota // round or pointed: the ball covered part of the lamp
	Flat                 // flat, with light left: a small ball wholly before a large lamp, or a lit room
	Total                // flat and a tenth of the light or less: the lamp was hidden
)

var shapes = [...]string{"partial", "flat", "total"}

// String is "partial", "flat" or "total".
func (s Shape) String() string {
	if int(s) < len(shapes) {
		return shapes[s]
	}
	return fmt.Sprintf("Shape(%d)", uint8(s))
}

// MarshalText writes what String returns; the error is always nil.
func (s Shape) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// A Reason says why a place that stands out is no passage of a ball.
type Reason uint8

// The reasons.
const (
	Switched Reason = iota // both edges as sudden as a switch, and a long time between them
	Step                   // the level beside it changed by more than half the fall
	Cut                    // an edge lies beyond the series' end or in a gap as long as the dip
	Shallow                // less than MinDepth, or not told from noise, once measured
	Short                  // fewer than three readings, or less than Shortest
	Long                   // more than Longest
)

var reasons = [...]string{"switched", "step", "cut", "shallow", "short", "long"}

// String is the constant's name in small letters.
func (r Reason) String() string {
	if int(r) < len(reasons) {
		return reasons[r]
	}
	return fmt.Sprintf("Reason(%d)", uint8(r))
}

// MarshalText writes what String returns; the error is always nil.
func (r Reason) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// An Aside is a place that stands out and was not taken for a passage.
type Aside struct {
	Time   time.Time // its middle
	Reason Reason    // why it is none
}

// A Result is what a log shows. It is plain data.
type Result struct {
	Dips    []Dip         // in order of time, none overlaps another
	Aside   []Aside       // in order of time
	Sense   Sense         // Falling or Rising; Auto where there was no dip to tell it from
	Cadence time.Duration // the usual step from reading to reading
	Jitter  float64       // scatter from reading to reading, a standard deviation in readings
	Step    float64       // least difference between two readings
	Used    int           // readings, each stamp once
	Skipped int           // readings that are no number
}

// Find finds the passages in readings of any order and cadence. The error is ErrFew, ErrSpan,
// ErrOptions or ErrDark, wrapped, or that of ctx. Finding none is an answer. A day at ten a
// second takes one to two seconds (BenchmarkFind).
func Find(ctx context.Context, samples []Sample, o Options) (*Result, error) {
	if err := o.check(); err != nil {
		return nil, err
	}
	s, err := newSeries(samples)
	if err != nil {
		return nil, err
	}
	res := &Result{Cadence: seconds(s.cadence), Jitter: s.jitter, Step: s.step, Used: len(s.t), Skipped: s.skipped}
	best := 0.0
	for _, sense := range []Sense{Falling, Rising} {
		if o.Sense != Auto && o.Sense != sense {
			continue
		}
		p, err := passages(ctx, s, o.filled(), sense)
		if err != nil {
			return nil, err
		}
		if p.weight > best || o.Sense != Auto {
			best, res.Sense, res.Dips, res.Aside = p.weight, sense, p.dips, p.aside
		} else if best == 0 { // no dip either way
			res.Aside = append(res.Aside, p.aside...)
		}
	}
	slices.SortStableFunc(res.Aside, func(a, b Aside) int { return a.Time.Compare(b.Time) })
	return res, nil
}

func seconds(s float64) time.Duration { return time.Duration(math.Round(s * 1e9)) }

// found are the passages of one sense.
type found struct {
	dips   []Dip
	aside  []Aside
	weight float64 // of the evidence
}

// passages looks for falls; readings that rise as the light falls are turned over first.
func passages(ctx context.Context, s *series, o Options, sense Sense) (found, error) {
	o.Sense = sense
	if sense == Rising {
		over := *s
		over.v = make([]float64, len(s.v))
		for i, v := range s.v {
			over.v[i] = -v
		}
		s, o.Dark = &over, -o.Dark
	}
	f := newSearch(s, o)
	seeds, err := f.seeds(ctx)
	if err != nil {
		return found{}, err
	}
	var out found
	notches := f.notches(seeds)
	for i, n := range notches {
		if err := ctx.Err(); err != nil {
			return found{}, err
		}
		from, to := 0, len(s.t) // not into the neighbours
		if i > 0 {
			from = (notches[i-1].down + notches[i-1].up + n.down + n.up) / 4
			from = max(from, notches[i-1].up)
		}
		if i+1 < len(notches) {
			to = min((notches[i+1].down+notches[i+1].up+n.down+n.up)/4, notches[i+1].down)
		}
		d, why, err := f.dip(n, from, to)
		switch {
		case err != nil:
			return found{}, err
		case why != nil:
			out.aside = append(out.aside, Aside{s.at((s.t[n.down] + s.t[n.up]) / 2), *why})
		default:
			if k := len(out.dips) - 1; k >= 0 && d.Start.Before(out.dips[k].End) {
				meet(&out.dips[k], &d)
			}
			out.dips = append(out.dips, d)
			out.weight += math.Min(d.Signal, 100)
		}
	}
	if sense == Rising {
		for i := range out.dips {
			out.dips[i].Base, out.dips[i].Bottom = -out.dips[i].Base, -out.dips[i].Bottom
		}
	}
	return out, nil
}

// meet parts two dips whose ends overlap: the light may not have come back between them. Both
// instants are then as uncertain as the overlap is long.
func meet(a, b *Dip) {
	over := a.End.Sub(b.Start)
	mid := b.Start.Add(over / 2)
	if !mid.After(a.Least) || !mid.Before(b.Least) {
		mid = a.Least.Add(b.Least.Sub(a.Least) / 2)
	}
	a.End, b.Start = mid, mid
	a.EndU, b.StartU = max(a.EndU, over/2), max(b.StartU, over/2)
}

// A notch is a seed whose edges are found: down and up are the readings nearest to half way
// down and half way up again.
type notch struct {
	seed
	down, up int
	seen     bool // both edges were found
}

// notches takes the deepest seeds first and drops those that overlap one already taken.
func (f *search) notches(seeds []seed) []notch {
	var out []notch
	taken := func(n notch) bool {
		for _, m := range out {
			if n.down <= m.up && m.down <= n.up {
				return true
			}
		}
		return false
	}
	for _, s := range seeds {
		if taken(notch{seed: s, down: s.from, up: s.from + s.width - 1}) {
			continue
		}
		if n := f.edges(s); !taken(n) {
			out = append(out, n)
		}
	}
	slices.SortFunc(out, func(a, b notch) int { return a.down - b.down })
	return out
}

// edges walks from the middle of a seed outwards to half its fall.
func (f *search) edges(s seed) notch {
	half := s.base - (s.base-f.mean(s.from, s.from+s.width))/2
	r := s.width / 8 // smoothed over 2r+1 readings
	smooth := func(i int) float64 { return f.mean(max(0, i-r), min(len(f.t), i+r+1)) }
	mid := s.from + s.width/2
	n := notch{seed: s, down: mid, up: mid}
	reach := 3*s.width + 2
	for n.down > 0 && n.down > mid-reach && smooth(n.down) < half {
		n.down--
	}
	for n.up < len(f.t)-1 && n.up < mid+reach && smooth(n.up) < half {
		n.up++
	}
	n.seen = n.down > 0 && n.up < len(f.t)-1 && n.down > mid-reach && n.up < mid+reach
	return n
}
