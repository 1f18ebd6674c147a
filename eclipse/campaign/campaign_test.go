package campaign_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/eclipse/station"
)

// some are summaries of all sorts: with light, without a verdict, of another eclipse, of one name.
func some() []*station.Summary {
	r := rand.New(rand.NewPCG(5, 6))
	all := scattered(14, 36, -5.6, 2, 9, func(_ int, r *rand.Rand) (float64, float64) { return 20 * r.NormFloat64(), 0.1 + r.Float64() })
	for i, s := range all {
		for o := 0.05; o < 1; o += 0.1 {
			s.Light = append(s.Light, station.LightBin{Obscuration: o, Light: (1 - o) * math.Exp(0.1*r.NormFloat64()), N: 3})
		}
		switch {
		case i == 3:
			s.Eclipse = "2026-08-12"
		case i == 5:
			s.Clock, s.Refusal, s.Light = nil, &station.Refusal{Reason: "cloud throughout", Detail: "made up"}, []station.LightBin{}
		case i == 7:
			s.Code = all[6].Code
		case i > 9:
			s.Darkening = &station.Estimate{Value: 0.7 + 0.02*r.NormFloat64(), U: 0.02}
		}
	}
	return all
}

// The law that lets a batch engine do the first half of the work: however summaries are grouped, ordered
// and repeated, the same set gives the same bytes, and its result the same bits.
func TestMergeInAnyOrderAndGrouping(t *testing.T) {
	e := elements(t, 2027, 8, 2)
	all := some()
	var one campaign.Campaign
	for _, s := range all {
		require.NoError(t, one.Add(s))
	}
	want, err := json.Marshal(&one)
	require.NoError(t, err)
	result, err := one.Pool(e, eclipse.Options{})
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		order := rapid.Permutation(all).Draw(t, "order")
		groups := make([]campaign.Campaign, rapid.IntRange(1, 5).Draw(t, "groups"))
		for _, s := range order {
			for range rapid.IntRange(1, 2).Draw(t, "times") {
				if err := groups[rapid.IntRange(0, len(groups)-1).Draw(t, "group")].Add(s); err != nil {
					t.Fatal(err)
				}
			}
		}
		for len(groups) > 1 { // a tree of merges
			i := rapid.IntRange(0, len(groups)-2).Draw(t, "pair")
			groups[i].Merge(&groups[i+1])
			groups = append(groups[:i+1], groups[i+2:]...)
		}
		got, err := json.Marshal(&groups[0])
		if err != nil || !bytes.Equal(got, want) {
			t.Fatalf("other bytes: %v\n%s\n%s", err, got, want)
		}
		again, err := groups[0].Pool(e, eclipse.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if a, b := bits(again), bits(result); a != b {
			t.Fatalf("other bits:\n%s\n%s", a, b)
		}
	})
}

// bits writes out every number of a result, in full.
func bits(r *campaign.Result) string {
	var b strings.Builder
	put := func(x ...float64) {
		for _, v := range x {
			b.WriteByte(' ')
			b.WriteString(hex(v))
		}
	}
	for _, m := range r.Stations {
		b.WriteString("\n" + m.Name)
		put(m.Clock, m.Own, m.OwnU, m.Light)
	}
	for _, p := range r.Curve {
		put(p.Obscuration, p.Median, p.Low, p.High, float64(p.N))
	}
	for _, o := range r.Outliers {
		b.WriteString(o.Name + o.What)
		put(o.Value, o.Usual, o.Score)
	}
	put(r.Shared.Value, r.Shared.U, r.SharedSpread, r.Darkening.Value, r.Darkening.U)
	if s := r.Sweep; s != nil {
		put(s.Speed.Value, s.Speed.U, s.Heading.Value, s.Heading.U, s.Lat, s.Lon, s.Late.Value, s.Excess)
	}
	if m := r.Moon; m != nil {
		put(m.Km.Value, m.Km.U, m.Predicted)
	}
	return b.String() + strings.Join(r.Warnings, "\n")
}

func hex(x float64) string {
	text, err := json.Marshal(math.Float64bits(x))
	if err != nil {
		return err.Error()
	}
	return string(text)
}

