package logfile

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func average(t require.TestingT, records []Record, every time.Duration) (out []Window) {
	a, err := NewAverager(every)
	require.NoError(t, err)
	for _, r := range records {
		if w, ok := a.See(r); ok {
			out = append(out, w)
		}
	}
	if w, ok := a.Rest(); ok {
		out = append(out, w)
	}
	if w, ok := a.Rest(); ok {
		t.Errorf("a second rest: %+v", w)
	}
	return out
}

func lit(at time.Time, light float64) Record {
	r := blank(at)
	r.Light = light
	return r
}

// Figures by hand: 2, 4, 4, 4, 5, 5, 7, 9 have mean 5 and squared differences of 9,
// 1, 1, 1, 0, 0, 4, 16, so SD is the root of 32/7.
func TestAverageByHand(t *testing.T) {
	noon := at(t, "2027-08-02T12:00:00Z")
	var in []Record
	for i, v := range []float64{2, 4, 4, 4, nan, 5, 5, 7, 9} {
		in = append(in, lit(noon.Add(time.Duration(i)*time.Second), v))
	}
	in = append(in, lit(noon.Add(65*time.Second), 100), lit(noon.Add(5*time.Minute), nan))
	got := average(t, in, time.Minute)
	if len(got) != 3 {
		t.Fatalf("%d windows: %+v", len(got), got)
	}
	a := got[0].Light
	if a.N != 8 || a.Mean != 5 || !(math.Abs(a.SD-math.Sqrt(32.0/7)) <= 1e-15) || a.Min != 2 || a.Max != 9 || !a.At.Equal(noon.Add(4*time.Second)) {
		t.Errorf("%+v", a)
	}
	if w := got[0]; !w.Start.Equal(noon) || !w.End.Equal(noon.Add(time.Minute)) || !w.Middle().Equal(noon.Add(30*time.Second)) || w.Records != 9 {
		t.Errorf("%+v", w)
	}
	if a := got[1].Light; a.N != 1 || a.Mean != 100 || a.SD == a.SD || !got[1].Start.Equal(noon.Add(time.Minute)) {
		t.Errorf("%+v", got[1])
	}
	if w := got[2]; w.Light.N != 0 || w.Light.Mean == w.Light.Mean || w.Light.Min == w.Light.Min || w.Records != 1 || w.Temp.N != 0 {
		t.Errorf("a window without a number: %+v", w)
	}
}

// Large numbers with a small spread keep it; a constant stays what it is.
func TestAverageKeepsDigits(t *testing.T) {
	noon := at(t, "2027-08-02T12:00:00Z")
	var steady, waver []Record
	for i := range 50 {
		steady = append(steady, lit(noon.Add(time.Duration(i)*time.Second), 0.1))
		waver = append(waver, lit(noon.Add(time.Duration(i)*time.Second), 1e9+float64(i%2)))
	}
	if a := average(t, steady, time.Minute)[0].Light; a.Mean != 0.1 || a.SD != 0 {
		t.Errorf("%+v", a)
	}
	// Half of 50 numbers lie 1/2 below the mean, half above: SD is the root of 12.5/49.
	// A float64 holds 1e9 to 1.2e-7, and so that is what each difference may be off.
	if a := average(t, waver, time.Minute)[0].Light; !(math.Abs(a.SD-math.Sqrt(12.5/49)) <= 3e-7 && math.Abs(a.Mean-1e9-0.5) <= 3e-7) {
		t.Errorf("%+v", a)
	}
}

// A step back in the clock gives a window twice, each with its own records; a file
// that is newest first its windows in that order.
func TestAverageWhereTheClockSteps(t *testing.T) {
	noon := at(t, "2027-08-02T12:00:00Z")
	second := func(s int) time.Time { return noon.Add(time.Duration(s) * time.Second) }
	got := average(t, []Record{lit(second(58), 1), lit(second(61), 3), lit(second(30), 5), lit(second(62), 7)}, time.Minute)
	var starts, means []float64
	for _, w := range got {
		starts, means = append(starts, w.Start.Sub(noon).Seconds()), append(means, w.Light.Mean)
	}
	require.Equal(t, []float64{0, 60, 0, 60}, starts)
	require.Equal(t, []float64{1, 3, 5, 7}, means)
	w := got[0].Join(got[2])
	if !w.Start.Equal(noon) || !w.End.Equal(second(60)) || w.Light.N != 2 || w.Light.Mean != 3 || !(math.Abs(w.Light.SD-math.Sqrt(8)) <= 1e-15) || !w.Light.At.Equal(second(44)) {
		t.Errorf("%+v", w)
	}
	back := average(t, []Record{lit(second(119), 1), lit(second(61), 3), lit(second(59), 5), lit(second(0), 7)}, time.Minute)
	if len(back) != 2 || !back[0].Start.Equal(second(60)) || back[0].Light.Mean != 2 || back[1].Light.Mean != 6 {
		t.Errorf("%+v", back)
	}
}

