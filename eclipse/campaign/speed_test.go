package campaign_test

import (
	"context"
	"runtime"
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
	const stations, logs = 1000, 16
	e := elements(b, 2027, 8, 2)
	made := make([]campaign.Job, logs)
	for i := range made {
		made[i] = rehearsed(b, e, i, time.Second, 10*time.Hour+40*time.Minute)
	}
	jobs := func(yield func(campaign.Job) bool) {
		for i := range stations {
			j := made[i%logs]
			s := *j.Station
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
			if runtime.ReadMemStats(&m); m.HeapAlloc > most {
				most = m.HeapAlloc
			}
		}
		r, err := c.Pool(e, eclipse.Options{})
		require.NoError(b, err)
		require.Len(b, r.Stations, stations)
	}
	b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N)/stations, "ms/station")
	b.ReportMetric(float64(most)/1e6, "MB")
}
