package sun

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/soniakeys/meeus/v3/planetposition"
	"github.com/soniakeys/meeus/v3/solar"
	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun/timescale"
)

// BenchmarkSunPosition finds altitude and azimuth at jittered sites and instants
// of 1905-2095. x-meeus is the time that meeus takes for its full-accuracy
// apparent place, solar.ApparentEquatorialVSOP87 (no altitude nor azimuth), over
// ours. That reads complete VSOP87 from a file: standIn makes one as long. Its
// calls that need no file, solar.ApparentEquatorial among them, are good to 0.01
// degrees, forty times less than what is done here.
func BenchmarkSunPosition(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 2))
	var observers [64]*Observer
	for i := range observers {
		var err error
		observers[i], err = NewObserver(Site{Lat: 180*rng.Float64() - 90, Lon: 360*rng.Float64() - 180}, timescale.Scale{})
		require.NoError(b, err)
	}
	var instants [4096]timescale.TT
	for i := range instants {
		instants[i] = timescale.TT((rng.Float64() - 0.5) * 6e9)
	}
	theirs := meeusApparent(b, instants[:])
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		observers[i&63].Position(instants[i&4095])
		i++
	}
	ours := float64(b.Elapsed().Nanoseconds()) / float64(b.N)
	b.ReportMetric(theirs/ours, "x-meeus")
}

// BenchmarkSunDay reads altitude and azimuth from 64 prepared days, sites, dates
// and instants jittered.
func BenchmarkSunDay(b *testing.B) {
	rng := rand.New(rand.NewPCG(3, 4))
	var days [64]*Day
	for i := range days {
		days[i] = dayAt(b, Site{Lat: 180*rng.Float64() - 90, Lon: 360*rng.Float64() - 180}, time.Date(1905, 1, 1+rng.IntN(69000), 0, 0, 0, 0, time.UTC))
	}
	var instants [4096]timescale.TT
	for i := range instants {
		d := days[i&63]
		instants[i] = d.from + timescale.TT(rng.Float64())*(d.to-d.from)
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		days[i&63].Position(instants[i&4095])
		i++
	}
}

// BenchmarkPrepareDay prepares a day and finds its rise and set.
func BenchmarkPrepareDay(b *testing.B) {
	o, err := NewObserver(Site{Lat: 36, Lon: -5.6}, timescale.Scale{})
	require.NoError(b, err)
	i := 0
	for b.Loop() {
		d, err := o.Day(time.Date(2027, 1, 1+i%365, 0, 0, 0, 0, time.UTC))
		require.NoError(b, err)
		d.Passage(Sunrise)
		i++
	}
}

// meeusApparent measures meeus' apparent place by complete VSOP87, ns.
func meeusApparent(b *testing.B, instants []timescale.TT) float64 {
	b.Helper()
	dir := b.TempDir()
	require.NoError(b, os.WriteFile(filepath.Join(dir, "VSOP87B.ear"), standIn(), 0o600))
	earth, err := planetposition.LoadPlanetPath(planetposition.Earth, dir)
	require.NoError(b, err)
	const rounds = 2000
	start := time.Now()
	for i := range rounds {
		solar.ApparentEquatorialVSOP87(earth, instants[i%len(instants)].JulianDate())
	}
	return float64(time.Since(start).Nanoseconds()) / rounds
}

// completeTerms is how many terms complete VSOP87 has for the Earth, by
// coordinate and power (2425 in all; from memory of the version for the equinox
// of date, the others differ little).
var completeTerms = [3][]int{
	{559, 341, 142, 22, 11, 5},
	{184, 99, 49, 11, 5},
	{526, 292, 139, 27, 10, 3},
}

// standIn is a file in the layout that meeus reads, with as many terms as the
// real one, which is not ours to carry. Its terms are the report's, over and
// over: right for timing, wrong for astronomy.
func standIn() []byte {
	var b bytes.Buffer
	for i, coordinate := range completeTerms {
		for power, n := range coordinate {
			head := bytes.Repeat([]byte{' '}, 132)
			head[17], head[41], head[59] = '2', byte('1'+i), byte('0'+power)
			copy(head[22:], "EARTH  ")
			copy(head[60:], fmt.Sprintf("%7d", n))
			b.Write(append(head, '\n'))
			for k := range n {
				t := earthL[0][k%len(earthL[0])]
				line := bytes.Repeat([]byte{' '}, 132)
				copy(line[79:], fmt.Sprintf("%18.11f%14.11f%20.11f", t.a/1e8, t.b, t.c))
				b.Write(append(line, '\n'))
			}
		}
	}
	return b.Bytes()
}
