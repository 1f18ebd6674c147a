package main

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strings"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/limb"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
)

// writeText writes the page for people: what was read, what was refused and
// where, the verdict, the evidence, the cautions.
func writeText(out io.Writer, rep *station.Report) error {
	w := bufio.NewWriter(out)
	s := rep.Station
	fmt.Fprintf(w, "Station %s at %s %s, eclipse of %s\n\n", s.Code, degrees(s.Site.Lat, "N", "S"), degrees(math.Remainder(s.Site.Lon, 360), "E", "W"), s.Eclipse)
	writeFiles(w, rep)
	writeHealth(w, rep)
	writeSky(w, rep)
	writeVerdict(w, rep)
	writeAir(w, rep)
	writeCautions(w, rep)
	return w.Flush()
}

func degrees(v float64, plus, minus string) string {
	if v < 0 {
		v, plus = -v, minus
	}
	return fmt.Sprintf("%.4f %s", v, plus)
}

func writeSky(w io.Writer, rep *station.Report) {
	c := &rep.Circumstances
	if c.Geometry == eclipse.None {
		return
	}
	fmt.Fprint(w, "WHAT THE SKY DID (prediction, UTC)\n  ")
	if c.Seen == eclipse.None {
		fmt.Fprint(w, "below the horizon: ")
	}
	fmt.Fprintf(w, "%v, magnitude %.3f, %.1f %% of the Sun covered\n  ", c.Geometry, c.Magnitude, 100*c.Obscuration)
	for _, k := range contacts(rep) {
		fmt.Fprintf(w, "%s %s  ", k.name, k.UTC.Format("15:04:05.0"))
	}
	if realEdge(rep) && c.C2.Exists {
		fmt.Fprint(w, "\n  (C2 and C3 at the mountains of the Moon's edge, as the light has them; -limb mean for the printed ones)")
	}
	fmt.Fprint(w, "\n\n")
}

type moment struct {
	name string
	eclipse.Contact
}

// contacts are those of the Moon that the light was compared with.
func contacts(rep *station.Report) []moment {
	c := rep.Circumstances
	if real, ok := rep.Curve.(*limb.Curve); ok {
		k := real.Contacts()
		c.C2, c.C3 = k.LimbC2.Contact, k.LimbC3.Contact
	}
	var out []moment
	for _, k := range []moment{{"C1", c.C1}, {"C2", c.C2}, {"max", c.Max}, {"C3", c.C3}, {"C4", c.C4}} {
		if k.Exists {
			out = append(out, k)
		}
	}
	return out
}

func writeVerdict(w io.Writer, rep *station.Report) {
	fmt.Fprintln(w, "THE CLOCK")
	writeClock(w, rep)
	fmt.Fprintln(w)
	if rep.Refusal == nil {
		fmt.Fprintln(w, "THE EVIDENCE")
		writeEvidence(w, rep.Clock)
		fmt.Fprintln(w)
	}
}

func writeClock(w io.Writer, rep *station.Report) {
	if r := rep.Refusal; r != nil {
		fmt.Fprintf(w, "  No verdict: %s.\n  %s\n", r.Reason, cli.Stop(r.Detail))
		writeNotes(w, rep)
		return
	}
	c := rep.Clock
	way := "fast"
	if c.Offset < 0 {
		way = "slow"
	}
	fmt.Fprintf(w, "  It was %.1f s %s, give or take %.1f s (one standard uncertainty).\n", math.Abs(c.Offset), way, c.OffsetU)
	fmt.Fprintf(w, "  With 95 %% confidence stamp minus UTC lies between %+.1f and %+.1f s.\n", c.CI95[0], c.CI95[1])
	if c.ZoneH != 0 {
		fmt.Fprintf(w, "  That is %+g h, as of a clock left on local time, and %+.1f s.\n", c.ZoneH, c.Offset-3600*c.ZoneH)
	}
	writeDrift(w, c.DriftPPM, c.DriftU)
	writeStretches(w, rep)
	writeChannels(w, rep)
	fmt.Fprintf(w, "  The light alone says +-%.2f s; what the Moon's edge leaves open adds +-%.2f s.\n", c.LightU, c.LimbU)
	fmt.Fprint(w, "  The sensor's own lag and the averaging of samples are part of the offset: light cannot tell them from the clock.\n")
	writeNotes(w, rep)
}

