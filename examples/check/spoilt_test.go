package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/testdata/references"
)

// A printed bulletin's table, spoilt in one column: what was done is named, and alone. As it
// stands it needs nothing.
func TestPublishedBulletinSpoilt(t *testing.T) {
	elements := string(rp1398(t))
	right := bulletin(t, func(map[string]*string) {})
	if got, text := named(t, right, "rp1398.json", elements); len(got) != 0 || strings.Contains(text, "What would explain") {
		t.Errorf("the bulletin as it is: %q\n%s", got, text)
	}
	for _, spoil := range []struct {
		name, want string
		column     string
		put        func(string) string
	}{
		{"called UTC", "instants called UTC are UT (TT - Delta T)", "scale", func(string) string { return "UTC" }},
		{"another Delta T", "Delta T is larger by 3.4 s", "delta_t_s", func(string) string { return "61.2" }},
		{"west positive", "the longitude has the other sign", "lon_deg", func(s string) string { return "-" + s }},
		{"two hours east", "instants are local time, +2 h from UTC", "value", func(s string) string {
			at, err := time.Parse(time.RFC3339, s)
			if err != nil {
				return s
			}
			return at.Add(2 * time.Hour).Format("2006-01-02T15:04:05.0Z")
		}},
		{"half an hour west", "instants are local time, -0.5 h from UTC", "value", func(s string) string {
			at, err := time.Parse(time.RFC3339, s)
			if err != nil {
				return s
			}
			return at.Add(-30 * time.Minute).Format("2006-01-02T15:04:05.0Z")
		}},
		{"other radii", "k1 and k2 are not what the claims were made with", "k1", func(string) string { return "0.2722" }},
	} {
		spoilt := bulletin(t, func(row map[string]*string) { *row[spoil.column] = spoil.put(*row[spoil.column]) })
		got, text := named(t, spoilt, "rp1398.json", elements)
		if len(got) != 1 || !strings.HasPrefix(got[0], spoil.want) {
			t.Errorf("%s: named %q, want %q\n%s", spoil.name, got, spoil.want, text)
		}
	}
}

// bulletin is the demo's table without what is invented, with every row put through spoil.
func bulletin(t *testing.T, spoil func(row map[string]*string)) string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(demoFile(t))).ReadAll()
	require.NoError(t, err)
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	require.NoError(t, w.Write(rows[0]))
	for _, row := range rows[1:] {
		if strings.HasPrefix(row[0], "invented") {
			continue
		}
		by := map[string]*string{}
		for i, name := range rows[0] {
			by[name] = &row[i]
		}
		spoil(by)
		require.NoError(t, w.Write(row))
	}
	w.Flush()
	return b.String()
}

// An almanac that prints the covered part of the diameter inside the path, and instants of
// its own kind (published_test.go): what the library can tell of it is named, and no Delta T
// that would hold for one contact alone.
func TestPublishedAlmanac(t *testing.T) {
	var b strings.Builder
	b.WriteString("id,date,lat_deg,lon_deg,height_m,delta_t_s,scale,quantity,value\n")
	for _, p := range references.Table(t, "local_circumstances.csv") {
		if p["source"] != "USNO_AA_API" {
			continue
		}
		for _, c := range append(instants(p, map[string]string{"c1": "x", "c4": "x", "max": "x"}), tabled{quantity: "magnitude", value: p["magnitude"]}) {
			fmt.Fprintf(&b, "%s,%s,%s,%s,%s,%s,UT,%s,%s\n", p["place"], p["eclipse"], p["lat_deg"], p["lon_deg_east"], p["elev_m"], p["delta_t_s"], c.quantity, c.value)
		}
	}
	got, text := named(t, b.String())
	if len(got) == 0 || !strings.HasPrefix(got[0], "magnitude inside the path is the covered part") || strings.Contains(text, "quantities (c") {
		t.Errorf("named %q:\n%s", got, text)
	}
}
