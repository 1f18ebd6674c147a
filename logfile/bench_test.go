package logfile

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

const dayRows = 86400

// madeUpDay is a day at 1 Hz: jittered place, counts of a cloudy sky, temperature.
func madeUpDay() []byte {
	rng := rand.New(rand.NewPCG(1, 2))
	var b bytes.Buffer
	b.WriteString("lat,lon,time,light,temp\r\n")
	at := time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC)
	light := 2000.0
	for i := range dayRows {
		light = math.Abs(math.Mod(light+20*rng.NormFloat64(), 4096))
		fmt.Fprintf(&b, "%.5f,%.5f,%s,%.0f,%.2f\r\n", 36+rng.Float64()/1e4, -5.6+rng.Float64()/1e4, at.Add(time.Duration(i)*time.Second).Format(time.RFC3339), light, 24+3*math.Sin(float64(i)/9000))
	}
	return b.Bytes()
}

// plainLoop is what one would write without this package. Among semicolons numbers
// have a decimal comma.
func plainLoop(b *testing.B, in []byte, comma rune) {
	r := csv.NewReader(bytes.NewReader(in))
	r.ReuseRecord, r.Comma = true, comma
	for {
		row, err := r.Read()
		if err == io.EOF {
			return
		}
		fatal(b, err)
		if row[2] == "time" {
			continue
		}
		_, err = time.Parse(time.RFC3339, row[2])
		fatal(b, err)
		for _, i := range []int{0, 1, 3, 4} {
			cell := row[i]
			if comma == ';' {
				cell = strings.Replace(cell, ",", ".", 1)
			}
			_, err = strconv.ParseFloat(cell, 64)
			fatal(b, err)
		}
	}
}

// fatal is cheap where nothing is wrong: testify's require costs more than a cell.
func fatal(b *testing.B, err error) {
	if err != nil {
		b.Fatal(err)
	}
}

// benchmarkRead measures against the plain loop on another file, in turns. Both
// ratio and ns/row are those of the quickest pass, since what else a machine does only
// ever makes a pass slower.
func benchmarkRead(b *testing.B, in, clean []byte, comma rune) {
	plain, ours := math.Inf(1), math.Inf(1)
	timed := func(best *float64, pass func()) {
		start := time.Now()
		pass()
		*best = math.Min(*best, float64(time.Since(start))/dayRows)
	}
	b.SetBytes(int64(len(in)))
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		timed(&ours, func() {
			for _, err := range NewReader(bytes.NewReader(in), Options{}).Records() {
				fatal(b, err)
			}
		})
		if i%4 == 0 {
			b.StopTimer()
			timed(&plain, func() { plainLoop(b, clean, comma) })
			b.StartTimer()
		}
	}
	b.ReportMetric(ours, "ns/row")
	b.ReportMetric(plain/ours, "x-stdlib")
}

// BenchmarkReadDay reads a clean day.
func BenchmarkReadDay(b *testing.B) {
	in := madeUpDay()
	benchmarkRead(b, in, in, ',')
}

// damage spoils 2 % of the lines in every way that a logger's life knows.
func damage(clean []byte) []byte {
	rng := rand.New(rand.NewPCG(1, 2))
	var out []byte
	for i, l := range bytes.SplitAfter(clean, []byte("\n")) {
		if i < 100 || len(l) < 20 || rng.Float64() >= 0.02 {
			out = append(out, l...)
			continue
		}
		cut := 5 + rng.IntN(len(l)-8)
		switch rng.IntN(6) {
		case 0: // torn
			out = append(append(out, l[:cut]...), '\n')
		case 1: // torn, and run into the next
			out = append(out, l[:cut]...)
		case 2: // zeros
			out = append(append(out, make([]byte, 16)...), l[cut:]...)
		case 3: // power cycle
			out = append(append(out, "\r\nlat,lon,time,light,temp\r\n"...), l...)
		case 4: // a failed sensor
			out = append(out, bytes.Replace(l, []byte("Z,"), []byte("Z,nan"), 1)...)
		case 5: // a flipped bit
			l = bytes.Clone(l)
			l[cut] ^= 1 << rng.IntN(8)
			out = append(out, l...)
		}
	}
	return out
}

// BenchmarkReadDamaged reads the same day with 2 % of its lines damaged, against
// the plain loop on the clean day.
func BenchmarkReadDamaged(b *testing.B) {
	clean := madeUpDay()
	benchmarkRead(b, damage(clean), clean, ',')
}

// No row allocates: what a whole day does more than half of it is nothing.
func TestNoAllocationsPerRow(t *testing.T) {
	in := madeUpDay()
	run := func(in []byte) float64 {
		return testing.AllocsPerRun(2, func() {
			for range NewReader(bytes.NewReader(in), Options{}).Records() {
			}
		})
	}
	if whole, half := run(in), run(in[:len(in)/2]); whole > half+10 {
		t.Errorf("%g allocations in a day, %g in half of it", whole, half)
	}
}

func TestDamagedDay(t *testing.T) {
	clean := madeUpDay()
	in := damage(clean)
	recs, rep, err := drain(t, bytes.NewReader(in), Options{})
	require.NoError(t, err)
	lawful(t, rep, int64(len(in)))
	if len(recs) < dayRows*97/100 || rep.Lines.Problems == 0 || rep.Lines.Headers < 200 || rep.Missing[Light] < 200 {
		t.Errorf("%v %v, %d unreadable", rep, rep.ByKind, rep.Missing[Light])
	}
}

// quotedDay is the same day from a table program of another language: every cell in
// quotes, semicolons between them, decimal commas.
func quotedDay(clean []byte) []byte {
	var b bytes.Buffer
	for l := range bytes.Lines(clean) {
		for i, cell := range bytes.Split(bytes.TrimRight(l, "\r\n"), []byte(",")) {
			if i > 0 {
				b.WriteByte(';')
			}
			fmt.Fprintf(&b, `"%s"`, bytes.ReplaceAll(cell, []byte("."), []byte(",")))
		}
		b.WriteString("\r\n")
	}
	return b.Bytes()
}

// BenchmarkReadQuoted reads that day, against the plain loop on the same file.
func BenchmarkReadQuoted(b *testing.B) {
	in := quotedDay(madeUpDay())
	benchmarkRead(b, in, in, ';')
}