// writeEvidence says what the verdict rests on.
func writeEvidence(w io.Writer, c *fit.Result) {
	fmt.Fprintf(w, "  %d samples were fitted; %d saturated and %d too dark ones are bounds, not numbers.\n", c.Used, c.Saturated, c.Dark)
	fmt.Fprintf(w, "  The eclipse explains the log better than a plain day by %.0f squared deviations.\n", c.Evidence)
	fmt.Fprintf(w, "  The reading follows the light as its power %.3f +- %.3f (%s).\n", c.Response.Exponent, c.Response.ExponentU, c.Response.Law)
	fmt.Fprintf(w, "  %.0f %% of the eclipse is under cloud or shade", 100*c.CloudFraction)
	for i, s := range c.Cloud {
		if i == 6 {
			fmt.Fprintf(w, " and %d more", len(c.Cloud)-i)
			break
		}
		fmt.Fprintf(w, "%s %s-%s (%.0f %% lost)", map[bool]string{true: ":", false: ","}[i == 0], s.From.Format("15:04:05"), s.To.Format("15:04:05"), 100*s.Depth)
	}
	fmt.Fprint(w, ".\n")
	writeResiduals(w, c)
	writeContacts(w, c)
	if d := c.Darkening; d != nil {
		fmt.Fprintf(w, "  Where the Sun's surface is seen at 60 degrees it has %.2f +- %.2f of the centre's brightness (published: 0.64 at 445 nm, 0.71 at 550, 0.83 at 1047), as at %.0f +- %.0f nm.\n", d.Half, d.HalfU, d.NM, d.NMU)
	} else {
		fmt.Fprintf(w, "  The Sun's limb darkening is not told: %s.\n", c.Undarkened)
	}
}

// writeContacts says when the light itself shows the contacts.
func writeContacts(w io.Writer, c *fit.Result) {
	for _, s := range c.Contacts {
		digits := contactDigits(s)
		fmt.Fprintf(w, "  The light shows %s at %s UTC, %+.*f s from the prediction, give or take %.*f s.\n", s.Name, s.UTC.Format("15:04:05"), digits, rounded(s.Late, digits), digits, s.LateU)
	}
	for _, s := range c.Unseen {
		fmt.Fprintf(w, "  It does not show %s: %s.\n", s.Name, s.Reason)
	}
}

// contactDigits are those after the point that a contact's uncertainty leaves sense in.
func contactDigits(s fit.SeenContact) int {
	if s.LateU >= 10 {
		return 0
	}
	return 1
}

// rounded has no minus zero.
func rounded(v float64, digits int) float64 {
	scale := math.Pow10(digits)
	return math.Round(v*scale)/scale + 0
}

func writeCautions(w io.Writer, rep *station.Report) {
	if len(rep.Warnings) > 0 {
		fmt.Fprintln(w, "MIND")
		for _, m := range rep.Warnings[:min(len(rep.Warnings), textWarnings)] {
			fmt.Fprintf(w, "  %s\n", m)
		}
		if n := len(rep.Warnings) - textWarnings; n > 0 {
			fmt.Fprintf(w, "  and %d more; -json has them all\n", n)
		}
		fmt.Fprintln(w)
	}
	fmt.Fprint(w, "CAUTIONS\n  ", strings.Join(cautions, "\n  "), "\n")
}

// cautions stand in everything that somebody may act on.
var cautions = []string{
	"Never look at the Sun without a filter that meets ISO 12312-2, except in totality inside its path.",
	"Predicted times are no signal to take a filter off or put it on. Nobody looks through optics without a filter on their front.",
	"Mind batteries in the heat, heat-stroke and traffic; follow local authorities, and local codes for wiring.",
}
