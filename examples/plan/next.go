package main

import (
	"fmt"
	"io"
	"text/tabwriter"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/examples/internal/cli"
)

// following is how many of the next eclipses are listed.
const following = 6

// follow asks for the next eclipses that the site sees: from now on, not from the day that is
// planned for want of another, which may lie years behind or ahead.
func (p *plan) follow(now time.Time, opt eclipse.Options) error {
	catalogue, err := canon.Load()
	if err != nil {
		return err
	}
	p.now = now.UTC()
	all, err := catalogue.SeenFrom(p.site, p.now, time.Time{}, canon.Options{Observer: opt})
	if err != nil {
		return err
	}
	for s := range all {
		if p.next = append(p.next, s); len(p.next) == following {
			break
		}
	}
	return nil
}

// nextTable lists them.
func (p *plan) nextTable(w io.Writer) {
	if len(p.next) == 0 {
		return
	}
	fmt.Fprintf(w, "\nNo date was given: this is for %s. The next eclipses here, counted from %s, at\ntheir deepest with the Sun up, by a smooth Moon; -date plans for another:\n\n",
		p.elements.Date, p.now.Format(time.DateOnly))
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "\tUTC\tcovered\theight\t")
	for _, s := range p.next {
		c := &s.Circumstances
		fmt.Fprintf(t, "%s\t%s\t%.1f %%\t%d\t\n", c.Seen, c.MaxSeen.UTC.Round(time.Minute).Format("2006-01-02 15:04"), 100*c.SeenObscuration, whole(c.MaxSeen.Alt))
	}
	t.Flush()
}

type nextJSON struct {
	Date        string      `json:"date"`
	Seen        string      `json:"seen"`
	UTC         cli.Instant `json:"utc"` // deepest with the Sun up
	Obscuration cli.Number  `json:"obscuration"`
}

func (p *plan) nextAnswer() []nextJSON {
	all := []nextJSON{}
	for _, s := range p.next {
		c := &s.Circumstances
		all = append(all, nextJSON{s.Elements.Date, c.Seen.String(), cli.Instant(c.MaxSeen.UTC), cli.Number(c.SeenObscuration)})
	}
	return all
}
