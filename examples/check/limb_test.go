package main

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/limb"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
	"example.org/noonfall/testdata/references"
)

// F. Espenak's contacts for an observer close to a limit in 2001, with the mean limb and
// with Watts' charts (testdata/references/limb_contacts.csv): the real edge meets the
// latter within 2.5 s, of which 2.0 are taken (package limb, Accuracy), and misses the
// former by ten; the smooth Moon the other way round. A duration counts two contacts: the
// root of two times as much. Delta T as in package limb's test
// of that row, whose table does not print it.
func TestLimbAgainstAPublishedRow(t *testing.T) {
	rows := references.Table(t, "limb_contacts.csv")
	require.Len(t, rows, 1)
	p := rows[0]
	var file strings.Builder
	file.WriteString(header)
	claim := func(id, quantity, value, tolerance string) {
		fmt.Fprintf(&file, "%s,%s,%s,%s,%s,64.2,UT,%s,%s,%s\n", id, p["eclipse"], p["lat_deg"], p["lon_east_deg"], p["elev_m"], quantity, value, tolerance)
	}
	seconds := map[string]float64{}
	for _, edge := range []string{"mean_limb", "limb_corrected"} {
		var at [2]time.Time
		for i, q := range []string{"c2", "c3"} {
			value := p["eclipse"] + "T" + p["ut_"+q+"_"+edge] + "Z"
			claim(edge, q, value, "2.5")
			var err error
			at[i], err = time.Parse(time.RFC3339Nano, value)
			require.NoError(t, err)
		}
		seconds[edge] = at[1].Sub(at[0]).Seconds()
		claim(edge, "duration_s", fmt.Sprintf("%.1f", seconds[edge]), "3.5")
	}
	require.Less(t, seconds["limb_corrected"], seconds["mean_limb"]-5)
	for flag, edge := range map[string]string{"mean": "mean_limb", "real": "limb_corrected"} {
		for _, r := range replies(t, file.String(), "-limb", flag) {
			want := "differs"
			if *r.ID == edge || r.Quantity == "c3" { // which the limb moves by less than a second
				want = "agrees"
			}
			if r.Verdict != want {
				t.Errorf("-limb %s, %s %s: %s (difference %v s), want %s", flag, *r.ID, r.Quantity, r.Verdict, *r.Difference, want)
			}
		}
	}
}

// -limb real moves c2, c3 and duration_s to what package limb says of the site, and
// nothing else; whose they are stands beside them.
func TestLimbMovesThreeQuantities(t *testing.T) {
	var file strings.Builder
	file.WriteString(strings.TrimSuffix(header, "\n") + ",limb\n")
	for _, site := range []string{"36,-5.6,10", "25.5,33,100"} {
		for name, q := range quantities {
			value := "1"
			if q.kind == anInstant {
				value = "2027-08-02T09:00:00Z"
			}
			fmt.Fprintf(&file, "%s,2027-08-02,%s,69,UT,%s,%s,,north\n", name, site, name, value)
		}
	}
	mean, real := replies(t, file.String()), replies(t, file.String(), "-limb", "real")
	require.Len(t, real, 2*len(quantities))
	require.Len(t, mean, len(real))
	moved := 0
	for i, r := range real {
		three := r.Quantity == "c2" || r.Quantity == "c3" || r.Quantity == "duration_s"
		if (r.Limb != nil) != three || mean[i].Limb != nil {
			t.Errorf("%s: limb is %s, and %s with -limb mean", r.Quantity, orNull(r.Limb), orNull(mean[i].Limb))
		}
		if same := r.Computed == mean[i].Computed; same == three {
			t.Errorf("%s: %v with the real edge, %v with the smooth one", r.Quantity, r.Computed, mean[i].Computed)
		}
		if three {
			moved++
		}
	}
	if moved != 6 {
		t.Errorf("%d answers moved, want 6", moved)
	}
	if lines := check(t, "-json", "-claims", written(t, file.String())); !strings.Contains(lines, `"claims_limb":"north"`) {
		t.Error("the column limb of the claims file is lost")
	}
}

