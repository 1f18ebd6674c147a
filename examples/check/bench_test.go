package main

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"example.org/noonfall/examples/internal/cli"
)

// manyClaims are n claims about four eclipses at random sites, seven to a site where
// they are in order.
func manyClaims(n int, shuffled bool) string {
	rng := rand.New(rand.NewPCG(1, 2))
	names := []string{"c1", "max", "c4", "magnitude", "obscuration", "p_deg@c1", "alt_deg@max"}
	rows := make([]string, n)
	var lat, lon float64
	var day string
	for i := range rows {
		if i%len(names) == 0 {
			lat, lon = 180*rng.Float64()-90, 360*rng.Float64()-180
			day = []string{"1999-08-11", "2017-08-21", "2026-08-12", "2027-08-02"}[rng.IntN(4)]
		}
		q, value := names[i%len(names)], "0.712"
		if quantities[q].kind == anInstant {
			value = day + "T09:24:38.1Z"
		}
		rows[i] = fmt.Sprintf("row%d,%s,%.5f,%.5f,%d,%.1f,UT,%s,%s,,a note\n", i, day, lat, lon, rng.IntN(2000), 64+rng.Float64(), q, value)
	}
	if shuffled {
		rng.Shuffle(n, func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
	}
	return "id,date,lat_deg,lon_deg,height_m,delta_t_s,scale,quantity,value,tolerance,note\n" + strings.Join(rows, "")
}

// BenchmarkClaims answers 40,000 claims in no order, each with a site, an eclipse
// and a Delta T of its own: the worst there is. The other one has them in order,
// with one site and Delta T for seven.
func BenchmarkClaims(b *testing.B) { benchmark(b, manyClaims(40_000, true)) }

func BenchmarkClaimsInOrder(b *testing.B) { benchmark(b, manyClaims(40_000, false)) }

func benchmark(b *testing.B, file string) {
	b.ReportAllocs()
	opt := settings{Common: cli.Common{JSON: true}}
	for b.Loop() {
		src := &source{ReadCloser: io.NopCloser(strings.NewReader(file)), name: "claims.csv"}
		c, err := newChecker(src, &opt)
		if err == nil {
			err = answer(context.Background(), io.Discard, c, &opt)
		}
		if err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed())/float64(b.N)/40_000/float64(time.Microsecond), "us/claim")
}