func TestCampaignReadsWhatItWrote(t *testing.T) {
	var c, back campaign.Campaign
	for _, s := range some() {
		require.NoError(t, c.Add(s))
	}
	text, err := json.Marshal(&c)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &back))
	again, err := json.Marshal(&back)
	require.NoError(t, err)
	if !bytes.Equal(text, again) || back.Len() != c.Len() {
		t.Errorf("%d summaries, read back %d", c.Len(), back.Len())
	}
	for _, tt := range []struct{ from, to, want string }{
		{`"version":1`, `"version":4`, "version is 4"},
		{`"summaries"`, `"summary"`, "summary"},
		{`"lat_deg":`, `"latitude":`, "summaries[0]"},
	} {
		if err := new(campaign.Campaign).UnmarshalJSON([]byte(strings.Replace(string(text), tt.from, tt.to, 1))); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want a word of %q", tt.to, err, tt.want)
		}
	}
}

// Two of a name, one without a verdict, one of another day: kept apart, and named.
func TestKeptApart(t *testing.T) {
	e := elements(t, 2027, 8, 2)
	var c campaign.Campaign
	for _, s := range some() {
		require.NoError(t, c.Add(s))
	}
	r, err := c.Pool(e, eclipse.Options{})
	require.NoError(t, err)
	if len(r.Stations) != 13 || r.Apart["2026-08-12"] != 1 {
		t.Errorf("%d stations, apart %v", len(r.Stations), r.Apart)
	}
	names := map[string]int{}
	refused := 0
	for _, m := range r.Stations {
		names[m.Name]++
		if m.Summary.Refusal != nil {
			refused++
			if !math.IsNaN(m.Clock) || !math.IsNaN(m.Light) {
				t.Errorf("%s has no verdict and yet %g s, light %g", m.Name, m.Clock, m.Light)
			}
		}
	}
	if len(names) != 13 || names["MADE-UP-06"] != 1 || names["MADE-UP-06 (2)"] != 1 || refused != 1 {
		t.Errorf("names %v, %d refused", names, refused)
	}
	if len(r.Warnings) != 1 || !strings.Contains(r.Warnings[0], "MADE-UP-06") {
		t.Errorf("%q", r.Warnings)
	}
	if _, err := c.Pool(elements(t, 2024, 4, 8), eclipse.Options{}); !errors.Is(err, campaign.ErrNoStations) {
		t.Errorf("another eclipse: %v", err)
	}
}

// Summaries with any numbers pool without a panic, and what comes out is a number or not there.
func TestPoolOfAnything(t *testing.T) {
	e := elements(t, 2027, 8, 2)
	rapid.Check(t, func(t *rapid.T) {
		var c campaign.Campaign
		any := rapid.Float64Range(-1e9, 1e9)
		for i := range rapid.IntRange(1, 8).Draw(t, "stations") {
			s := madeUp(rapid.SampledFrom([]string{"", "A", "B"}).Draw(t, "code"), station.Site{
				Lat: rapid.Float64Range(-90, 90).Draw(t, "lat"), Lon: rapid.Float64Range(-180, 179.9).Draw(t, "lon")},
				any.Draw(t, "offset"), rapid.Float64Range(1e-6, 1e6).Draw(t, "u"))
			s.Records = i
			s.Clock.Exponent = station.Estimate{Value: any.Draw(t, "exponent"), U: math.Abs(any.Draw(t, "exponent u"))}
			s.Light = []station.LightBin{{Obscuration: 0.5, Light: math.Abs(any.Draw(t, "light")), N: 1}}
			if rapid.Bool().Draw(t, "contacts") {
				s.Contacts = []station.ContactSummary{{Name: "C2", LateS: any.Draw(t, "C2"), OwnU: 1}, {Name: "C3", LateS: any.Draw(t, "C3"), OwnU: 1}}
			}
			if err := c.Add(s); err != nil {
				t.Fatal(err)
			}
		}
		r, err := c.Pool(e, eclipse.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if s := r.Sweep; s != nil && !(s.Speed.Value > 0 && s.Speed.U > 0 && s.Heading.Value >= 0 && s.Heading.Value < 360) {
			t.Errorf("%+v", s)
		}
		if m := r.Moon; m != nil && !(m.Km.Value > 0 && m.Km.U > 0) {
			t.Errorf("%+v", m)
		}
	})
}
