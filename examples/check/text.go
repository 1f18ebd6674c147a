package main

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
	"time"
	"unicode"

	"example.org/noonfall/examples/internal/cli"
)

// shown bounds the claims that are listed for people; programs get all of them.
const shown = 40

// A tally counts findings, and keeps a few to show.
type tally struct {
	name       string
	limb       cli.Limb
	claims     int
	verdicts   [len(verdictNames)]int
	quantities []spread // by quantity.order
	first, odd []entry  // the first claims, and the first that do not agree
	explained  account
	dots       thinned[dot]
}

// An entry is a line of the table.
type entry struct{ id, name, claimed, computed, diff, verdict, reason string }

func newTally(name string, l cli.Limb) *tally {
	return &tally{name: name, limb: l, quantities: make([]spread, len(quantities)), dots: thinned[dot]{most: drawn}}
}

func (t *tally) add(f *finding) {
	t.claims++
	t.dot(f)
	t.verdicts[f.verdict]++
	if len(t.first) < shown {
		t.first = append(t.first, f.entry())
	}
	if f.verdict != agrees && len(t.odd) < shown {
		t.odd = append(t.odd, f.entry())
	}
	if f.computed.kind == nothing {
		return
	}
	t.quantities[f.claim.quantity.order].add(f)
}

// label is what a claim is called for people.
func (f *finding) label() string {
	if f.id == nil || strings.TrimSpace(*f.id) == "" {
		return fmt.Sprintf("line %d", f.line)
	}
	return clip(*f.id, 24)
}

// clip shortens what came from a file, and keeps it from writing over the screen.
func clip(s string, most int) string {
	s = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, s)
	if r := []rune(s); len(r) > most {
		return string(r[:most-3]) + "..."
	}
	return s
}

func (f *finding) entry() entry {
	e := entry{id: f.label(), name: clip(f.name, 16), verdict: f.verdict.String(), reason: f.reason}
	if q := f.claim.quantity; q != nil {
		e.claimed = f.claim.value.text(q.unit, &f.claim)
		e.computed = f.computed.text(q.unit, &f.claim)
	}
	if f.computed.kind != nothing {
		e.diff = withUnit(f.diff, f.claim.quantity.unit)
	}
	return e
}

// text writes a figure for people; nothing is a dash.
func (f figure) text(unit string, c *claim) string {
	switch f.kind {
	case anInstant:
		return f.at.Round(10*time.Millisecond).Format("2006-01-02 15:04:05.00 ") + c.scaleName()
	case aNumber:
		return fmt.Sprintf("%.*f", decimals[unit], f.v)
	}
	return "-"
}

// decimals that people are shown, by unit.
var decimals = map[string]int{"s": 2, "deg": 2, "1": 4}

// withUnit writes a signed difference.
func withUnit(v float64, unit string) string {
	s := fmt.Sprintf("%+.*f", decimals[unit], v)
	if unit != "1" {
		s += " " + unit
	}
	return s
}

// writeText writes the findings for people.
func (t *tally) writeText(w io.Writer) error {
	var b bytes.Buffer
	t.title(&b)
	t.list(&b)
	t.byQuantity(&b)
	t.explained.write(&b)
	b.WriteString("\nWhat agreement is worth\n" + worth[t.limb] + reservations)
	_, err := w.Write(b.Bytes())
	return err
}

func (t *tally) title(w io.Writer) {
	fmt.Fprintf(w, "%s: %s\n\n", t.name, counted(t.claims, "claim"))
	for v, n := range t.verdicts {
		if n > 0 {
			fmt.Fprintf(w, "%7d  %-13s  %s\n", n, verdict(v), meaning[v])
		}
	}
}

var meaning = [...]string{
	"within the claim's tolerance, or half its last digit",
	"by more than that",
	"nothing of that name happens there and then",
	"cannot be read",
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// list shows the claims, all of them where they are few, else those that do not agree.
func (t *tally) list(w io.Writer) {
	entries, rest := t.first, 0
	heading := "The claims"
	if t.claims > shown {
		entries, rest = t.odd, t.claims-t.verdicts[agrees]-len(t.odd)
		heading = "Claims that do not agree"
	}
	if len(entries) == 0 {
		return
	}
	fmt.Fprintf(w, "\n%s (difference is claimed minus computed)\n\n", heading)
	tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(tw, "  claim\tquantity\tclaimed\tcomputed\tdifference\tverdict")
	for _, e := range entries {
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\t%s\t%s\n", e.id, e.name, e.claimed, e.computed, e.diff, e.verdict)
	}
	tw.Flush()
	if rest > 0 {
		fmt.Fprintf(w, "  and %d more; -json lists all\n", rest)
	}
	t.reasons(w, entries)
}

// reasons says why claims could not be compared, each reason once.
func (t *tally) reasons(w io.Writer, entries []entry) {
	var order []string
	claims := map[string][]string{}
	for _, e := range entries {
		if e.reason == "" {
			continue
		}
		if claims[e.reason] == nil {
			order = append(order, e.reason)
		}
		claims[e.reason] = append(claims[e.reason], e.id)
	}
	if order == nil {
		return
	}
	fmt.Fprint(w, "\nWhy some could not be compared\n\n")
	for _, reason := range order {
		ids := claims[reason]
		fmt.Fprintf(w, "  %s", strings.Join(ids[:min(len(ids), 3)], ", "))
		if more := len(ids) - 3; more > 0 {
			fmt.Fprintf(w, " and %d more", more)
		}
		fmt.Fprintf(w, ": %s\n", clip(reason, 300))
	}
}

// byQuantity shows how far each quantity is off over all claims that were compared.
func (t *tally) byQuantity(w io.Writer) {
	if t.verdicts[agrees]+t.verdicts[differs] == 0 {
		return
	}
	fmt.Fprint(w, "\nDifferences by quantity, of the claims that could be compared\n\n")
	tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "quantity\tunit\tclaims\tagree\tmedian\tscatter\tworst\tclaim\t  usually")
	for i := range t.quantities {
		s := &t.quantities[i]
		if s.n == 0 {
			continue
		}
		m, sc, _ := s.sizes()
		unit := s.q.unit
		fmt.Fprintf(tw, "%s\t%s\t%d\t%d\t%s\t%s\t%s\t%s\t  %s\n", s.q.name, unit, s.n, s.agree,
			signed(m, unit), unsigned(sc, unit), signed(s.worst, unit), s.worstID, s.pattern())
	}
	tw.Flush()
	fmt.Fprint(w, "\n  The scatter is 1.4826 times the median absolute deviation from the median: strays do\n  not move it. The last column is where to look first, and has not been tried.\n")
}

// worth says which Moon it was.
var worth = map[cli.Limb]string{
	cli.Mean: `- It means the same question answered alike, with a smooth Moon: mountains on
  its edge, clocks and maps move what people see by seconds.
`,
	cli.Real: `- It means the same question answered alike: c2, c3 and duration_s with the
  mountains of the Moon's edge, whatever k2 is; everything else, the angles at
  c2 and c3 too, with a smooth Moon, as almanacs print it.
- The edge is mapped to half a second in c2 and c3 where the eclipse is total, to
  one or two where it is annular, to more near the limits of the path. Clocks and
  maps move what people see by seconds.
`,
}

// reservations go with every answer: somebody may act on it under the Sun.
const reservations = `- No checked time is a signal to take a solar filter off or to put it back.
  Never look at the Sun without a filter that meets ISO 12312-2, except during
  totality and inside its path, and through no other optics than a filtered one.
- Where a claim differs from this and lives hang on it, ask a third source.
`
