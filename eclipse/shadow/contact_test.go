package shadow

import (
	"math"
	"testing"
	"time"

	"example.org/noonfall/sun"
	"example.org/noonfall/testdata/references"
)

// The tables of shadow contacts. The elements of 1998 are the bulletin's own; for
// the others the canon's stand in, whose instants differ by up to 0.5 s.
//
// Instants and the umbra's places are met. The bulletins give P1 to P4 where the
// line from the Earth's centre to the axis meets the outline; the outline is an
// ellipse, and the cone touches it up to 0.25 degrees from there, which costs
// nothing in time since the two run along each other.
func TestShadowContacts(t *testing.T) {
	worst := map[byte]float64{}
	n := 0
	for date, version := range map[string]string{
		"1998-02-26": "bulletin_rp1383", "2006-03-29": "canon5m", "2003-05-31": "canon5m", "2005-04-08": "canon5m",
	} {
		for _, r := range references.Table(t, "shadow_contacts.csv") {
			if r["eclipse"] != date {
				continue
			}
			g := cast(t, published(t, version, date), r.Number(t, "delta_t_s")).Global()
			name := r["event"]
			e := contactsByName(&g, date)[name]
			if !e.Exists {
				t.Errorf("%s: no %s (%s)", date, name, r["source"])
				continue
			}
			n++
			want, err := time.Parse("2006-01-02 15:04:05.9", date+" "+r["ut"])
			if err != nil {
				t.Fatal(err)
			}
			off := math.Abs(e.UT.Sub(want).Seconds())
			tol, away := 1.0, 1.0 // s, km
			switch {
			case name == "PS1" && date == "2005-04-08":
				tol = 1.3 // limit and horizon meet at a narrow angle there; with the canon's elements 1.1 s
			case name[0] == 'P' && len(name) == 2:
				away = 28
			case date == "1998-02-26" && name == "PS2":
				away = 5.2 // in longitude alone; time and latitude are met, so a misprint by the look of it
			}
			if !(off <= tol) {
				t.Errorf("%s %s: off by %.2f s, tolerance %.1f (%s)", date, name, off, tol, r["source"])
			}
			km := distance(e.Site, sun.Site{Lat: r.Number(t, "lat_deg"), Lon: r.Number(t, "true_lon_deg_east")})
			if !(km <= away) {
				t.Errorf("%s %s: off by %.2f km, tolerance %.1f (%s)", date, name, km, away, r["source"])
			}
			worst[name[0]] = math.Max(worst[name[0]], off)
		}
	}
	if n < 66 {
		t.Errorf("%d events, want 66", n)
	}
	t.Logf("%d events; worst second of P %.2f, of U %.2f, of the line's ends %.2f, of greatest %.2f", n, worst['P'], worst['U'], worst['C'], worst['G'])
}

func contactsByName(g *Global, date string) map[string]Event {
	all := map[string]Event{
		"P1": g.P1, "P2": g.P2, "P3": g.P3, "P4": g.P4, "U1": g.U1, "U2": g.U2, "U3": g.U3, "U4": g.U4,
		"PN1": g.PenumbraNorth.Begin, "PN2": g.PenumbraNorth.End, "PS1": g.PenumbraSouth.Begin, "PS2": g.PenumbraSouth.End,
		"UN1": g.North.Begin, "UN2": g.North.End, "US1": g.South.Begin, "US2": g.South.End,
		"C1": g.Line.Begin, "C2": g.Line.End,
		"G0": {Exists: true, UT: g.Greatest.UT, Site: g.Greatest.Site},
	}
	if date == "2003-05-31" { // the one limit that there is, to the right of the shadow's way
		all["PL1"], all["PL2"] = g.PenumbraSouth.Begin, g.PenumbraSouth.End
		all["UN1"], all["UN2"] = g.South.Begin, g.South.End
	}
	return all
}
