package main

import (
	"fmt"
	"io"
	"text/tabwriter"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/limb"
	"example.org/noonfall/examples/internal/cli"
)

// edgeTable sets second and third contact of the real edge beside those of the smooth
// disc, where one of the two Moons has any.
func (p *plan) edgeTable(w io.Writer) {
	e, c := &p.edge, &p.local
	switch {
	case e.Count == 0 && !c.C2.Exists:
		return
	case e.Count == 0:
		fmt.Fprintf(w, "A smooth Moon, as in the printed almanacs, makes the eclipse %s for %s here.\n%s\n\n", c.Geometry, minutes(c.Duration), never(c.Geometry))
		return
	}
	fmt.Fprint(w, "The Moon's edge has mountains and valleys. With it, and with the smooth disc of the\nprinted almanacs:\n\n")
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(t, "%-14s\treal edge\tgive or take\tsmooth disc\tdifference\t\n", "")
	row := func(name, real string, u float64, smooth string, difference float64) {
		apart := "-"
		if c.Geometry == e.LimbKind {
			apart = fmt.Sprintf("%+.1f s", difference)
		}
		fmt.Fprintf(t, "%-14s\t%s\t%.1f s\t%s\t%s\t\n", name, real, u, smooth, apart)
	}
	row("second contact", clock(e.LimbC2.Contact), e.LimbC2.TimeU, clock(c.C2), float64(e.LimbC2.TT-c.C2.TT))
	row("third contact", clock(e.LimbC3.Contact), e.LimbC3.TimeU, clock(c.C3), float64(e.LimbC3.TT-c.C3.TT))
	smooth := "-"
	switch {
	case c.Geometry == e.LimbKind:
		smooth = minutes(c.Duration)
	case c.C2.Exists: // in a hybrid eclipse
		smooth = c.Geometry.String() + " " + minutes(c.Duration)
	}
	row(e.LimbKind.String()+" for", minutes(e.LimbDuration), e.durationU(), smooth, e.LimbDuration-c.Duration)
	t.Flush()
	p.edgeWords(w)
}

// never says why the real edge leaves nothing of a central eclipse.
func never(k eclipse.Kind) string {
	if k == eclipse.Annular {
		return "The real one's mountains break the ring at every moment."
	}
	return "The real one's valleys let sunlight through at every moment."
}

// clock is the time of day, to a tenth.
func clock(c eclipse.Contact) string {
	if !c.Exists {
		return "-"
	}
	return c.UTC.Round(100 * time.Millisecond).Format("15:04:05.0")
}

// edgeWords says what the table means.
func (p *plan) edgeWords(w io.Writer) {
	e := &p.edge
	says := func(format string, args ...any) { io.WriteString(w, cli.Wrap(fmt.Sprintf(format, args...), "", "")) }
	fmt.Fprintln(w)
	what := "Second contact is when the last valley on the Moon's edge closes, third when the first one opens."
	if e.LimbKind == eclipse.Annular {
		what = "Second contact is when the last mountain has come inside the Sun's edge, third when the first one leaves it. Peaks are higher than the map has them: expect the ring a little later, and its end a little sooner."
	}
	says("%s Beads, the pieces of a broken line of sunlight, last %s before second contact, around position angle %.0f, and %s after third, around %.0f, up to %d degrees either way.",
		what, minutes(e.LimbC2.Beads), e.LimbC2.P, minutes(e.LimbC3.Beads), e.LimbC3.P, limb.BeadArc)
	if e.Count > 1 {
		says("It comes in %d pieces, between which valleys open again:", e.Count)
		for _, piece := range e.Phases[:e.Count] {
			fmt.Fprintf(w, "  from %s to %s, %s\n", clock(piece.Begin.Contact), clock(piece.End.Contact), minutes(piece.Duration))
		}
	}
	if e.doubtful() {
		says("The site is so near a limit of the path that all this may as well not happen: go further into it.")
	}
	says("\"Give or take\" is a standard deviation, of how well the heights are known: one time in three it is further off. %s Delta T and the map come on top, see below.", p.sunWords())
	fmt.Fprintln(w)
}

// sunWords says what another Sun makes of the duration.
func (p *plan) sunWords() string {
	e := &p.edge
	more, word := e.larger-e.LimbDuration, "longer"
	if more < 0 {
		more, word = -more, "shorter"
	}
	if e.larger == 0 {
		return fmt.Sprintf("A Sun larger by %.1f arcsec, as some measure it, leaves nothing of it.", largerSun)
	}
	return fmt.Sprintf("A Sun larger by %.1f arcsec, as some measure it, makes it %.1f s %s.", largerSun, more, word)
}
