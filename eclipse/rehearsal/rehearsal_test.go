package rehearsal_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/limb"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// strait is near the central line of 2 August 2027, on the shore of a strait.
var strait = sun.Site{Lat: 36.0, Lon: -5.6}

func august2027(t testing.TB) *eclipse.Elements {
	t.Helper()
	return years(t, "2027", "2027")[1]
}

func rehearse(t testing.TB, p rehearsal.Plan) *rehearsal.Log {
	t.Helper()
	l, err := rehearsal.Make(context.Background(), p)
	require.NoError(t, err)
	return l
}

// A digital sensor to a thousandth of a lux: the light itself, nothing in the way.
func perfect() *sensor.Chain {
	return &sensor.Chain{Digital: &sensor.Digital{LuxPerCount: 1, MaxCounts: 1e6, StepCounts: 0.001}}
}

func TestSameSeed(t *testing.T) {
	p := rehearsal.Plan{Elements: august2027(t), Site: strait, Weather: rehearsal.Broken, Cadence: 10 * time.Second, Seed: 7}
	a, b := rehearse(t, p), rehearse(t, p)
	if !slices.Equal(a.Samples, b.Samples) {
		t.Error("the same plan gave two logs")
	}
	p.Seed = 8
	if slices.Equal(a.Samples, rehearse(t, p).Samples) {
		t.Error("two seeds gave one log")
	}
	// Damage takes records away and changes none.
	p.Seed, p.Damage = 7, rehearsal.Damage{PowerCycles: 2, TornLines: 3, NULRuns: 1}
	hurt := rehearse(t, p)
	if n := len(a.Samples) - len(hurt.Samples); n != 2*6+3+1 {
		t.Errorf("%d records are lost, want twice six, three and one", n)
	}
	i := 0
	for _, s := range hurt.Samples {
		for i < len(a.Samples) && !a.Samples[i].Stamp.Equal(s.Stamp) {
			i++
		}
		if i == len(a.Samples) || a.Samples[i] != s {
			t.Fatalf("%v is not in the undamaged log", s)
		}
	}
}

// crossing is the instant, seconds from some origin, at which a series passes a
// level in its logarithm between its records i and i+1.
func crossing(s []rehearsal.Sample, i int, level float64, origin time.Time) float64 {
	a, b := math.Log(s[i].Counts/level), math.Log(s[i+1].Counts/level)
	f := a / (a - b)
	return s[i].Stamp.Sub(origin).Seconds() + f*s[i+1].Stamp.Sub(s[i].Stamp).Seconds()
}

// below gives the first and the last record under a level.
func below(s []rehearsal.Sample, level float64) (first, last int) {
	first = slices.IndexFunc(s, func(x rehearsal.Sample) bool { return x.Counts < level })
	last = len(s) - 1
	for s[last].Counts >= level {
		last--
	}
	return first, last
}

// midpoint halves the way between the first fall below a level and the last rise
// above it: the crudest way to date an eclipse.
func midpoint(s []rehearsal.Sample, level float64, origin time.Time) float64 {
	first, last := below(s, level)
	return (crossing(s, first-1, level, origin) + crossing(s, last, level, origin)) / 2
}

// middle is the same of the prediction, s from its maximum: by halving, between a quarter
// of an hour away and the contacts of the real limb.
func middle(c *limb.Curve, level float64) float64 {
	k, max := c.Contacts(), c.Circumstances().Max.TT
	cross := func(bright, dark timescale.TT) float64 {
		for range 50 {
			if m := (bright + dark) / 2; c.Lux(m) > level {
				bright = m
			} else {
				dark = m
			}
		}
		return float64(bright - max)
	}
	return (cross(k.LimbC2.TT-900, k.LimbC2.TT) + cross(k.LimbC3.TT+900, k.LimbC3.TT)) / 2
}

