package station

import (
	"context"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/sun"
)

const plain = `{"version":1,"code":"YARD-07","site":{"lat_deg":36,"lon_deg":-5.6,"height_m":10},"eclipse":"2027-08-02","files":["a.csv"]}`

func TestParse(t *testing.T) {
	s, err := Parse([]byte(plain))
	require.NoError(t, err)
	if s.Code != "YARD-07" || s.Site.Sun() != (sun.Site{Lat: 36, Lon: -5.6, Height: 10}) {
		t.Errorf("%+v", s)
	}
	for _, tt := range []struct{ in, want string }{
		{strings.Replace(plain, `"code"`, `"colour"`, 1), "colour"},
		{strings.Replace(plain, `"version":1`, `"version":2`, 1), "version"},
		{strings.Replace(plain, `"lat_deg":36`, `"lat_deg":91`, 1), "site.lat_deg"},
		{strings.Replace(plain, `2027-08-02`, `2.8.2027`, 1), "2.8.2027"},
		{strings.Replace(plain, `"files"`, `"zone":"Mars/Olympus","files"`, 1), "Mars/Olympus"},
		{strings.Replace(plain, `"files"`, `"chain":{},"files"`, 1), "divider"},
		{"", "no JSON"},
	} {
		if _, err := Parse([]byte(tt.in)); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want a word of %q", tt.in, err, tt.want)
		}
	}
}

func TestParseZone(t *testing.T) {
	noon := time.Date(2027, 8, 2, 12, 0, 0, 0, time.UTC)
	for zone, want := range map[string]int{"": 0, "Z": 0, "+02:00": 7200, "-09:30": -34200, "Europe/Madrid": 7200} {
		loc, err := ParseZone(zone)
		require.NoError(t, err)
		if _, got := noon.In(loc).Zone(); got != want {
			t.Errorf("%q is %d s, want %d", zone, got, want)
		}
	}
	for _, bad := range []string{"Local", "+2", "+25:99", "nowhere"} {
		if _, err := ParseZone(bad); err == nil {
			t.Errorf("%q was taken", bad)
		}
	}
}

// A rehearsed log through the whole chain, torn and gzipped or not.
func TestReduce(t *testing.T) {
	c, err := canon.Load()
	require.NoError(t, err)
	e, err := c.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	log, err := rehearsal.Make(context.Background(), rehearsal.Plan{Elements: e, Site: sun.Site{Lat: 36, Lon: -5.6, Height: 10},
		Cadence: 5 * time.Second, Offset: -17, Seed: 3, Damage: rehearsal.Damage{TornLines: 2}})
	require.NoError(t, err)
	var b strings.Builder
	_, err = log.WriteTo(&b)
	require.NoError(t, err)
	files := fstest.MapFS{"a.csv": {Data: []byte(b.String())}, "empty.csv": {}}
	s, err := Parse([]byte(plain))
	require.NoError(t, err)
	rep, err := Reduce(context.Background(), s, FilesIn(files, "a.csv"), Options{})
	require.NoError(t, err)
	if rep.Refusal != nil || rep.Clock.CI95[0] > log.Truth.Offset || rep.Clock.CI95[1] < log.Truth.Offset {
		t.Errorf("refusal %v, clock %+v, truth %.2f s", rep.Refusal, rep.Clock, log.Truth.Offset)
	}
	if rep.Files[0].Bytes.Sum() != int64(b.Len()) || rep.Problems["torn line"] != 2 || rep.Records != log.Truth.Lines.Records {
		t.Errorf("%v of %d bytes, problems %v, %d records", rep.Files[0].Bytes, b.Len(), rep.Problems, rep.Records)
	}
	for name, tt := range map[string]struct {
		change func(*Station)
		file   string
		reason string
	}{
		"no eclipse":    {func(s *Station) { s.Eclipse = "2027-09-20" }, "a.csv", NoEclipse},
		"out of reach":  {func(s *Station) { s.Site = Site{Lat: -70, Lon: 100} }, "a.csv", NotVisible},
		"an empty file": {func(*Station) {}, "empty.csv", "no usable light"},
	} {
		other := *s
		tt.change(&other)
		rep, err := Reduce(context.Background(), &other, FilesIn(files, tt.file), Options{})
		require.NoError(t, err, name)
		if rep.Refusal == nil || rep.Refusal.Reason != tt.reason || len(rep.Files) != 1 {
			t.Errorf("%s: %v, want %q", name, rep.Refusal, tt.reason)
		}
	}
	if _, err := Reduce(context.Background(), s, FilesIn(files, "nowhere.csv"), Options{}); err == nil || !strings.Contains(err.Error(), "nowhere.csv") {
		t.Errorf("a missing file: %v", err)
	}
}