// Claims in any order get the answers of their own site and eclipse.
func TestLimbInAnyOrder(t *testing.T) {
	catalogue, err := canon.Load()
	require.NoError(t, err)
	type place struct {
		day string
		sun.Site
	}
	places := []place{
		{"2027-08-02", sun.Site{Lat: 36, Lon: -5.6}}, {"2027-08-02", sun.Site{Lat: 35.5, Lon: -5.6}}, {"2026-08-12", sun.Site{Lat: 43.36, Lon: -8.41}},
		{"2028-01-26", sun.Site{Lat: 37.5, Lon: -5.6}}, {"2028-01-26", sun.Site{Lat: 36, Lon: -5.6}},
	}
	var want []float64
	for _, p := range places {
		day, err := time.Parse(time.DateOnly, p.day)
		require.NoError(t, err)
		e, err := catalogue.On(day)
		require.NoError(t, err)
		o, err := eclipse.NewObserver(e, p.Site, eclipse.Options{Scale: timescale.FixedDeltaT(70)})
		require.NoError(t, err)
		m, err := limb.NewMoon(o, limb.Options{})
		require.NoError(t, err)
		want = append(want, m.Contacts().LimbDuration)
	}
	rng := rand.New(rand.NewPCG(3, 4))
	var file strings.Builder
	var order []int
	file.WriteString(header)
	for range 200 {
		i := rng.IntN(len(places))
		order = append(order, i)
		q := []string{"duration_s", "magnitude", "duration_s"}[rng.IntN(3)]
		fmt.Fprintf(&file, "x,%s,%g,%g,0,70,,%s,1,\n", places[i].day, places[i].Lat, places[i].Lon, q)
	}
	checked := 0
	for n, r := range replies(t, file.String(), "-limb", "real") {
		if r.Quantity != "duration_s" {
			continue
		}
		checked++
		if got, ok := r.Computed.(float64); !ok || !(math.Abs(got-want[order[n]]) <= 1e-6) {
			t.Errorf("claim %d: %v, want %g s", n, r.Computed, want[order[n]])
		}
	}
	if checked < 50 {
		t.Errorf("%d durations, want 50 at least", checked)
	}
}

// Near the limits one of the two Moons has contacts where the other has none.
func TestLimbAtTheLimits(t *testing.T) {
	for _, tt := range []struct{ name, claim, mean, real, why string }{
		{"real only", "x,2027-08-02,36.77,-5.6,10,,,c2,2027-08-02T08:47:34Z,60", "no-such-event", "agrees", "is partial here and has no c2"},
		{"smooth only", "x,2017-08-21,37.5809,-180,0,,,duration_s,4,1", "agrees", "no-such-event", "is partial here and has no duration_s"},
		{"outside", "x,2027-08-02,-70,100,0,,,c2,2027-08-02T08:47:34Z,60", "no-such-event", "no-such-event", "shadow passes this site by"},
		{"unreadable", "x,2027-08-02,36,-5.6,0,,,c2,noon,60", "bad-claim", "bad-claim", ""},
	} {
		for flag, want := range map[string]string{"mean": tt.mean, "real": tt.real} {
			r := replies(t, header+tt.claim+"\n", "-limb", flag)[0]
			if r.Verdict != want {
				t.Errorf("%s, -limb %s: %s (%s), want %s", tt.name, flag, r.Verdict, orNull(r.Reason), want)
			}
			if want == "no-such-event" && (r.Computed != nil || !strings.Contains(orNull(r.Reason), tt.why)) {
				t.Errorf("%s, -limb %s: computed %v because %s, want null and %q", tt.name, flag, r.Computed, orNull(r.Reason), tt.why)
			}
		}
	}
}

func TestLimbIsSaid(t *testing.T) {
	var b strings.Builder
	if err := run(context.Background(), &b, []string{"-h"}); cli.Status(err) != 0 {
		t.Fatal(err)
	}
	for where, text := range map[string]string{"help": b.String(), "text": check(t, "-limb", "real")} {
		if !strings.Contains(text, "c2, c3 and duration_s") || !strings.Contains(text, "else") {
			t.Errorf("the %s does not say what -limb real moves:\n%s", where, text)
		}
	}
	if text := check(t, "-limb", "real"); !strings.Contains(text, "No checked time is a signal to take a solar filter off") {
		t.Errorf("the caution is missing:\n%s", text)
	}
	if text := check(t); !strings.Contains(text, "with a smooth Moon: mountains") {
		t.Errorf("without -limb the text does not say that the Moon is smooth")
	}
}
