package main

import (
	"fmt"
	"math"
	"strings"

	"example.org/noonfall/eclipse/rehearsal"
)

// A verdict is one word, with a number of days behind it.
type verdict struct {
	word   string
	reason string // in words
}

// The words. MISLED is loud: a wrong number with a narrow interval is worse than none.
const (
	survived = "survived"
	blurred  = "blurred"
	refused  = "refused"
	misled   = "MISLED"
	untried  = "untried"
)

// farOff is beyond what chance explains: twice a 95 % interval's half-width is four standard
// deviations, one in ten thousand of a normal error.
const farOff = 2

// struck says of a made-up log which damage found no room in it; none is true where
// nothing of it did.
func struck(log *rehearsal.Log) (missing string, none bool) {
	want, got := log.Plan.Damage, log.Truth
	var out []string
	fell := len(got.Outages) + got.Lines.Torn + got.Lines.NULs
	for _, x := range []struct {
		want, got int
		what      string
	}{{want.PowerCycles, len(got.Outages), "cuts"}, {want.TornLines, got.Lines.Torn, "torn lines"}, {want.NULRuns, got.Lines.NULs, "runs of zeros"}} {
		if x.got < x.want {
			out = append(out, fmt.Sprintf("only %d of %d %s found room in the log", x.got, x.want, x.what))
		}
	}
	return strings.Join(out, "; "), len(out) > 0 && fell == 0
}

// judged is the verdict of a fear; where its blows found no room in the log, it says so.
func (t tried) judged(within float64) verdict {
	v := judge(t.days, within)
	missing, none := struck(t.first)
	switch {
	case none:
		return verdict{untried, missing}
	case missing != "":
		v.reason += "; " + missing
	}
	return v
}

// judge says what became of a fear's days.
func judge(days []day, within float64) verdict {
	var no, out, far int
	widest := 0.0
	why := ""
	for _, d := range days {
		switch {
		case d.refusal != nil:
			no++
			why = d.refusal.Reason
		default:
			widest = math.Max(widest, d.half())
			if !d.holds() {
				out++
			}
			if d.miss() > farOff {
				far++
			}
		}
	}
	n := len(days)
	switch {
	case far > 0 || 2*out > n && n > 1:
		return verdict{misled, fmt.Sprintf("%d of %d intervals miss the truth", out, n)}
	case no > 0:
		return verdict{refused, fmt.Sprintf("%d of %d days: %s", no, n, why)}
	case widest > within:
		return verdict{blurred, fmt.Sprintf("to %.1f s either way%s", widest, outside(out, n))}
	}
	return verdict{survived, fmt.Sprintf("within %.1f s%s", widest, outside(out, n))}
}

// outside tells of intervals that miss by no more than chance explains.
func outside(out, n int) string {
	if out == 0 {
		return ""
	}
	return fmt.Sprintf("; %d of %d just outside", out, n)
}

// counted says what became of the lines of a day.
func (d day) counted() string {
	written := d.truth.Lines.Records
	if d.read == written && d.refused == d.truth.Lines.Torn+d.truth.Lines.NULs {
		if d.refused == 0 && len(d.truth.Outages) == 0 {
			return "all lines"
		}
		var lost []string
		if d.refused > 0 {
			lost = append(lost, fmt.Sprintf("%d lines", d.refused))
		}
		if len(d.truth.Outages) > 0 {
			lost = append(lost, fmt.Sprintf("%.0f s of power", d.dark()))
		}
		return strings.Join(lost, ", ") + " lost"
	}
	return fmt.Sprintf("%d of %d records, %d lines refused", d.read, written, d.refused)
}

// dark is how long the power was away, s.
func (d day) dark() (sum float64) {
	for _, o := range d.truth.Outages {
		sum += o.To.Sub(o.From).Seconds()
	}
	return sum
}
