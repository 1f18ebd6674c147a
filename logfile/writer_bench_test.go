package logfile

import (
	"encoding/csv"
	"io"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
	"time"
)

// recordsOfADay are a day at 1 Hz as they are measured: jittered place, lux with two
// decimals, temperature.
func recordsOfADay() []Record {
	rng := rand.New(rand.NewPCG(1, 2))
	at := time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC)
	var out []Record
	for i := range dayRows {
		r := blank(at.Add(time.Duration(i) * time.Second))
		r.Lat, r.Lon = 36+math.Round(10*rng.Float64())/1e5, -5.6+math.Round(10*rng.Float64())/1e5
		r.Light, r.Temp = math.Round(1e5*rng.Float64())/100, math.Round(2400+300*math.Sin(float64(i)/9000))/100
		out = append(out, r)
	}
	return out
}

// plainWrite is what one would write without this package.
func plainWrite(b *testing.B, records []Record) {
	w := csv.NewWriter(io.Discard)
	w.UseCRLF = true
	row := []string{"time", "light", "temp", "lat", "lon"}
	fatal(b, w.Write(row))
	for _, r := range records {
		row[0] = r.Time.Format(time.RFC3339)
		for i, v := range [...]float64{r.Light, r.Temp, r.Lat, r.Lon} {
			row[i+1] = strconv.FormatFloat(v, 'f', -1, 64)
		}
		fatal(b, w.Write(row))
	}
	w.Flush()
	fatal(b, w.Error())
}

// BenchmarkWriteDay writes a day of 1 Hz rows, in turns with the plain loop; both are
// measured by their quickest pass.
func BenchmarkWriteDay(b *testing.B) {
	records := recordsOfADay()
	fields := []Field{{"time", Time, ""}, {"light", Light, "lx"}, {"temp", Temp, "Cel"}, {"lat", Lat, "deg"}, {"lon", Lon, "deg"}}
	plain, ours := math.Inf(1), math.Inf(1)
	b.ReportAllocs()
	for b.Loop() {
		start := time.Now()
		w, err := NewWriter(io.Discard, fields, WriterOptions{})
		fatal(b, err)
		for i := range records {
			fatal(b, w.Write(records[i]))
		}
		fatal(b, w.Flush())
		ours = math.Min(ours, float64(time.Since(start))/dayRows)
		b.StopTimer()
		start = time.Now()
		plainWrite(b, records)
		plain = math.Min(plain, float64(time.Since(start))/dayRows)
		b.StartTimer()
	}
	b.ReportMetric(ours, "ns/row")
	b.ReportMetric(plain/ours, "x-stdlib")
}
