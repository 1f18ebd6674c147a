package fit_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/sun"
	"example.org/noonfall/testdata/study"
)

// school is the invented site of the project's scenario, total on 2 August 2027.
func school(t testing.TB, change func(*rehearsal.Plan)) ([]fit.Sample, *rehearsal.Log) {
	t.Helper()
	c, err := canon.Load()
	require.NoError(t, err)
	e, err := c.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	p := rehearsal.Plan{Elements: e, Site: sun.Site{Lat: 36, Lon: -5.6, Height: 10}, Cadence: 5 * time.Second, Offset: 23, Seed: 7}
	if change != nil {
		change(&p)
	}
	l, err := rehearsal.Make(context.Background(), p)
	require.NoError(t, err)
	return samples(t, l, p.Chain), l
}

func clock(t testing.TB, s []fit.Sample, l *rehearsal.Log) *fit.Result {
	t.Helper()
	r, err := fit.Clock(context.Background(), s, l.Curve, fit.Options{})
	require.NoError(t, err)
	return r
}

func TestClockLeftOnLocalTimeIsNamed(t *testing.T) {
	for hours := -14.0; hours <= 14; hours += 1.75 { // whole, half and quarter hours
		s, l := school(t, nil)
		for i := range s {
			s[i].Time = s[i].Time.Add(time.Duration(hours * float64(time.Hour)))
		}
		r := clock(t, s, l)
		if r.ZoneH != hours || !(math.Abs(r.Offset-3600*hours-l.Truth.Offset) <= 2) {
			t.Errorf("%g h: offset %.1f s, zone %g h, truth %.1f s and %g h", hours, r.Offset, r.ZoneH, l.Truth.Offset, hours)
		}
	}
}

// The unit of the readings, their order and a doubled log mean nothing.
func TestWhatDoesNotMatter(t *testing.T) {
	s, l := school(t, nil)
	want := clock(t, s, l)
	scaled, reversed := slices.Clone(s), slices.Clone(s)
	for i := range scaled {
		scaled[i].Value *= 0.125 // exact in binary
	}
	slices.Reverse(reversed)
	for name, v := range map[string][]fit.Sample{"scaled": scaled, "newest first": reversed} {
		if got := clock(t, v, l); !(math.Abs(got.Offset-want.Offset) <= 0.02*want.LightU) {
			t.Errorf("%s: %.4f s, plain %.4f s", name, got.Offset, want.Offset)
		}
	}
}

// The interval for the light alone and the limb's term are told apart.
func TestLimbTermIsNamed(t *testing.T) {
	s, l := school(t, nil)
	without, err := fit.Clock(context.Background(), s, l.Curve, fit.Options{NoLimbTerm: true})
	require.NoError(t, err)
	if without.LimbU != 0 || without.OffsetU != without.LightU {
		t.Errorf("without the term: %g, %g and %g", without.LimbU, without.OffsetU, without.LightU)
	}
	k := l.Curve.Contacts()
	for _, tt := range []struct {
		curve fit.Curve
		want  float64
	}{
		{l.Curve, math.Hypot(math.Hypot(k.LimbC2.TimeU, k.LimbC3.TimeU)/2, 0.15)}, // 0.15 s for the figure
		{l.Curve.Round(), fit.LimbU},
	} {
		with, err := fit.Clock(context.Background(), s, tt.curve, fit.Options{})
		require.NoError(t, err)
		if with.LimbU != tt.want || !(tt.want > 0.1) {
			t.Errorf("limb term %g, want %g", with.LimbU, tt.want)
		}
		if want := math.Hypot(with.LightU, tt.want); !(math.Abs(with.OffsetU-want) < 1e-12) {
			t.Errorf("uncertainty %g, want %g", with.OffsetU, want)
		}
		if !(with.CI95[0] < with.LightCI95[0] && with.CI95[1] > with.LightCI95[1]) {
			t.Errorf("the interval %v is not wider than the light's %v", with.CI95, with.LightCI95)
		}
	}
}

// A smooth Moon dates the light of totality by more than a second wrong, which is why
// the real one is there.
func TestSmoothMoonBiasesTheClock(t *testing.T) {
	s, l := school(t, nil)
	offset := func(c fit.Curve) float64 {
		r, err := fit.Clock(context.Background(), s, c, fit.Options{})
		require.NoError(t, err)
		return r.Offset - l.Truth.Offset
	}
	if real, smooth := offset(l.Curve), offset(l.Curve.Round()); !(math.Abs(real) < 0.7 && math.Abs(smooth-real) > 0.8) {
		t.Errorf("off by %.2f s with the real Moon and by %.2f s with the smooth one", real, smooth)
	}
}

