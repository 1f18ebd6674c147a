package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const header = "id,date,lat_deg,lon_deg,height_m,delta_t_s,scale,quantity,value,tolerance\n"

// Oslo in 1999 by NASA RP 1398, table 21: partial, first contact 9:24:38.1 UT.
const osloC1 = "oslo,1999-08-11,59.91667,10.75,94,64.6,UT,c1,1999-08-11T09:24:38.1Z,0.5\n"

// Every unreadable claim is answered, with the field in its reason, and what
// stands around it is not disturbed.
func TestBadClaims(t *testing.T) {
	for _, tt := range []struct{ claim, reason string }{
		{"b,1999-08-11,91,10,0,,,c1,1999-08-11T09:24:38Z,", "Site.Lat"},
		{"b,1999-08-11,NaN,10,0,,,c1,1999-08-11T09:24:38Z,", "lat_deg"},
		{"b,1999-08-11,,10,0,,,c1,1999-08-11T09:24:38Z,", "lat_deg"},
		{"b,1999-08-11,60,361,0,,,c1,1999-08-11T09:24:38Z,", "Site.Lon"},
		{"b,1999-08-11,60,0x1p3,0,,,c1,1999-08-11T09:24:38Z,", "lon_deg"},
		{"b,1999-08-11,60,10,9001,,,c1,1999-08-11T09:24:38Z,", "Site.Height"},
		{"b,1999-08-11,60,10,sea,,,c1,1999-08-11T09:24:38Z,", "height_m"},
		{"b,11.08.1999,60,10,0,,,c1,1999-08-11T09:24:38Z,", "date"},
		{"b,1999-02-30,60,10,0,,,c1,1999-08-11T09:24:38Z,", "date"},
		{"b,,60,10,0,,,c1,1999-08-11T09:24:38Z,", "date"},
		{"b,1999-08-11,60,10,0,inf,,c1,1999-08-11T09:24:38Z,", "delta_t_s"},
		{"b,1999-08-11,60,10,0,1e9,,c1,1999-08-11T09:24:38Z,", "delta_t_s"},
		{"b,1999-08-11,60,10,0,,TT,c1,1999-08-11T09:24:38Z,", "scale"},
		{"b,1999-08-11,60,10,0,,,c5,1999-08-11T09:24:38Z,", "quantity"},
		{"b,1999-08-11,60,10,0,,,p_deg,200,", "quantity"},
		{"b,1999-08-11,60,10,0,,,magnitude@max,0.7,", "quantity"},
		{"b,1999-08-11,60,10,0,,,,0.7,", "quantity"},
		{"b,1999-08-11,60,10,0,,,c1,yesterday,", "value"},
		{"b,1999-08-11,60,10,0,,,c1,,", "value"},
		{"b,1999-08-11,60,10,0,,,c1,09:24:38,", "value"},
		{"b,1999-08-11,60,10,0,,,c1,1999-08-11T09:24:38,", "no zone"},
		{"b,1999-08-11,60,10,0,,,c1,1999-08-11T25:24:38Z,", "value"},
		{"b,1999-08-11,60,10,0,,,magnitude,70 %,", "value"},
		{"b,1999-08-11,60,10,0,,,magnitude,nan,", "value"},
		{"b,1999-08-11,60,10,0,,,magnitude,1e999,", "value"},
		{`b,1999-08-11,60,10,0,,,magnitude,"0,7",`, "value"},
		{"b,1999-08-11,60,10,0,,,magnitude,0.7,-1", "tolerance"},
		{"b,1999-08-11,60,10,0,,,magnitude,0.7,inf", "tolerance"},
		{"b,1706-05-12,45,5,0,,,c2,1706-05-12T09:00:00Z,", "give elements"},
		{"b,1999-08-11,60,10,0,,,magnitude,0.7", "9 cells"},
		{"b,1999-08-11,60,10,0,,,magnitude,0,7,", "11 cells"},
		{`b,1999-08-11,60,10,0,,,magnitude,0"7,`, "byte"},
		{`b,"1999-08-11,60,10,0,,,magnitude,0.7,`, "byte"}, // a quote too many swallows no neighbour
		{"b,99-\x00\xff," + strings.Repeat("x", longest), "longer"},
	} {
		for i, r := range replies(t, header+osloC1+tt.claim+"\n"+osloC1) {
			switch {
			case i != 1 && r.Verdict != "agrees":
				t.Errorf("%q: the neighbour's verdict is %s", tt.claim, r.Verdict)
			case i == 1 && (r.Verdict != "bad-claim" || r.Reason == nil || !strings.Contains(*r.Reason, tt.reason)):
				t.Errorf("%q: %s %v, want bad-claim and %q", tt.claim, r.Verdict, orNull(r.Reason), tt.reason)
			case i == 1 && (r.Difference != nil || r.Computed != nil || orNull(r.ID) != "b"):
				t.Errorf("%q: %+v, want the id and no difference", tt.claim, r)
			case i > 2:
				t.Errorf("%q: an answer too many", tt.claim)
			}
		}
	}
}

