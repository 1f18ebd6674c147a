package main

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/examples/internal/cli"
)

// writeText writes the plan for people.
func (p *plan) writeText(w io.Writer) error {
	var b bytes.Buffer
	p.title(&b)
	p.verdict(&b)
	if p.local.Geometry != eclipse.None {
		p.table(&b)
		p.edgeTable(&b)
		p.depth(&b)
		p.hoursWords(&b)
		p.lightTable(&b)
		p.loadWords(&b)
		p.clockWords(&b)
		p.doubts(&b)
	}
	p.firmwareWords(&b)
	p.nearWords(&b)
	p.nextTable(&b)
	if p.local.Seen != eclipse.None || len(p.next) > 0 || p.near.view != nil {
		b.WriteString(cautions)
	}
	_, err := w.Write(b.Bytes())
	return err
}

func (p *plan) title(w io.Writer) {
	fmt.Fprintf(w, "Solar eclipse of %s (%s where it is greatest)\n", p.elements.Date, p.greatest.Type)
	fmt.Fprintf(w, "Site %s, %s, %.0f m above the ellipsoid\n\n",
		sided(p.site.Lat, "N", "S"), sided(p.site.Lon, "E", "W"), p.site.Height)
}

// sided writes an angle without its sign: people mistake signs.
func sided(deg float64, plus, minus string) string {
	if deg > 180 {
		deg -= 360
	}
	if deg < 0 {
		return fmt.Sprintf("%.4f %s", -deg, minus)
	}
	return fmt.Sprintf("%.4f %s", deg, plus)
}

// verdict says in a sentence what the site gets.
func (p *plan) verdict(w io.Writer) {
	v := p.advice()
	switch {
	case v.geometry == eclipse.None:
		fmt.Fprintf(w, "Nothing happens here: the Moon's shadow passes this site by.\n")
	case v.seen == eclipse.None:
		fmt.Fprintf(w, "Nothing is seen here: the Sun is below the horizon throughout.\n\n")
	case v.seen != v.geometry:
		fmt.Fprintf(w, "The eclipse is %s, but the Sun is up for a partial part only.\n\n", v.geometry)
	case v.geometry == eclipse.Partial:
		fmt.Fprintf(w, "The eclipse is partial here: at no time is it safe to look without a filter.\n\n")
	default:
		fmt.Fprintln(w, cli.Wrap(v.phase(), "", ""))
	}
}

// phase says how long the central phase lasts, and what follows from that.
func (v *view) phase() string {
	s := fmt.Sprintf("The eclipse is %s here for %s", v.geometry, minutes(v.duration))
	if v.pieces > 1 {
		s += fmt.Sprintf(", in %d pieces", v.pieces)
	}
	if v.doubtful {
		s += ", if at all: the site is at the very limit of the path"
	}
	if v.geometry == eclipse.Annular {
		s += ". At no time is it safe to look without a filter, the ring included"
	}
	return s + "."
}

// minutes writes a duration in seconds as people say it, to a tenth.
func minutes(seconds float64) string {
	tenths := int(math.Round(seconds * 10))
	if tenths < 600 {
		return fmt.Sprintf("%d.%d s", tenths/10, tenths%10)
	}
	return fmt.Sprintf("%d min %d.%d s", tenths/600, tenths/10%60, tenths%10)
}

var whose = map[cli.Limb]string{cli.Mean: "the smooth Moon", cli.Real: "the Moon's real edge"}