// The crude date of totality's middle must lie off the predicted one by what the
// truth says. Light passes 30 lx some four seconds from totality and 150 lx some
// twelve.
func TestMidpointShowsTheClock(t *testing.T) {
	base := rehearsal.Plan{Elements: august2027(t), Site: strait, Chain: perfect(), Noise: -1}
	for _, tt := range []struct {
		name string
		plan func(p *rehearsal.Plan)
		want float64 // s
		tol  float64 // s
	}{
		// Under a real sky the two sides of totality differ: by a few percent when
		// clear, by up to a third in haze (three times sqrt 2 of 0.08), and at 150 lx
		// the light changes by an eighth each second.
		{"right clock", func(p *rehearsal.Plan) { p.Plain = true }, 0, 0.12},
		{"fast", func(p *rehearsal.Plan) { p.Plain, p.Offset = true, 37.25 }, 37.25, 0.12},
		{"slow", func(p *rehearsal.Plan) { p.Plain, p.Offset = true, -611.6 }, -611.6, 0.12},
		{"local time", func(p *rehearsal.Plan) { p.Plain, p.ZoneHours = true, 2 }, 7200, 0.12},
		{"lag", func(p *rehearsal.Plan) { p.Plain, p.Lag = true, 4*time.Second }, 4, 0.12},
		{"all of them, drifting", func(p *rehearsal.Plan) {
			p.Plain, p.Offset, p.ZoneHours, p.Lag, p.DriftPPM = true, -20.5, -1, 1500*time.Millisecond, 200
		}, -3619, 0.12},
		{"real sky", func(p *rehearsal.Plan) { p.Offset, p.Seed = 12.5, 3 }, 12.5, 0.5},
		{"real sky and haze", func(p *rehearsal.Plan) { p.Offset, p.Seed, p.Weather = 12.5, 4, rehearsal.Haze }, 12.5, 1.4},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := base
			tt.plan(&p)
			l := rehearse(t, p)
			c := l.Curve.Circumstances()
			level := 30.0 // lx
			if !p.Plain {
				level = 150 // well above any floor
			}
			got := midpoint(l.Samples, level, c.Max.UTC) - middle(l.Curve, level)
			if !(math.Abs(got-tt.want) <= tt.tol) {
				t.Errorf("the light is %.3f s off, want %.3f +- %g s", got, tt.want, tt.tol)
			}
			if !(math.Abs(l.Truth.Offset-tt.want) <= 1e-9) {
				t.Errorf("the truth says %v s, want %v", l.Truth.Offset, tt.want)
			}
			if want := tt.want - p.Lag.Seconds(); !(math.Abs(l.Truth.Clock-want) <= 1e-9) {
				t.Errorf("the truth's clock is %v s off, want %v", l.Truth.Clock, want)
			}
		})
	}
}

// Drift: stamps are evenly spaced on the logger's clock, so that the light of a
// clock that gains 1 % has its contacts 1 % further apart.
func TestDriftStretchesTheEclipse(t *testing.T) {
	width := func(ppm float64) float64 {
		l := rehearse(t, rehearsal.Plan{Elements: august2027(t), Site: strait, Chain: perfect(), Noise: -1, Plain: true, DriftPPM: ppm})
		s, max := l.Samples, l.Truth.Max
		first, last := below(s, 500)
		return crossing(s, last, 500, max) - crossing(s, first-1, 500, max)
	}
	if got := width(9999) / width(0); !(math.Abs(got-1.009999) <= 0.0005) { // 0.1 s in 290 s
		t.Errorf("stretched %.6f times, want 1.009999", got)
	}
}

// A control day has the same logger at the same hours and no eclipse.
func TestControlDay(t *testing.T) {
	p := rehearsal.Plan{Elements: august2027(t), Site: strait, Seed: 4, Offset: 30, DriftPPM: 50, Cadence: 10 * time.Second, Chain: perfect(), Noise: -1}
	eclipsed := rehearse(t, p)
	for _, day := range []int{-1, 1} {
		p.Day = day
		control := rehearse(t, p)
		if d := len(control.Samples) - len(eclipsed.Samples); d < -1 || d > 1 {
			t.Fatalf("%d records, %d on the eclipse's day", len(control.Samples), len(eclipsed.Samples))
		}
		a, b := control.Samples[0].Stamp, eclipsed.Samples[0].Stamp
		if d := a.Sub(b) - time.Duration(day)*24*time.Hour; d.Abs() > 10*time.Second {
			t.Errorf("day %d begins at %v, the eclipse's at %v", day, a, b)
		}
		least := math.Inf(1)
		for _, s := range control.Samples {
			least = min(least, s.Counts)
		}
		if !(least > 5000) { // an hour before the eclipse the Sun is already up
			t.Errorf("day %d: the light falls to %.0f lx", day, least)
		}
		// 50 millionths of a day are 4.32 s.
		if want := 30 + 4.32*float64(day); !(math.Abs(control.Truth.Offset-want) <= 1e-9) {
			t.Errorf("day %d: the clock is %v s off, want %v", day, control.Truth.Offset, want)
		}
		if control.Truth.TempDrop != 0 || control.Truth.Floor != eclipsed.Truth.Floor || control.Truth.Tilt != eclipsed.Truth.Tilt {
			t.Errorf("day %d: %+v, on the eclipse's day %+v", day, control.Truth, eclipsed.Truth)
		}
	}
}

