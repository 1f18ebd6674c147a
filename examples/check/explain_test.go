package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// places are where claims are made up for, partial and total on 2 August 2027.
var places = []sun.Site{{Lat: 36, Lon: -5.6}, {Lat: 40.4, Lon: -3.7}, {Lat: 25.7, Lon: 32.6}, {Lat: 31.2, Lon: 29.9}, {Lat: 45.4, Lon: 9.2}}

// A mistake makes claims that are wrong, or otherwise made, in one way.
type mistake struct {
	name    string
	options eclipse.Options
	radii   [2]float64
	write   func(s sun.Site, quantity string, at time.Time, v float64) (sun.Site, string, string) // site, quantity and value as claimed
	want    string                                                                                // what must be named first
}

func asTheyAre(s sun.Site, quantity string, at time.Time, v float64) (sun.Site, string, string) {
	if at.IsZero() {
		return s, quantity, fmt.Sprintf("%.4f", v)
	}
	return s, quantity, at.Round(100 * time.Millisecond).Format("2006-01-02T15:04:05.0Z")
}

// sheet makes the claims' file.
func (m mistake) sheet(t *testing.T) string {
	t.Helper()
	all, err := canon.Load()
	require.NoError(t, err)
	e, err := all.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	if m.radii[0] != 0 {
		e = e.WithRadii(m.radii[0], m.radii[1])
	}
	var b strings.Builder
	b.WriteString("id,date,lat_deg,lon_deg,scale,quantity,value\n")
	for i, s := range places {
		o, err := eclipse.NewObserver(e, s, m.options)
		require.NoError(t, err)
		c := o.Circumstances()
		for _, q := range []struct {
			name string
			at   time.Time
			v    float64
		}{{"c1", c.C1.UTC, 0}, {"max", c.Max.UTC, 0}, {"c4", c.C4.UTC, 0}, {"magnitude", time.Time{}, c.Magnitude}, {"obscuration", time.Time{}, c.Obscuration}} {
			if m.options != (eclipse.Options{}) && !q.at.IsZero() {
				q.at = map[string]time.Time{"c1": c.C1.UT, "max": c.Max.UT, "c4": c.C4.UT}[q.name]
			}
			site, name, value := m.write(s, q.name, q.at, q.v)
			scale := "UTC"
			if m.options != (eclipse.Options{}) {
				scale = "UT"
			}
			fmt.Fprintf(&b, "%d,2027-08-02,%g,%g,%s,%s,%s\n", i, site.Lat, site.Lon, scale, name, value)
		}
	}
	return b.String()
}

func answered(t *testing.T, sheet string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "claims.csv")
	require.NoError(t, os.WriteFile(name, []byte(sheet), 0o600))
	var out bytes.Buffer
	require.NoError(t, run(context.Background(), &out, []string{"-claims", name}))
	return out.String()
}

// Claims made with each of the mistakes: it is named, and named first.
func TestMistakesAreNamed(t *testing.T) {
	for _, m := range []mistake{
		{name: "west positive", want: "the longitude has the other sign", write: func(s sun.Site, q string, at time.Time, v float64) (sun.Site, string, string) {
			s, q, value := asTheyAre(s, q, at, v)
			s.Lon = -s.Lon
			return s, q, value
		}},
		{name: "south positive", want: "the latitude has the other sign", write: func(s sun.Site, q string, at time.Time, v float64) (sun.Site, string, string) {
			s, q, value := asTheyAre(s, q, at, v)
			s.Lat = -s.Lat
			return s, q, value
		}},
		{name: "exchanged", want: "latitude and longitude are exchanged", write: func(s sun.Site, q string, at time.Time, v float64) (sun.Site, string, string) {
			s, q, value := asTheyAre(s, q, at, v)
			s.Lat, s.Lon = s.Lon, s.Lat
			return s, q, value
		}},
		{name: "local time", want: "instants are local time, +2 h from UTC", write: func(s sun.Site, q string, at time.Time, v float64) (sun.Site, string, string) {
			if !at.IsZero() {
				at = at.Add(2 * time.Hour)
			}
			return asTheyAre(s, q, at, v)
		}},
		{name: "a word for another", want: "magnitude stands for obscuration", write: func(s sun.Site, q string, at time.Time, v float64) (sun.Site, string, string) {
			s, q, value := asTheyAre(s, q, at, v)
			if q == "magnitude" {
				q = "obscuration"
			} else if q == "obscuration" {
				q = "magnitude"
			}
			return s, q, value
		}},
		{name: "another Delta T", want: "Delta T is larger by +8", options: eclipse.Options{Scale: timescale.FixedDeltaT(77.6)}, write: asTheyAre},
		{name: "one lunar radius", want: "the Moon has a radius of 0.2725076", radii: [2]float64{0.2725076, 0.2725076}, write: asTheyAre},
	} {
		text := answered(t, m.sheet(t))
		_, after, found := strings.Cut(text, "What would explain")
		if !found {
			t.Errorf("%s: nothing is explained:\n%s", m.name, text)
			continue
		}
		_, first, _ := strings.Cut(after, "  If ")
		if !strings.HasPrefix(first, m.want) {
			t.Errorf("%s: want first %q, have\n%s", m.name, m.want, after)
		}
	}
}

// Right claims need no explanation, and wrong ones of no kind get none.
func TestNothingIsMadeUp(t *testing.T) {
	right := mistake{write: asTheyAre}.sheet(t)
	if text := answered(t, right); strings.Contains(text, "What would explain") {
		t.Errorf("right claims are explained:\n%s", text)
	}
	i := 0
	wrong := mistake{write: func(s sun.Site, q string, at time.Time, v float64) (sun.Site, string, string) {
		i++
		if !at.IsZero() {
			at = at.Add(time.Duration(i*i%97-48) * 7 * time.Second)
		}
		return asTheyAre(s, q, at, v+0.01*float64(i%7-3))
	}}.sheet(t)
	if text := answered(t, wrong); !strings.Contains(text, "None of the usual mistakes") {
		t.Errorf("scattered claims are explained:\n%s", text)
	}
}
