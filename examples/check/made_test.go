package main

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// places are where claims are made for: 11 August 1999 was total at the first five.
var places = []sun.Site{{Lat: 48.78, Lon: 9.18}, {Lat: 48.14, Lon: 11.58}, {Lat: 44.43, Lon: 26.1}, {Lat: 24.9, Lon: 66.9}, {Lat: 49.25, Lon: 4.03},
	{Lat: 51.5, Lon: -0.1}, {Lat: 40.4, Lon: -3.7}, {Lat: 41, Lon: 29}, {Lat: 59.9, Lon: 10.7}}

// A printed is a row of a table as somebody prints it.
type printed struct {
	place    int
	day      string
	site     sun.Site
	scale    string
	deltaT   string
	quantity string
	at       time.Time // or, of the zero time,
	v        float64
	elements string
	k        string // "k1,k2" stated, or ","
}

// A maker makes a right table, to be spoilt afterwards.
type maker struct {
	day    string
	deltaT float64 // TT-UT1 that it is made with and says so, s; zero for the library's
	said   float64 // that it says instead
	k1, k2 float64 // zero for the catalogue's
	ut     bool
	own    *eclipse.Elements // instead of the catalogue's
	named  string            // their file
}

func (m maker) elements(t testing.TB) *eclipse.Elements {
	t.Helper()
	e := m.own
	if e == nil {
		all, err := canon.Load()
		require.NoError(t, err)
		day, err := time.Parse(time.DateOnly, m.day)
		require.NoError(t, err)
		e, err = all.On(day)
		require.NoError(t, err)
	}
	if m.k1 != 0 {
		e = e.WithRadii(m.k1, m.k2)
	}
	return e
}

// rows are right claims: what is printed is what this library computes.
func (m maker) rows(t testing.TB) (rows []printed) {
	t.Helper()
	var options eclipse.Options
	deltaT, scale := "", "UTC"
	if m.deltaT != 0 {
		options.Scale, deltaT = timescale.FixedDeltaT(m.deltaT), fmt.Sprint(m.deltaT)
	}
	if m.said != 0 {
		deltaT = fmt.Sprint(m.said)
	}
	if m.ut {
		scale = "UT"
	}
	e := m.elements(t)
	for i, s := range places {
		o, err := eclipse.NewObserver(e, s, options)
		require.NoError(t, err)
		c := o.Circumstances()
		for _, name := range []string{"c1", "c2", "max", "c3", "c4", "magnitude", "obscuration", "diameter_ratio", "duration_s", "alt_deg@max", "az_deg@c1", "p_deg@c1"} {
			f, ok := quantities[name].of(&c, m.ut)
			if !ok {
				continue
			}
			rows = append(rows, printed{i, m.day, s, scale, deltaT, name, f.at, f.v, m.named, ","})
		}
	}
	return rows
}

// spoilt puts a mistake into every row that it is given.
func spoilt(rows []printed, mistake func(p *printed)) []printed {
	for i := range rows {
		mistake(&rows[i])
	}
	return rows
}

// unit is the last digit printed, by the quantity's unit, and the tolerance claimed: the
// noise, uniform over one unit before it is rounded, stays within it.
var unit = map[string]float64{"s": 0.1, "deg": 0.1, "1": 0.001}

// file prints the rows with noise at the last digit.
func file(rows []printed) string { return seeded(rows, 2) }

func seeded(rows []printed, seed uint64) string {
	rng := rand.New(rand.NewPCG(8, seed))
	var b strings.Builder
	b.WriteString("id,date,lat_deg,lon_deg,scale,delta_t_s,quantity,value,tolerance,elements,k1,k2\n")
	for i, p := range rows {
		last := unit[quantities[p.quantity].unit]
		noise := (rng.Float64() - 0.5) * last
		value := fmt.Sprintf("%.*f", map[float64]int{0.1: 1, 0.001: 3}[last], p.v+noise)
		if quantities[p.quantity].kind == anInstant {
			value = p.at.Add(time.Duration(noise * 1e9)).Round(100 * time.Millisecond).Format("2006-01-02T15:04:05.0Z")
		}
		fmt.Fprintf(&b, "row-%d,%s,%g,%g,%s,%s,%s,%s,%g,%s,%s\n", i, p.day, p.site.Lat, p.site.Lon, p.scale, p.deltaT, p.quantity, value, last, p.elements, p.k)
	}
	return b.String()
}