func TestShadeShowsInSpans(t *testing.T) {
	s, l := school(t, nil)
	c := l.Curve.Circumstances()
	from, to := c.C1.UTC.Add(15*time.Minute), c.C1.UTC.Add(25*time.Minute)
	for i := range s {
		if utc := s[i].Time.Add(-23 * time.Second); utc.After(from) && utc.Before(to) {
			s[i].Value *= 0.4
		}
	}
	r := clock(t, s, l)
	ok := slices.ContainsFunc(r.Cloud, func(v fit.Span) bool {
		return v.From.Sub(from).Abs() < 3*time.Minute && v.To.Sub(to).Abs() < 3*time.Minute && v.Depth > 0.4
	})
	if !ok {
		t.Errorf("shade from %v to %v is not in %v", from, to, r.Cloud)
	}
	if !(r.LightCI95[0] <= l.Truth.Offset && l.Truth.Offset <= r.LightCI95[1]) {
		t.Errorf("ten minutes of shade move the clock to %.1f s, %v, truth %.1f", r.Offset, r.LightCI95, l.Truth.Offset)
	}
}

func TestRefusalsNameTheirReason(t *testing.T) {
	s, l := school(t, nil)
	flat, full, dark, late, noise := slices.Clone(s), slices.Clone(s), slices.Clone(s), slices.Clone(s), slices.Clone(s)
	for i := range s {
		flat[i].Value = 500
		full[i].Status = 2
		dark[i].Value = math.NaN()
		late[i].Time = s[i].Time.AddDate(0, 0, 3)
		noise[i].Value = 1000 + 10*math.Sin(float64(i*i%977))
	}
	for _, tt := range []struct {
		name   string
		in     []fit.Sample
		reason fit.Reason
	}{
		{"nothing", nil, fit.NoSamples},
		{"few", s[:10], fit.TooFew},
		{"no numbers", dark, fit.NoSamples},
		{"one value", flat, fit.Flat},
		{"at the ceiling", full, fit.Saturation},
		{"three days late", late, fit.NoOverlap},
		{"a lamp that flickers", noise, fit.Lamp},
	} {
		_, err := fit.Clock(context.Background(), tt.in, l.Curve, fit.Options{})
		var no *fit.Refusal
		if !errors.As(err, &no) || no.Reason != tt.reason || no.Detail == "" || !errors.Is(err, no.Reason) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.reason)
		}
	}
}

func TestCancelled(t *testing.T) {
	s, l := school(t, nil)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := fit.Clock(ctx, s, l.Curve, fit.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled fit returned %v", err)
	}
}

// BenchmarkOffset is a clock fit of three hours and a half of samples at one a second, in turn of
// sixteen logs: places up to 300 km apart in and beside the path, skies clear and
// hazy, clocks off by seconds and by hours.
func BenchmarkOffset(b *testing.B) {
	const logs = 16
	var s [logs][]fit.Sample
	var l [logs]*rehearsal.Log
	for i := range logs {
		s[i], l[i] = school(b, func(p *rehearsal.Plan) {
			p.Cadence, p.Margin, p.Seed = time.Second, 20*time.Minute, uint64(100+i)
			p.Site.Lat += 3 * (float64(i*7%logs)/logs - 0.5)
			p.Site.Lon += 3 * (float64(i*11%logs)/logs - 0.5)
			p.Offset = float64(i*37%60) + 3600*float64(i%3-1)
			p.Weather = []rehearsal.Weather{rehearsal.Clear, rehearsal.Haze}[i%2]
		})
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		if _, err := fit.Clock(context.Background(), s[i%logs], l[i%logs].Curve, fit.Options{}); err != nil {
			b.Fatal(err)
		}
		i++
	}
}

// A clock half a minute fast, found from uncalibrated counts under a clear sky.
func ExampleClock() {
	c, _ := canon.Load()
	e, _ := c.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	log, err := rehearsal.Make(context.Background(), rehearsal.Plan{
		Elements: e, Site: sun.Site{Lat: 36, Lon: -5.6}, Cadence: 2 * time.Second, Offset: 31, Seed: 2, Plain: true,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	var s []fit.Sample
	for _, r := range log.Samples {
		s = append(s, fit.Sample{Time: r.Stamp, Value: r.Counts})
	}
	r, err := fit.Clock(context.Background(), s, log.Curve, fit.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("fast:", r.Offset > 0)
	fmt.Println("the truth is in the interval:", r.CI95[0] < 31 && 31 < r.CI95[1])
	// Output:
	// fast: true
	// the truth is in the interval: true
}

// A log that begins with the Sun low is fitted wherever it begins: one reading below the
// least altitude that is read, or many, or none, must not matter.
func TestClockFromDawn(t *testing.T) {
	p, err := rehearsal.Class{Depth: rehearsal.Annular}.Draw(study.Eclipses(t), 40000244)
	require.NoError(t, err)
	l, err := rehearsal.Make(context.Background(), p)
	require.NoError(t, err)
	all := samples(t, l, p.Chain)
	for _, minutes := range []int{0, 26, 27, 28, 29, 30, 31, 32, 33, 34} {
		begin := all[0].Time.Add(time.Duration(minutes) * time.Minute)
		from := slices.IndexFunc(all, func(s fit.Sample) bool { return !s.Time.Before(begin) })
		r, err := fit.Clock(context.Background(), all[from:], l.Curve, fit.Options{})
		if err != nil {
			t.Errorf("begun %d min late: %v", minutes, err)
			continue
		}
		if !(r.CI95[0] <= l.Truth.Offset && l.Truth.Offset <= r.CI95[1]) {
			t.Errorf("begun %d min late: %v does not hold %.1f s", minutes, r.CI95, l.Truth.Offset)
		}
	}
}
