package canon

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"example.org/noonfall/sun"
)

// BenchmarkSeenFrom lists what one site after another sees in two centuries.
func BenchmarkSeenFrom(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	var sites [256]sun.Site
	for i := range sites {
		sites[i] = sun.Site{Lat: math.Asin(2*r.Float64()-1) / deg, Lon: -180 + 360*r.Float64(), Height: 3000 * r.Float64()}
	}
	c := loaded(b)
	b.ReportAllocs()
	i, sightings := 0, 0
	for b.Loop() {
		list, err := c.SeenFrom(sites[i&255], time.Time{}, time.Time{}, Options{})
		if err != nil {
			b.Fatal(err)
		}
		for range list {
			sightings++
		}
		i++
	}
	b.ReportMetric(float64(sightings)/float64(i), "sightings/site")
}

// BenchmarkNext is dominated by what the observers cost until one sees something.
func BenchmarkNext(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	c := loaded(b)
	for b.Loop() {
		site := sun.Site{Lat: math.Asin(2*r.Float64()-1) / deg, Lon: -180 + 360*r.Float64()}
		after := time.Date(1901+r.IntN(190), 1, 1, 0, 0, 0, 0, time.UTC)
		if _, err := c.Next(site, after, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
