package station_test

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/sun"
)

// rehearsed reduces a made-up log of a site, 36.012345 north, whose owner says too much.
func rehearsed(t testing.TB, change func(*rehearsal.Plan, *station.Station)) *station.Report {
	t.Helper()
	c, err := canon.Load()
	require.NoError(t, err)
	e, err := c.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	site := sun.Site{Lat: 36.012345, Lon: -5.607891, Height: 13}
	p := rehearsal.Plan{Elements: e, Site: site, Cadence: 5 * time.Second, Offset: 23, Seed: 7}
	s := &station.Station{Version: station.Version, Code: "YARD-07", Site: station.Site{Lat: site.Lat, Lon: site.Lon, Height: site.Height}, Eclipse: "2027-08-02",
		ClockSet: station.SetByNetwork, Remarks: "Mrs Nobody's class, 12 Nowhere Lane", Files: []string{"nobody.csv"}}
	if change != nil {
		change(&p, s)
	}
	l, err := rehearsal.Make(context.Background(), p)
	require.NoError(t, err)
	var text bytes.Buffer
	_, err = l.WriteTo(&text)
	require.NoError(t, err)
	rep, err := station.Reduce(context.Background(), s, station.FilesIn(fstest.MapFS{"nobody.csv": {Data: text.Bytes()}}, "nobody.csv"), station.Options{})
	require.NoError(t, err)
	return rep
}

func TestSummary(t *testing.T) {
	rep := rehearsed(t, nil)
	s, err := rep.Summary(station.SummaryOptions{})
	require.NoError(t, err)
	text, err := json.Marshal(s)
	require.NoError(t, err)
	if len(text) > 8000 {
		t.Errorf("a summary of %d bytes", len(text))
	}
	for _, private := range []string{"Nobody", "Nowhere", "nobody.csv", "36.012", "5.607", "5.6079"} {
		if bytes.Contains(text, []byte(private)) {
			t.Errorf("the summary holds %q: %s", private, text)
		}
	}
	back, err := station.ParseSummary(text)
	require.NoError(t, err)
	again, err := json.Marshal(back)
	require.NoError(t, err)
	if !bytes.Equal(text, again) {
		t.Errorf("read back and written again: %s, before %s", again, text)
	}
	if s.Seen != "total" || s.Site != (station.Site{Lat: 36.01, Lon: -5.61}) || s.RoundedDeg != 0.01 || s.Clock == nil || !(math.Abs(s.Clock.OffsetS-23) < 3) {
		t.Errorf("%s", text)
	}
	if len(s.Light) < 40 || s.Light[len(s.Light)-1].Obscuration != 1 {
		t.Errorf("%d ranges of obscuration, %+v", len(s.Light), s.Light)
	}
	for i, b := range s.Light {
		if i > 0 && !(b.Obscuration > s.Light[i-1].Obscuration) {
			t.Errorf("the ranges do not ascend at %+v", b)
		}
		// The light goes nearly as the uncovered part of the disc does, the more limb-darkened
		// the deeper (testdata/references/eclipse_lightcurve_check.csv): never above it but by
		// weather, and half of it at the very limb.
		if free := 1 - b.Obscuration; b.Obscuration < 0.99 && !(b.Light > 0.4*free && b.Light < 1.25*free+0.01) {
			t.Errorf("obscuration %g: %g of the light", b.Obscuration, b.Light)
		}
	}
}

func TestSummaryOptions(t *testing.T) {
	rep := rehearsed(t, nil)
	for _, tt := range []struct {
		opt  station.SummaryOptions
		want station.Site
		deg  float64
	}{
		{station.SummaryOptions{Exact: true}, station.Site{Lat: 36.012345, Lon: -5.607891, Height: 13}, 0},
		{station.SummaryOptions{RoundDeg: 0.1}, station.Site{Lat: 36, Lon: -5.6}, 0.1},
	} {
		s, err := rep.Summary(tt.opt)
		require.NoError(t, err)
		if s.Site != tt.want || s.RoundedDeg != tt.deg {
			t.Errorf("%+v: %+v, rounded to %g", tt.opt, s.Site, s.RoundedDeg)
		}
	}
	for _, bad := range []float64{-1, 2, math.NaN()} {
		if _, err := rep.Summary(station.SummaryOptions{RoundDeg: bad}); err == nil {
			t.Errorf("rounding to %g degrees was taken", bad)
		}
	}
}

// A station whose clock is refused has a summary as well.
func TestSummaryOfARefusal(t *testing.T) {
	for name, change := range map[string]func(*rehearsal.Plan, *station.Station){
		"no eclipse":       func(_ *rehearsal.Plan, s *station.Station) { s.Eclipse = "2027-05-01" },
		"not visible here": func(_ *rehearsal.Plan, s *station.Station) { s.Site = station.Site{Lat: -40, Lon: 175} },
	} {
		s, err := rehearsed(t, change).Summary(station.SummaryOptions{})
		require.NoError(t, err)
		if s.Refusal == nil || s.Refusal.Reason != name || s.Clock != nil || s.Seen != "none" {
			t.Errorf("%s: %+v", name, s)
		}
		require.NoError(t, s.Validate())
	}
}

func TestParseSummaryRefuses(t *testing.T) {
	s, err := rehearsed(t, nil).Summary(station.SummaryOptions{})
	require.NoError(t, err)
	text, err := json.Marshal(s)
	require.NoError(t, err)
	for _, tt := range []struct{ from, to, want string }{
		{`"code"`, `"colour"`, "colour"},
		{`"version":1`, `"version":9`, "version is 9"},
		{`"lat_deg":36.01`, `"lat_deg":136.01`, "Lat"},
		{`"refusal":null`, `"refusal":{"reason":"x","detail":""}`, "either a clock or a refusal"},
		{`"u_s":`, `"u_s":-`, "u_s"},
		{`"eclipse":"2027-08-02"`, `"eclipse":"Monday"`, "Monday"},
		{`"clock_set":"network"`, `"clock_set":"wish"`, "wish"},
	} {
		bad := strings.Replace(string(text), tt.from, tt.to, 1)
		if _, err := station.ParseSummary([]byte(bad)); bad == string(text) || err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s for %s: %v, want a word of %q", tt.to, tt.from, err, tt.want)
		}
	}
}