// table lists the contacts, with rise and set in their places.
func (p *plan) table(w io.Writer) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	zone := p.logger.zone
	if zone != "" {
		zone += "\t"
	}
	fmt.Fprintf(t, "%-14s\tUTC\t"+zone+"height\tazimuth\tP\tV\t\n", "")
	row := func(name string, c eclipse.Contact, angles string) {
		note := ""
		if !c.Above {
			note = "  below the horizon"
		}
		local := ""
		if zone != "" {
			local = c.UTC.In(p.logger.where).Round(time.Second).Format("2006-01-02 15:04:05") + "\t"
		}
		fmt.Fprintf(t, "%-14s\t%s\t%s%.1f\t%.1f\t%s\t%s\n", name,
			c.UTC.Round(100*time.Millisecond).Format("2006-01-02 15:04:05.0"), local, c.Alt, c.Az, angles, note)
	}
	v := p.advice()
	for _, m := range p.moments(v.second, v.third) {
		row(m.prose, m.Contact, fmt.Sprintf("%.0f\t%.0f", m.P, m.V))
	}
	t.Flush()
	for _, h := range []struct {
		verb string
		at   eclipse.Contact
	}{{"rises", p.local.Rise}, {"sets", p.local.Set}} {
		if h.at.Exists {
			fmt.Fprintf(w, "The Sun %s eclipsed at %s UTC.\n", h.verb, h.at.UTC.Round(time.Second).Format(time.TimeOnly))
		}
	}
	fmt.Fprint(w, "\nDegrees. Height is that of the Sun's centre without refraction, azimuth runs\n"+
		"from north through east. P and V say where the discs touch (at maximum: where\n"+
		"the Moon's centre stands), seen from the Sun's centre, from celestial north and\n"+
		"from the zenith, anticlockwise.\n")
	if v.second.Exists {
		fmt.Fprintf(w, "Second and third contact are those of %s.\n", whose[p.limb])
	}
	fmt.Fprintln(w)
}

func (p *plan) depth(w io.Writer) {
	c := &p.local
	fmt.Fprintf(w, "At maximum: magnitude %.4f, %.2f %% of the Sun's area covered.\n", c.Magnitude, 100*c.Obscuration)
	if c.Seen != eclipse.None && c.MaxSeen.TT != c.Max.TT {
		fmt.Fprintf(w, "Deepest with the Sun up, at %s UTC: magnitude %.4f, %.2f %%.\n",
			c.MaxSeen.UTC.Round(time.Second).Format(time.TimeOnly), c.SeenMagnitude, 100*c.SeenObscuration)
	}
}

func (p *plan) doubts(w io.Writer) {
	c := &p.local
	fmt.Fprintf(w, "\nDelta T is %.2f s", c.DeltaT.Seconds)
	if c.DeltaT.SecondsU > 0 {
		fmt.Fprintf(w, ", give or take %.2f s", c.DeltaT.SecondsU)
	}
	fmt.Fprintf(w, " (%s).\n", c.DeltaT.Source)
	fmt.Fprint(w, "First and fourth contact and maximum are those of a smooth disc, as in the printed\nalmanacs: mountains move contacts by seconds. A kilometre on the map is up to two.\n")
	if p.utcHeld {
		fmt.Fprint(w, "No leap second is announced so far ahead: one more would take a second off UTC.\n")
	}
}

// cautions go with every answer that somebody may act on under the Sun.
const cautions = `
Before you go out
- Never look at the Sun without a filter that meets ISO 12312-2, except during
  totality and inside its path.
- These times are no signal to take a filter off or to put it back, not even those
  with the Moon's real edge: its heights, the Sun's size, your clock and your map make
  them wrong by seconds. Watch the Sun through the filter instead.
- Eclipse glasses are no protection behind binoculars, camera or telescope: no
  eye goes there.
- Loggers lie in the Sun for hours: keep lithium cells shaded and away from
  people's pockets, and take a cell that swells or smells out of use.
- Shade, water and a hat for everybody; nobody stands on a road to see better.
- Follow the local authorities, and local codes where anything is wired or put up.
`

// mind lists the cautions.
func mind() (list []string) {
	_, all, _ := strings.Cut(cautions, "\n- ")
	for _, c := range strings.Split(all, "\n- ") {
		list = append(list, strings.Join(strings.Fields(c), " "))
	}
	return list
}
