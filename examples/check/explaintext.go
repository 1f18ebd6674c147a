package main

import (
	"fmt"
	"io"
	"math"
	"strings"
)

// write says what was found by trying.
func (a *account) write(w io.Writer) {
	if a.tried == 0 {
		return
	}
	fmt.Fprint(w, "\nWhat would explain those that do not agree, found by trying")
	if a.of > a.tried {
		fmt.Fprintf(w, "\n(tried on %d of the %d, spread over the whole file)", a.tried, a.of)
	}
	fmt.Fprint(w, "\n\n")
	if len(a.causes) == 0 {
		fmt.Fprintf(w, "  None of the usual mistakes and choices does: signs and order of the coordinates, UT\n  for UTC, local time, another Delta T, another lunar radius, magnitude for obscuration.\n")
		return
	}
	for i := range a.causes {
		a.causes[i].write(w)
	}
	if a.left > 0 {
		fmt.Fprintf(w, "\n  %d of %d are left that nothing tried explains.\n", a.left, a.tried)
	}
}

func (c *cause) write(w io.Writer) {
	fmt.Fprintf(w, "  If %s%s:\n    %d of the %d it is about would agree", c.what, c.among(), c.mended, c.touched)
	switch {
	case c.part == scattered:
		fmt.Fprint(w, "; those have no eclipse, quantity or site in common")
	case c.agreed > 0 && c.spoiled == 0:
		fmt.Fprintf(w, ", and the %d there that agree now still would", c.agreed)
	case c.agreed > 0:
		fmt.Fprintf(w, ", and %d of the %d there that agree now would not", c.spoiled, c.agreed)
	}
	fmt.Fprint(w, ".\n")
	for _, ch := range c.changes() {
		fmt.Fprintf(w, "    %s: median %s, then %s", unitNames[ch.unit], signed(ch.before[0], ch.unit), signed(ch.after[0], ch.unit))
		if ch.n > 1 { // one does not scatter
			fmt.Fprintf(w, "; scatter %s, then %s", unsigned(ch.before[1], ch.unit), unsigned(ch.after[1], ch.unit))
		}
		fmt.Fprintln(w, ch.missing())
	}
}

var unitNames = map[string]string{"s": "seconds", "deg": "degrees", "1": "ratios"}

// missing says how many had nothing to differ from.
func (ch *change) missing() string {
	if ch.none == 0 {
		return ""
	}
	return fmt.Sprintf("  (%d of %d had no such event before)", ch.none, ch.n)
}

// among names the groups that it holds for.
func (c *cause) among() string {
	const most = 4
	if c.part == scattered || len(c.where) == 0 {
		return [2]string{"", ", of what the above leave"}[btoi(c.left)]
	}
	p := parts[c.part]
	if c.groups == 1 {
		return fmt.Sprintf(",\n    at the only %s", p.name)
	}
	names := strings.Join(c.where[:min(most, len(c.where))], "; ")
	if len(c.where) > most {
		names += "; ..."
	}
	return fmt.Sprintf(",\n    in %d of %d %s (%s)", len(c.where), c.groups, p.names, names)
}

func signed(v float64, unit string) string {
	if math.IsNaN(v) {
		return "none"
	}
	unitOfLast := math.Pow10(decimals[unit])
	return fmt.Sprintf("%+.*f", decimals[unit], math.Round(v*unitOfLast)/unitOfLast+0) // +0 turns -0 into 0
}

func unsigned(v float64, unit string) string { return strings.TrimPrefix(signed(v, unit), "+") }
