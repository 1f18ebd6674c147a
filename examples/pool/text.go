package main

import (
	"bufio"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strings"
	"text/tabwriter"

	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/examples/internal/cli"
)

// writeText is the story for people.
func (p *pooling) writeText(out io.Writer) error {
	w := bufio.NewWriter(out)
	fmt.Fprintf(w, "%s of the solar eclipse of %s\n\n", stations(len(p.Stations)), p.Eclipse)
	p.table(w)
	p.clocks(w)
	p.light(w)
	p.shadow(w)
	p.moon(w)
	p.law(w)
	p.odd(w)
	say(w, "%s", strings.Join(cautions, " "))
	return w.Flush()
}

// cautions stand in everything that somebody may act on.
var cautions = []string{
	"Never look at the Sun without a filter that meets ISO 12312-2, except during totality inside the path.",
	"None of these times is a signal to take a filter off or put it back.",
}

// stations counts them in words that agree.
func stations(n int) string {
	if n == 1 {
		return "1 station"
	}
	return fmt.Sprintf("%d stations", n)
}

// say writes a paragraph.
func say(w io.Writer, format string, args ...any) {
	fmt.Fprint(w, cli.Wrap(fmt.Sprintf(format, args...), "", ""), "\n")
}

// table has a line for each station.
func (p *pooling) table(w io.Writer) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "station\tplace\tseen\tclock set by\tclock is ahead by\tits own\tresponse\tcloud\tlight")
	for i := range p.Stations {
		m := &p.Stations[i]
		s := m.Summary
		set := string(s.ClockSet)
		if set == "" {
			set = "?"
		}
		fmt.Fprintf(t, "%s\t%.2f, %.2f\t%s %.2f\t%s\t%s\t%s\t%s\n", m.Name, s.Site.Lat, s.Site.Lon, s.Seen, s.Magnitude, set, verdict(m), own(m), quality(m))
	}
	t.Flush()
	fmt.Fprintln(w)
}

func verdict(m *campaign.Member) string {
	c := m.Summary.Clock
	if c == nil {
		return "refused: " + m.Summary.Refusal.Reason
	}
	zone := ""
	if c.ZoneH != 0 {
		zone = fmt.Sprintf("%+g h and ", c.ZoneH)
	}
	return fmt.Sprintf("%s%.*f +- %.*f s", zone, places(c.OffsetU), m.Clock, places(c.OffsetU), c.OffsetU)
}

func own(m *campaign.Member) string {
	if math.IsNaN(m.Own) {
		return ""
	}
	return fmt.Sprintf("%+.*f s", places(m.OwnU), m.Own)
}

func quality(m *campaign.Member) string {
	c := m.Summary.Clock
	if c == nil {
		return "\t\t"
	}
	light := ""
	if !math.IsNaN(m.Light) {
		light = fmt.Sprintf("%+.0f %%", 100*(math.Exp(m.Light)-1))
	}
	return fmt.Sprintf("%.2f\t%.0f %%\t%s", c.Exponent.Value, 100*c.Cloud, light)
}

// places are the digits after the point that an uncertainty leaves sense in.
func places(u float64) int {
	if !(u > 0) {
		return 0
	}
	return max(0, min(3, 1-int(math.Floor(math.Log10(u)))))
}

func (p *pooling) clocks(w io.Writer) {
	if p.Shared.N == 0 {
		say(w, "No common offset: %s.", p.Untold["shared offset"])
		return
	}
	slow := "fast"
	if p.Shared.Value < 0 {
		slow = "slow"
	}
	say(w, "Clocks. %d stations were set by a network or a satellite and agree: all are %s by %.2f +- %.2f s, and differ by %.1f s beyond their own uncertainties. What they share belongs to the device, a lag or a habit of stamping; \"its own\" in the table is what is left.",
		p.Shared.N, slow, math.Abs(p.Shared.Value), p.Shared.U, p.SharedSpread)
}

// light shows some of the curve; all of it is in the JSON.
func (p *pooling) light(w io.Writer) {
	if len(p.Curve) == 0 {
		return
	}
	say(w, "Light. What was left of a clear sky's light, by the part of the Sun that was covered: the stations' median, and between what two thirds of them lie.")
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "covered\tlight\tfrom\tto\tstations\t")
	for _, c := range p.someLight() {
		fmt.Fprintf(t, "%.1f %%\t%s\t%s\t%s\t%d\t\n", 100*c.Obscuration, percent(c.Median), percent(c.Low), percent(c.High), c.N)
	}
	t.Flush()
	fmt.Fprintln(w)
}