func orNull(s *string) string {
	if s == nil {
		return "null"
	}
	return *s
}

// Nature's no is no fault of the claim.
func TestNoSuchEvent(t *testing.T) {
	for _, claim := range []string{
		"n,1999-08-11,59.91667,10.75,94,,,c2,1999-08-11T10:35:00Z,",
		"n,1999-08-11,59.91667,10.75,94,,,duration_s,0,",
		"n,1999-08-11,59.91667,10.75,94,,,v_deg@c3,0,",
		"n,1999-08-11,-70,100,0,,,c1,1999-08-11T10:35:00Z,",
		"n,1999-08-11,-70,100,0,,,magnitude,0,",
		"n,1999-08-30,59.91667,10.75,94,,,c1,1999-08-30T09:00:00Z,",
		"n,2100-12-31,59.91667,10.75,94,,,c1,2100-12-31T09:00:00Z,",
	} {
		r := replies(t, header+claim)
		require.Len(t, r, 1)
		if r[0].Verdict != "no-such-event" || r[0].Difference != nil || r[0].Computed != nil || r[0].Claimed == nil || r[0].Reason == nil {
			t.Errorf("%s: %+v", claim, r[0])
		}
	}
}

// The tolerance of a claim that states none is half its last digit.
func TestHalfTheLastDigit(t *testing.T) {
	for s, want := range map[string]float64{
		"0.98": 0.005, "0.980": 0.0005, "1": 0.5, "120": 0.5, "-5.6": 0.05, "+.5": 0.05, "7.": 0.5,
		"1e-3": 0.0005, "1.20e2": 0.5, "1E+1": 5, "0": 0.5,
	} {
		if _, half, err := number(s); err != nil || !(math.Abs(half-want) <= 1e-15*want) {
			t.Errorf("%s: %g (%v), want %g", s, half, err, want)
		}
	}
	for s, want := range map[string]float64{
		"2027-08-02T08:41:16Z": 0.5, "2027-08-02T08:41:16.3Z": 0.05, "2027-08-02T10:41:16.300+02:00": 0.0005,
		"2027-08-02 08:41:16,25z": 0.005, "2027-08-02t08:41Z": 30, "2027-08-02T05:11:16.5-03:30": 0.05,
	} {
		at, half, err := instant(s)
		if err != nil || !(math.Abs(half-want) <= 1e-12) {
			t.Errorf("%s: %g (%v), want %g", s, half, err, want)
		}
		if got := at.Format("2006-01-02 15:04"); got != "2027-08-02 08:41" {
			t.Errorf("%s: read as %s", s, got)
		}
	}
	for _, s := range []string{"", "-", "1.2.3", "--1", "e5", "1e", "1e5.5", ".", "1_000", "0x10", "inf", "NaN", "1e999", "５"} {
		if _, _, err := number(s); err == nil {
			t.Errorf("number(%q) is read", s)
		}
	}
	for _, s := range []string{"", "Z", "2027-08-02", "2027-08-02T8:41:16Z", "2027-08-02X08:41:16Z", "2027-13-02T08:41:16Z", "2027-08-02T08:41:60Z"} {
		if _, _, err := instant(s); err == nil {
			t.Errorf("instant(%q) is read", s)
		}
	}
}

// A claim that is off by its tolerance agrees, in whatever digits it is given;
// a little more differs.
func TestAtTheTolerance(t *testing.T) {
	probe := replies(t, header+
		"s,1999-08-11,60,10,0,,,c1,1999-08-11T09:00:00Z,\n"+
		"1,1999-08-11,60,10,0,,,magnitude,0.7,\n"+
		"deg,1999-08-11,60,10,0,,,az_deg@c1,100,\n")
	for _, r := range probe {
		c := claim{quantity: quantities[r.Quantity], tolerance: math.Abs(*r.Difference)}
		d := *r.Difference
		for off, want := range map[float64]verdict{0: agrees, 1e-15: agrees, 2e-6: differs} {
			if got := compare(&c, d+math.Copysign(off, d)); got != want {
				t.Errorf("%s: %g beyond the tolerance: %v, want %v", r.Quantity, off, got, want)
			}
		}
		if compare(&c, math.NaN()) != differs {
			t.Errorf("%s: a difference that is no number agrees", r.Quantity)
		}
	}
	// the same through the front door: the instant is printed to a millisecond
	c := probe[0]
	for tolerance, want := range map[string]string{"0": "differs", "0.0006": "agrees"} {
		r := replies(t, header+fmt.Sprintf("s,1999-08-11,60,10,0,,,c1,%s,%s\n", c.Computed, tolerance))
		if r[0].Verdict != want {
			t.Errorf("what was computed, claimed with tolerance %s: %s, difference %g", tolerance, r[0].Verdict, *r[0].Difference)
		}
	}
}