// Either side of the 180th meridian is a step of 0.2 degrees, not of 359.8.
func TestAverageOfLongitudes(t *testing.T) {
	noon := at(t, "2027-08-02T12:00:00Z")
	place := func(lon float64) Record {
		r := blank(noon)
		r.Lon = lon
		return r
	}
	a := average(t, []Record{place(179.9), place(-179.9)}, time.Minute)[0]
	b := average(t, []Record{place(-179.7)}, time.Minute)[0]
	if !(math.Abs(a.Lon.Mean-180) <= 1e-12 && math.Abs(a.Join(b).Lon.Mean-180.1) <= 1e-12 && a.Join(b).Lon.Max < 180.31) {
		t.Errorf("%+v %+v", a.Lon, a.Join(b).Lon)
	}
}

func TestAverageRefusesLengths(t *testing.T) {
	for _, d := range []time.Duration{0, -time.Minute, 7 * time.Second, 48 * time.Hour} {
		if _, err := NewAverager(d); err == nil || !strings.Contains(err.Error(), "divides 24 h") {
			t.Errorf("%v: %v", d, err)
		}
	}
	for _, s := range []string{"1901-03-04T23:59:59Z", "2027-08-02T12:34:56Z"} {
		w := average(t, []Record{lit(at(t, s), 1)}, 24*time.Hour)[0]
		if got := w.Start.Format(time.RFC3339); got != s[:11]+"00:00:00Z" {
			t.Errorf("the day of %s begins at %s", s, got)
		}
	}
}

// Averages of averages are the average, whatever is missing and however records are
// scattered: the sums are done here once more, plainly.
func TestAverageOfAverages(t *testing.T) {
	noon := at(t, "2027-08-02T12:00:00Z")
	rapid.Check(t, func(rt *rapid.T) {
		var in []Record
		var sum, n, seconds float64
		for _, s := range rapid.SliceOfN(rapid.IntRange(0, 599), 1, 60).Draw(rt, "seconds") {
			v := rapid.SampledFrom([]float64{nan, 0, 1, -3.25, 812, 1e6}).Draw(rt, "light")
			in = append(in, lit(noon.Add(time.Duration(s)*time.Second), v))
			if v == v {
				sum, n, seconds = sum+v, n+1, seconds+float64(s)
			}
		}
		var whole Window
		records := 0
		for _, w := range average(rt, in, 20*time.Second) {
			records += w.Records
			whole = whole.Join(w)
		}
		if records != len(in) || whole.Records != len(in) || whole.Light.N != int(n) {
			rt.Fatalf("%d of %d records, %v", records, len(in), whole)
		}
		if n == 0 {
			return
		}
		// 60 times half a nanosecond, once in each window and once in each Join.
		if at := whole.Light.At.Sub(noon).Seconds(); !(math.Abs(at-seconds/n) <= 60e-9) {
			rt.Fatalf("at %v s, want %v", at, seconds/n)
		}
		mean, squares := sum/n, 0.0
		for _, r := range in {
			if r.Light == r.Light {
				squares += (r.Light - mean) * (r.Light - mean)
			}
		}
		tol := 1e-9 // of numbers up to 1e6: 60 roundings of 2e-10
		if !(math.Abs(whole.Light.Mean-mean) <= tol) || n > 1 && !(math.Abs(whole.Light.SD-math.Sqrt(squares/(n-1))) <= tol) {
			rt.Fatalf("%+v, want %v %v", whole.Light, mean, math.Sqrt(squares/(n-1)))
		}
	})
}

// BenchmarkAverage averages a day at 1 Hz over minutes.
func BenchmarkAverage(b *testing.B) {
	var in []Record
	for i := range dayRows {
		r := lit(time.Unix(int64(1_800_000_000+i), 0), float64(i%4096))
		r.Temp, r.Lat, r.Lon = 24, 36, -5.6
		in = append(in, r)
	}
	b.ReportAllocs()
	for b.Loop() {
		average(b, in, time.Minute)
	}
	b.ReportMetric(float64(b.Elapsed())/float64(b.N)/dayRows, "ns/row")
}
