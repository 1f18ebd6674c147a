package campaign_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/sun"
)

func elements(t testing.TB, year int, month time.Month, day int) *eclipse.Elements {
	t.Helper()
	c, err := canon.Load()
	require.NoError(t, err)
	e, err := c.On(time.Date(year, month, day, 0, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	return e
}

// madeUp is a summary without a log: a station whose clock is off by so much.
func madeUp(code string, site station.Site, offset, u float64) *station.Summary {
	return &station.Summary{
		Version: station.SummaryVersion, Code: code, Eclipse: "2027-08-02", Site: site, ClockSet: station.SetByNetwork, Calibrated: true, Seen: "total", Records: 100, CadenceS: 5,
		Clock: &station.ClockSummary{OffsetS: offset, OffsetU: u, CI95: [2]float64{offset - 2*u, offset + 2*u}, Exponent: station.Estimate{Value: 1, U: 0.01}, Law: "power"},
		Light: []station.LightBin{}, Contacts: []station.ContactSummary{},
	}
}

// scattered are n of them around a place, degrees either way.
func scattered(n int, lat, lon, wide float64, seed uint64, offset func(i int, r *rand.Rand) (value, u float64)) []*station.Summary {
	r := rand.New(rand.NewPCG(seed, 1))
	out := make([]*station.Summary, n)
	for i := range out {
		x, y := 2*r.Float64()-1, 2*r.Float64()-1
		value, u := offset(i, r)
		out[i] = madeUp(fmt.Sprintf("MADE-UP-%02d", i), station.Site{Lat: lat + wide*y, Lon: math.Remainder(lon+wide*x/math.Cos(lat*math.Pi/180), 360)}, value, u)
	}
	return out
}

func pool(t testing.TB, e *eclipse.Elements, all []*station.Summary) *campaign.Result {
	t.Helper()
	var c campaign.Campaign
	for _, s := range all {
		s.Eclipse = e.Date
		require.NoError(t, c.Add(s))
	}
	r, err := c.Pool(e, eclipse.Options{})
	require.NoError(t, err)
	return r
}

func observer(t testing.TB, e *eclipse.Elements, s station.Site) *eclipse.Observer {
	t.Helper()
	o, err := eclipse.NewObserver(e, sun.Site{Lat: s.Lat, Lon: s.Lon, Height: s.Height}, eclipse.Options{})
	require.NoError(t, err)
	return o
}