// Angles a whole turn apart are the same; what is left lies within half a turn.
func TestAnglesAreWrapped(t *testing.T) {
	base := "p,1999-08-11,59.91667,10.75,94,64.6,,p_deg@c1,%d,1\n" // 267 by the bulletin
	rows := header
	for _, v := range []int{267, -93, 627, 87, 86, 89} {
		rows += fmt.Sprintf(base, v)
	}
	for i, r := range replies(t, rows) {
		want := "agrees"
		if i > 2 {
			want = "differs"
		}
		if r.Verdict != want || !(math.Abs(*r.Difference) <= 180) {
			t.Errorf("claimed %v: %s by %g", r.Claimed, r.Verdict, *r.Difference)
		}
	}
}

// UT and UTC differ by UT1-UTC: with the bulletin's Delta T of 64.6 s and TAI-UTC
// of 32 s in 1999 (IERS Bulletin C) UTC is 64.6 - 32 - 32.184 = 0.416 s later.
func TestScales(t *testing.T) {
	utc := strings.Replace(osloC1, ",UT,", ",,", 1)
	r := replies(t, header+osloC1+utc)
	if d := *r[0].Difference - *r[1].Difference; !(math.Abs(d-0.416) <= 1e-5) {
		t.Errorf("UT and UTC are %g s apart, want 0.416", d)
	}
	if *r[0].Scale != "UT" || *r[1].Scale != "UTC" {
		t.Errorf("scales %s and %s", *r[0].Scale, *r[1].Scale)
	}
}

// -deltat stands in for an empty delta_t_s and for no other; -site and -date too.
func TestFlagsStandIn(t *testing.T) {
	given := replies(t, header+osloC1)
	lent := replies(t, header+strings.Replace(osloC1, ",64.6,", ",,", 1), "-deltat", "64.6")
	if *lent[0].Difference != *given[0].Difference {
		t.Errorf("-deltat 64.6: difference %g, with the column %g", *lent[0].Difference, *given[0].Difference)
	}
	kept := replies(t, header+osloC1, "-deltat", "0", "-site", "0,0", "-date", "2027-08-02")
	if *kept[0].Difference != *given[0].Difference {
		t.Errorf("flags override what a claim states: difference %g, want %g", *kept[0].Difference, *given[0].Difference)
	}
	bare := replies(t, "quantity,value,scale,delta_t_s\nc1,1999-08-11T09:24:38.1Z,UT,64.6\n", "-site", "59.91667,10.75,94", "-date", "1999-08-10")
	if *bare[0].Difference != *given[0].Difference || bare[0].ID != nil {
		t.Errorf("-site and -date: %+v, want the difference %g and no id", bare[0], *given[0].Difference)
	}
}

func TestElementsOfAClaim(t *testing.T) {
	folder := t.TempDir()
	write := func(name, content string) {
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(folder, name)), 0o777))
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), []byte(content), 0o666))
	}
	write("sub/rp1398.json", string(rp1398(t)))
	write("broken.json", "{")
	write("huge.json", strings.Repeat(" ", smallFile+1))
	row := func(day, k1, file string) string {
		return fmt.Sprintf("%s,59.91667,10.75,94,64.6,UT,c1,1999-08-11T09:24:38.1Z,0.1,%s,%s\n", day, k1, file)
	}
	write("claims.csv", "date,lat_deg,lon_deg,height_m,delta_t_s,scale,quantity,value,tolerance,k1,elements\n"+
		row("1999-08-11", "", "sub/rp1398.json")+
		row("1999-08-12", "", filepath.Join(folder, "sub/rp1398.json"))+
		row("1999-08-11", "0.2735", "sub/rp1398.json")+ // 6 km: a dozen seconds
		row("1999-08-13", "", "sub/rp1398.json")+
		row("1999-08-09", "", "sub/rp1398.json")+
		row("1999-08-11", "", "absent.json")+
		row("1999-08-11", "", "broken.json")+
		row("1999-08-11", "", "huge.json")+
		row("1999-08-11", "", "sub")+
		row("1999-08-11", "0", "sub/rp1398.json")+
		row("1999-08-11", "3", "sub/rp1398.json"))
	got := parsed(t, check(t, "-json", "-claims", filepath.Join(folder, "claims.csv")))
	require.Len(t, got, 11)
	for i, want := range []struct{ verdict, reason string }{
		{"agrees", ""}, {"agrees", ""}, {"differs", ""}, {"bad-claim", "of 1999-08-11, not of 1999-08-13"}, {"bad-claim", "not of 1999-08-09"},
		{"bad-claim", "absent.json"},
		{"bad-claim", "broken.json"}, {"bad-claim", "huge.json"}, {"bad-claim", "sub"}, {"bad-claim", "k1"}, {"bad-claim", "k1"},
	} {
		if got[i].Verdict != want.verdict || (want.reason != "") != (got[i].Reason != nil) || !strings.Contains(orNull(got[i].Reason)+"null", want.reason) {
			t.Errorf("row %d: %s %s, want %s %s", i+1, got[i].Verdict, orNull(got[i].Reason), want.verdict, want.reason)
		}
	}
	if !(*got[2].Difference > 5 && *got[2].Difference < 20) {
		t.Errorf("a larger Moon begins %g s earlier, want about a dozen", *got[2].Difference)
	}
}