// someLight are the points of the curve that tell most in a few lines.
func (p *pooling) someLight() (out []campaign.CurvePoint) {
	for _, at := range []float64{0.11, 0.31, 0.51, 0.71, 0.81, 0.91, 0.95, 0.9825, 0.9965, 1} {
		for _, c := range p.Curve {
			if math.Abs(c.Obscuration-at) < 1e-6 {
				out = append(out, c)
			}
		}
	}
	return out
}

// percent has three digits, however small.
func percent(x float64) string { return fmt.Sprintf("%.3g %%", 100*x) }

func (p *pooling) shadow(w io.Writer) {
	s := p.Sweep
	if s == nil {
		say(w, "No speed of the shadow: %s.", p.Untold["shadow"])
		return
	}
	say(w, "The shadow. By the stamps of %d stations around %.1f, %.1f, as they are, it ran over the ground at %.*f +- %.*f km/s towards %.0f +- %.0f degrees (from north through east). The elements have %.3f km/s towards %.0f there.",
		s.Speed.N, s.Lat, s.Lon, places(s.Speed.U), s.Speed.Value, places(s.Speed.U), s.Speed.U, s.Heading.Value, math.Ceil(s.Heading.U), s.Predicted.Speed, s.Predicted.Heading)
}

const earthRadius = 6378.1366 // km, IAU 2009 system of constants

func (p *pooling) moon(w io.Writer) {
	m := p.Moon
	if m == nil {
		say(w, "No distance of the Moon: %s.", p.Untold["moon"])
		return
	}
	say(w, "The Moon. From how deep the eclipse was at %d stations, up to %.0f km apart across the shadow's way: %.0f +- %.0f thousand km, or %.0f radii of the Earth. The elements have %.0f thousand km from there.",
		m.Km.N, m.BaseKm, m.Km.Value/1e3, m.Km.U/1e3, m.Km.Value/earthRadius, m.Predicted/1e3)
}

func (p *pooling) law(w io.Writer) {
	if p.Darkening.N == 0 {
		return // few networks tell it, and what is missing is in the JSON
	}
	say(w, "The Sun's edge. Where its surface is seen at 60 degrees it is %.3f +- %.3f times as bright as in the middle (%d stations; published: 0.71 at 550 nm, Neckel & Labs 1994).", p.Darkening.Value, p.Darkening.U, p.Darkening.N)
}

// odd is whatever is not as it should be.
func (p *pooling) odd(w io.Writer) {
	p.off(w)
	p.doubts(w)
	p.missing(w)
	p.warned(w)
}

// off are the outliers.
func (p *pooling) off(w io.Writer) {
	for _, o := range p.Outliers {
		say(w, "Off: %s's %s is %.4g %s, the others have %.4g (%.1f deviations).", o.Name, o.What, o.Value, o.Unit, o.Usual, o.Score)
	}
	if len(p.Outliers) > 0 {
		say(w, "Off is %s.", campaign.Rule)
	}
}

// doubts are mistakes in descriptions that the light suggests.
func (p *pooling) doubts(w io.Writer) {
	for _, m := range p.Stations {
		if m.Summary.Misplaced != "" {
			say(w, "%s: a mistake in its description would explain the light: %s?", m.Name, m.Summary.Misplaced)
		}
	}
}

// missing is what carries no figure, and why.
func (p *pooling) missing(w io.Writer) {
	for _, m := range p.Stations {
		if r := m.Summary.Refusal; r != nil {
			say(w, "%s carries no figure: %s, %s", m.Name, r.Reason, cli.Stop(r.Detail))
		}
	}
	for _, day := range slices.Sorted(maps.Keys(p.Apart)) {
		say(w, "%d of the eclipse of %s are left out; -date %s pools them.", p.Apart[day], day, day)
	}
	for _, f := range p.Failed {
		say(w, "Not read: %s", cli.Stop(f.Reason))
	}
}

func (p *pooling) warned(w io.Writer) {
	for _, text := range p.Warnings {
		say(w, "%s", cli.Stop(text))
	}
}
