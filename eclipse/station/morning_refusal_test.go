package station

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
)

// only keeps some samples, changed.
func only(in []MorningSample, f func(s MorningSample) (MorningSample, bool)) (out []MorningSample) {
	for _, s := range in {
		if s, ok := f(s); ok {
			out = append(out, s)
		}
	}
	return out
}

func TestMorningRefusals(t *testing.T) {
	clear := newSham(7)
	whole := clear.samples()
	noon := clear.noon()
	overcast, broken := newSham(7), newSham(7)
	overcast.shade = func(hours float64) float64 { return 0.25 * math.Exp(0.3*math.Sin(5*hours)) }
	broken.shade = func(hours float64) float64 {
		if math.Sin(40*hours)+math.Sin(61*hours) > 0 {
			return 0.4
		}
		return 1
	}
	house := newSham(7)
	house.shade = func(hours float64) float64 {
		if hours > -3.6 && hours < -1.6 {
			return 0.3
		}
		return 1
	}
	// The morning of the total eclipse: from 7:41 to 10:02 UTC there.
	eclipse := newSham(7)
	eclipse.site, eclipse.day = sun.Site{Lat: 36, Lon: -5.6, Height: 10}, time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC)
	facing := newSham(7)
	facing.bend = 0
	for name, tt := range map[string]struct {
		samples []MorningSample
		site    sun.Site
		o       MorningOptions
		reason  string
	}{
		"nothing":       {nil, clear.site, MorningOptions{}, SunTooLow},
		"night":         {only(whole, func(s MorningSample) (MorningSample, bool) { s.Time = s.Time.Add(-9 * time.Hour); return s, true }), clear.site, MorningOptions{}, SunTooLow},
		"afternoon":     {only(whole, func(s MorningSample) (MorningSample, bool) { return s, s.Time.After(noon.Add(20 * time.Minute)) }), clear.site, MorningOptions{}, SunTooLow},
		"another day":   {whole, clear.site, MorningOptions{Day: clear.day.AddDate(0, 0, 1)}, SunTooLow},
		"late start":    {only(whole, func(s MorningSample) (MorningSample, bool) { return s, s.Time.After(noon.Add(-100 * time.Minute)) }), clear.site, MorningOptions{}, ShortClimb},
		"low Sun":       {only(whole, func(s MorningSample) (MorningSample, bool) { return s, testSight(clear.site, s.Time).alt < 16 }), clear.site, MorningOptions{}, ShortClimb},
		"no count":      {only(whole, func(s MorningSample) (MorningSample, bool) { s.Value = 0; return s, true }), clear.site, MorningOptions{}, NoUsableLight},
		"not a number":  {only(whole, func(s MorningSample) (MorningSample, bool) { s.Value = math.NaN(); return s, true }), clear.site, MorningOptions{}, NoUsableLight},
		"saturated":     {only(whole, func(s MorningSample) (MorningSample, bool) { s.Status = sensor.Saturated; return s, true }), clear.site, MorningOptions{}, SaturatedLight},
		"at a ceiling":  {only(whole, func(s MorningSample) (MorningSample, bool) { s.Value = math.Max(s.Value, 90); return s, true }), clear.site, MorningOptions{}, SaturatedLight},
		"stuck":         {only(whole, func(s MorningSample) (MorningSample, bool) { s.Value = 512; return s, true }), clear.site, MorningOptions{}, FlatSensor},
		"only noise":    {only(whole, func(s MorningSample) (MorningSample, bool) { s.Value = 500 + math.Mod(s.Value*1e6, 1); return s, true }), clear.site, MorningOptions{}, FlatSensor},
		"overcast":      {overcast.samples(), clear.site, MorningOptions{}, CloudyMorning},
		"broken cloud":  {broken.samples(), clear.site, MorningOptions{}, CloudyMorning},
		"a house":       {house.samples(), clear.site, MorningOptions{}, CloudyMorning},
		"eclipse":       {only(eclipse.samples(), func(s MorningSample) (MorningSample, bool) { return s, s.Time.Hour() >= 7 && s.Time.Hour() < 10 }), eclipse.site, MorningOptions{}, EclipseGoingOn},
		"straight lamp": {facing.facing(), clear.site, MorningOptions{FacesSun: true}, VagueMorning},
	} {
		f, err := FitMorning(tt.samples, tt.site, tt.o)
		var no *Refusal
		if f != nil || !errors.As(err, &no) || no.Reason != tt.reason {
			t.Errorf("%s: %v, want %q", name, err, tt.reason)
		} else if no.Detail == "" || !strings.HasPrefix(no.Error(), tt.reason+": ") {
			t.Errorf("%s: %q says too little", name, no.Error())
		}
	}
}

