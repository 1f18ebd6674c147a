package campaign_test

import (
	"context"
	"fmt"
	"os"
	"runtime"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/campaign"
)

// BenchmarkThousand reduces a thousand stations of one day at one a second, on two workers, and pools
// them. Sixteen logs serve, each at places up to a kilometre apart. It reports
// ms/station, and the most that the heap held, sampled at every station.
func BenchmarkThousand(b *testing.B) {
	campaignOf(b, 1000, time.Second, 10*time.Hour+40*time.Minute)
}

// campaignOf reduces so many stations and pools them; sixteen of them under -short, which
// has nothing to measure.
func campaignOf(b *testing.B, stations int, cadence, margin time.Duration) {
	const logs = 16
	if testing.Short() {
		stations = logs
	}
	e := elements(b, 2027, 8, 2)
	made := make([]campaign.Job, logs)
	for i := range made {
		made[i] = rehearsed(b, e, i, cadence, margin)
	}
	jobs := func(yield func(campaign.Job) bool) {
		for i := range stations {
			j := made[i%logs]
			s := *j.Station
			s.Code = fmt.Sprintf("MADE-UP-%05d", i)
			s.Site.Lat += 0.01 * (float64(i*37%101)/101 - 0.5)
			s.Site.Lon += 0.01 * (float64(i*61%103)/103 - 0.5)
			j.Station = &s
			if !yield(j) {
				return
			}
		}
	}
	var most uint64
	for b.Loop() {
		var c campaign.Campaign
		var m runtime.MemStats
		for o := range campaign.Reduce(context.Background(), jobs, campaign.ReduceOptions{Workers: 2}) {
			require.NoError(b, o.Err)
			require.NoError(b, c.Add(o.Summary))
			if c.Len()%16 == 0 {
				if runtime.ReadMemStats(&m); m.HeapAlloc > most {
					most = m.HeapAlloc
				}
			}
		}
		r, err := c.Pool(e, eclipse.Options{})
		require.NoError(b, err)
		require.Len(b, r.Stations, stations)
	}
	b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N)/float64(stations), "ms/station")
	b.ReportMetric(float64(most)/1e6, "MB")
}

// BenchmarkSmall reduces and pools stations with small logs, one reading a minute:
// NOONFALL_STATIONS says how many, 100 where nothing is said. What a station costs must not
// grow with their number.
func BenchmarkSmall(b *testing.B) {
	stations := 100
	if s := os.Getenv("NOONFALL_STATIONS"); s != "" {
		var err error
		stations, err = strconv.Atoi(s)
		require.NoError(b, err)
	}
	campaignOf(b, stations, time.Minute, 0)
}