// A Plain log is the prediction, to what two tables of it differ by.
func TestPlainFollowsThePrediction(t *testing.T) {
	eclipses := years(t, "2001", "2060")
	var worst float64
	for seed := range uint64(40) {
		p, err := rehearsal.Class{Weather: rehearsal.Clear}.Draw(eclipses, seed)
		require.NoError(t, err)
		p.Plain, p.Cadence = true, time.Minute
		l := rehearse(t, p)
		c := l.Curve.Circumstances()
		for at := c.C1.UTC.Add(-time.Minute); at.Before(c.C4.UTC.Add(time.Minute)); at = at.Add(7 * time.Second) {
			tt := l.Curve.Observer().Scale().TT(at)
			d := math.Abs(l.Lux(at)-l.Curve.Lux(tt)) / l.Curve.ClearLux(tt)
			if worst = math.Max(worst, d); !(d <= 2e-7) {
				t.Fatalf("%s seed %d at %v: %.9g lx, the curve has %.9g", p.Elements.Date, seed, at, l.Lux(at), l.Curve.Lux(tt))
			}
		}
	}
	t.Logf("worst difference %.2g of the clear sky's light", worst)
}

// What a log that is not Plain makes of the sky must not be the prediction times
// a constant, or the crime would be back.
func TestNoInverseCrime(t *testing.T) {
	eclipses := years(t, "2001", "2060")
	laws := map[string]bool{}
	for seed := range uint64(30) {
		p, err := rehearsal.Class{Weather: rehearsal.Clear}.Draw(eclipses, seed)
		require.NoError(t, err)
		p.Cadence = time.Minute
		l := rehearse(t, p)
		var parts float64
		for _, c := range l.Truth.Limb {
			parts += c.Part
			if laws[c.Law.String()] = true; c.Law == l.Curve.Options().Law {
				t.Errorf("seed %d: the Sun's limb is the prediction's", seed)
			}
		}
		if !(math.Abs(parts-1) <= 1e-15) {
			t.Errorf("seed %d: the colours make %v of the light", seed, parts)
		}
		c := l.Curve.Circumstances()
		var logs []float64
		for at := c.C1.UTC.Add(-time.Hour); at.Before(c.C4.UTC.Add(time.Hour)); at = at.Add(time.Minute) {
			if at.Sub(c.Max.UTC).Abs() > 10*time.Minute {
				logs = append(logs, math.Log(l.Lux(at)/l.Curve.Lux(l.Curve.Observer().Scale().TT(at))))
			}
		}
		if sd := spread(logs); !(sd > 0.005) {
			t.Errorf("seed %d: the light is within %.4f of the prediction times a constant", seed, sd)
		}
	}
	if len(laws) < 30 {
		t.Errorf("only %d limb laws in 30 logs", len(laws))
	}
}

func mean(x []float64) float64 {
	var s float64
	for _, v := range x {
		s += v
	}
	return s / float64(len(x))
}

func spread(x []float64) float64 {
	m := mean(x)
	var s float64
	for _, v := range x {
		s += (v - m) * (v - m)
	}
	return math.Sqrt(s / float64(len(x)-1))
}

func TestRefused(t *testing.T) {
	good := rehearsal.Plan{Elements: august2027(t), Site: strait, Cadence: time.Minute}
	for _, tt := range []struct {
		name  string
		spoil func(p *rehearsal.Plan)
		want  error
	}{
		{"no elements", func(p *rehearsal.Plan) { p.Elements = nil }, rehearsal.ErrPlan},
		{"site off the Earth", func(p *rehearsal.Plan) { p.Site.Lat = 91 }, rehearsal.ErrPlan},
		{"no eclipse there", func(p *rehearsal.Plan) { p.Site = sun.Site{Lat: -60, Lon: 150} }, eclipse.ErrNoEclipse},
		{"half a second", func(p *rehearsal.Plan) { p.Cadence = 1500 * time.Millisecond }, rehearsal.ErrPlan},
		{"backwards", func(p *rehearsal.Plan) { p.Cadence = -time.Second }, rehearsal.ErrPlan},
		{"a day's margin", func(p *rehearsal.Plan) { p.Margin = 24 * time.Hour }, rehearsal.ErrPlan},
		{"no number", func(p *rehearsal.Plan) { p.Offset = math.NaN() }, rehearsal.ErrPlan},
		{"runaway clock", func(p *rehearsal.Plan) { p.DriftPPM = 1e5 }, rehearsal.ErrPlan},
		{"noise without number", func(p *rehearsal.Plan) { p.Noise = math.NaN() }, rehearsal.ErrPlan},
		{"next year", func(p *rehearsal.Plan) { p.Day = 365 }, rehearsal.ErrPlan},
		{"unknown weather", func(p *rehearsal.Plan) { p.Weather = 99 }, rehearsal.ErrPlan},
		{"endless outage", func(p *rehearsal.Plan) { p.Damage.Outage = 1000 * time.Hour }, rehearsal.ErrPlan},
		{"no sensor in the chain", func(p *rehearsal.Plan) { p.Chain = &sensor.Chain{} }, sensor.ErrNoPart},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := good
			tt.spoil(&p)
			if _, err := rehearsal.Make(context.Background(), p); !errors.Is(err, tt.want) {
				t.Errorf("error %v, want %v", err, tt.want)
			}
		})
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := rehearsal.Make(ctx, good); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want %v", err, context.Canceled)
	}
}