// Before first contact of a late eclipse, and after last, a morning is a morning.
func TestMorningOfAnEclipse(t *testing.T) {
	s := newSham(7)
	s.site, s.day = sun.Site{Lat: 36, Lon: -5.6, Height: 10}, time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC)
	f, err := FitMorning(s.samples(), s.site, MorningOptions{})
	require.NoError(t, err)
	c1, c4 := time.Date(2027, 8, 2, 7, 41, 0, 0, time.UTC), time.Date(2027, 8, 2, 10, 1, 0, 0, time.UTC)
	eclipsed := 0
	for _, q := range f.Minutes {
		if inside := q.Time.After(c1.Add(time.Minute)) && q.Time.Before(c4.Add(-time.Minute)); inside && q.Fate != EclipsedMinute {
			t.Errorf("%v is %v", q.Time, q.Fate)
		}
		if q.Fate == EclipsedMinute {
			eclipsed++
		}
	}
	// 2 h 20 min from first to last contact, by package eclipse's own tests.
	if !(eclipsed >= 135 && eclipsed <= 145) || !strings.Contains(strings.Join(f.Warnings, ""), "eclipse") {
		t.Errorf("%d minutes eclipsed; warnings %q", eclipsed, f.Warnings)
	}
}

// facing are the samples of a sensor that is kept square to the Sun.
func (s *sham) facing() []MorningSample {
	out := s.samples()
	for i := range out {
		hours := s.hours(out[i].Time)
		h := testSight(s.site, out[i].Time).sun
		beam, _ := s.beamAt(h.Alt, hours)
		out[i].Value = math.Exp(s.ln(beam + 8000))
	}
	return out
}

func testSight(site sun.Site, at time.Time) sight {
	m, err := newMorning([]MorningSample{{Time: at, Value: 1}}, site, MorningOptions{})
	if err != nil {
		return sight{}
	}
	return m.sightAt(at)
}

func TestMorningBadOptions(t *testing.T) {
	for field, o := range map[string]MorningOptions{
		"LeanU": {LeanU: math.NaN()}, "ModelLnU": {ModelLnU: -1}, "Exponent": {Exponent: 7}, "MinAlt": {MinAlt: 1}, "Tilt": {Surface: sun.Surface{Tilt: 200}},
	} {
		if _, err := FitMorning(nil, sun.Site{}, o); err == nil || !strings.Contains(err.Error(), field) {
			t.Errorf("%s: %v", field, err)
		}
	}
	if _, err := FitMorning(nil, sun.Site{Lat: 95}, MorningOptions{}); err == nil || !strings.Contains(err.Error(), "Site.Lat") {
		t.Errorf("latitude: %v", err)
	}
}

// A tree's shade of ten minutes is found where it fell, and costs little else.
func TestMorningUnderATree(t *testing.T) {
	bare, shady := newSham(11), newSham(11)
	from, to := -3.2, -3.2+10.0/60
	shady.shade = func(hours float64) float64 {
		if hours > from && hours < to {
			return 0.35
		}
		return 1
	}
	a, err := FitMorning(bare.samples(), bare.site, MorningOptions{})
	require.NoError(t, err)
	b, err := FitMorning(shady.samples(), shady.site, MorningOptions{})
	require.NoError(t, err)
	shaded := 0
	for _, q := range b.Minutes {
		if q.Fate != ShadedMinute {
			continue
		}
		shaded++
		if hours := q.Time.Sub(shady.noon()).Hours(); !(hours > from-3.0/60 && hours < to+3.0/60) {
			t.Errorf("%v is no shade", q.Time)
		}
	}
	if !(shaded >= 10 && shaded <= 14) {
		t.Errorf("%d minutes in the shade, want 10 and their neighbours", shaded)
	}
	if !(math.Abs(a.Slope-b.Slope) <= 0.3*b.SlopeU && math.Abs(a.Extinction-b.Extinction) <= 0.3*b.ExtinctionU) {
		t.Errorf("exponent %.4f and %.4f, extinction %.4f and %.4f without and with the shade", a.Slope, b.Slope, a.Extinction, b.Extinction)
	}
	if len(b.Warnings) == 0 || !strings.Contains(b.Warnings[0], "shade") {
		t.Errorf("warnings %q", b.Warnings)
	}
}
