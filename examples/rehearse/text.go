package main

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"text/tabwriter"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/examples/internal/cli"
)

// trailing is what tables leave at the ends of lines.
var trailing = regexp.MustCompile(`(?m) +$`)

// writeText writes the page for people.
func (r *result) writeText(w io.Writer) error {
	var b bytes.Buffer
	s := r.o.desc
	fmt.Fprintf(&b, "REHEARSAL of the eclipse of %s at %s, %s\n", r.elements.Date,
		degrees(s.Site.Lat, "N", "S"), degrees(math.Remainder(s.Site.Lon, 360), "E", "W"))
	b.WriteString(cli.Wrap("Everything below is invented: made-up logs, reduced as a real one will be.", "  ", "  "))
	if r.local.Seen == eclipse.None {
		b.WriteString(cli.Wrap("No eclipse is seen here that day, so there is nothing to rehearse. Give -site and -date.", "  ", "  "))
		cautions(&b)
		_, err := w.Write(b.Bytes())
		return err
	}
	fmt.Fprintf(&b, "  %v, magnitude %.3f, maximum %s UTC with the Sun %.0f degrees up\n", r.local.Seen, r.local.Magnitude,
		r.local.Max.UTC.Format("15:04:05"), r.local.Max.Alt)
	b.WriteString(cli.Wrap(r.planWords(), "  ", "  "))
	b.WriteString("\nWHAT WAS FEARED, AND WHAT CAME BACK\n")
	r.table(&b)
	b.WriteString(cli.Wrap(fmt.Sprintf("Clock: stamp minus UTC at maximum on the day that came out worst, with its 95 %% interval. Survived: found to %g s either way (-within) and true. Refused: no number, for the reason given. MISLED: a wrong number.", r.o.within), "  ", "  "))
	r.verdictWords(&b)
	r.change(&b)
	cautions(&b)
	_, err := w.Write(trailing.ReplaceAll(b.Bytes(), nil))
	return err
}

func degrees(v float64, plus, minus string) string {
	if v < 0 {
		v, plus = -v, minus
	}
	return fmt.Sprintf("%.4f %s", v, plus)
}

// planWords say what is rehearsed.
func (r *result) planWords() string {
	sensor := "plain counts of a 16-bit converter"
	if c := r.o.desc.Chain; c != nil {
		switch {
		case c.Divider != nil:
			sensor = fmt.Sprintf("a photoresistor with %g ohm, %d bits", c.Divider.LoadOhm, c.ADC.Bits)
		case c.Phototransistor != nil:
			sensor = fmt.Sprintf("a phototransistor, %d bits", c.ADC.Bits)
		default:
			sensor = "a digital sensor"
		}
	}
	return fmt.Sprintf("The plan: %s, a record every %v from an hour before first to an hour after fourth contact. Made-up days of each fear: %d.", sensor, r.o.cadence, r.o.days)
}

func (r *result) table(w io.Writer) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "  fear\tput in\tclock, s\ttruth\tlog\tverdict\n")
	for _, f := range r.fears {
		d := f.worst()
		clock := "-"
		if d.refusal == nil {
			clock = fmt.Sprintf("%+.1f +-%.1f", d.offset, d.half())
		}
		fmt.Fprintf(t, "  %s\t%s\t%s\t%+.1f\t%s\t%s\n", f.name, f.put, clock, d.truth.Offset, d.counted(), f.verdict.word)
	}
	t.Flush()
}

// worst is the day that is told of: a refused one, else the one whose interval misses by most,
// else the one with the widest.
func (t tried) worst() day {
	bad := func(d day) [3]float64 {
		if d.refusal != nil {
			return [3]float64{1, 0, 0}
		}
		return [3]float64{0, math.Max(1, d.miss()), d.half()}
	}
	return slices.MaxFunc(t.days, func(a, b day) int {
		x, y := bad(a), bad(b)
		return slices.Compare(x[:], y[:])
	})
}

// verdictWords are the reasons behind the words.
func (r *result) verdictWords(b *bytes.Buffer) {
	b.WriteString("\nTHE VERDICTS\n")
	t := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	for _, f := range r.fears {
		fmt.Fprintf(t, "  %s\t%s\t%s\n", f.name, f.verdict.word, f.verdict.reason)
	}
	t.Flush()
	sum, all := int64(0), int64(0)
	for _, f := range r.fears {
		for _, d := range f.days {
			sum, all = sum+d.sum, all+int64(d.bytes)
		}
	}
	b.WriteString(cli.Wrap(fmt.Sprintf("%d of %d bytes of the made-up files are accounted for.", sum, all), "  ", "  "))
}

// change says what to change before the day.
func (r *result) change(b *bytes.Buffer) {
	b.WriteString("\nWHAT TO CHANGE BEFORE THE DAY\n")
	for _, line := range r.changes() {
		b.WriteString(cli.Wrap(line, "- ", "  "))
	}
}

// changes are remedies for what did not survive, and what the quiet day's log says of its logger.
func (r *result) changes() []string {
	var out []string
	for _, f := range r.fears {
		switch f.verdict.word {
		case survived:
		case untried:
			out = append(out, fmt.Sprintf("%s: not tried, since %s. Ask for less at a time.", f.name, f.verdict.reason))
		default:
			out = append(out, fmt.Sprintf("%s: %s", f.name, f.remedy))
		}
	}
	out = append(out, r.advice...)
	if len(out) == 0 {
		out = []string{"Nothing: the plan survived all of it."}
	}
	return append(out, "Rehearse with a ball and a lamp too, through to the file: -bench reads the log.")
}

// mind are the cautions; they go with every answer.
var mind = []string{
	"Never look at the Sun without a filter that meets ISO 12312-2, except during totality and inside its path. Predicted times are no signal to take a filter off or to put it on again.",
	"Nobody looks through optics without a filter on their front.",
	"Mind batteries in the heat and lamps that get hot, heat-stroke, and traffic; mains lamps and fixed wiring are for qualified people under your local codes. Follow local authorities.",
}

func cautions(b *bytes.Buffer) {
	b.WriteString("\nCAUTIONS\n")
	for _, c := range mind {
		b.WriteString(cli.Wrap(c, "- ", "  "))
	}
}
