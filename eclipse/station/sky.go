package station

import (
	"math"
	"slices"
	"time"

	"example.org/noonfall/eclipse/internal/quantile"
)

// Sky is the light by day and by night, as the stamps and the site have them.
type Sky struct {
	DaySamples    int      `json:"day_samples"`     // the Sun's centre above the horizon
	NightSamples  int      `json:"night_samples"`   // the Sun 9 degrees down or more
	HighestSunDeg float64  `json:"highest_sun_deg"` // at any sample, degrees
	DayReading    *float64 `json:"day_reading"`     // middle reading around noon; nil without samples then
	NightReading  *float64 `json:"night_reading"`   // middle reading by night; nil with fewer than ten
	NightToDay    *float64 `json:"night_to_day"`    // their ratio
	// NoonOffsetMin is by how much the middle of the light lies behind the Sun's noon,
	// minutes: between equal readings of dawn and dusk, the middle of all days and
	// levels. Hills and walls shift it by half an hour; more is the clock, the zone or
	// the site. Nil where no dawn with its dusk, three fifths of the Sun's day later at
	// least, is in the log. NoonSpreadMin is half of what the levels and days span.
	NoonOffsetMin *float64 `json:"noon_offset_min"`
	NoonSpreadMin *float64 `json:"noon_spread_min"`
}

// sky is nil where the site was not given; start is the log's.
func (t *trace) sky(start time.Time) *Sky {
	if t.sun == nil {
		return nil
	}
	s := &Sky{}
	highest := math.Inf(-1)
	noon := make([]float64, 0, len(t.v))
	for i, alt := range t.sun {
		highest = max(highest, alt)
		switch {
		case alt > 0:
			s.DaySamples++
		case alt <= nightDeg:
			s.NightSamples++
		}
		if t.noon[i] {
			noon = append(noon, t.v[i])
		}
	}
	s.HighestSunDeg = figure(highest)
	if len(noon) > 0 {
		m := figure(quantile.MedianOf(noon))
		s.DayReading = &m
	}
	if !math.IsNaN(t.dark) {
		m := figure(t.dark)
		s.NightReading = &m
	}
	if s.DayReading != nil && s.NightReading != nil && *s.DayReading > 0 {
		ratio := figure(math.Max(0, *s.NightReading) / *s.DayReading)
		s.NightToDay = &ratio
	}
	s.noons(t, start)
	return s
}

// dawnLevels are the readings, as parts of the day's bright ones, whose dawn and
// dusk are paired: deep enough for the haste of twilight and clear of cloud.
// (Common practice, no source.)
var dawnLevels = []float64{0.1, 0.03, 0.01}

// dawnToDusk is the part of the Sun's day that light must last, or what ended it was no
// dusk: a log that stops in an eclipse, a sensor that was covered. (Common practice, no
// source.)
const dawnToDusk = 0.6

// noons pairs dawn and dusk, day by day.
func (s *Sky) noons(t *trace, start time.Time) {
	var offsets []float64
	for _, d := range t.days {
		if d.sunDay != nil {
			offsets = append(offsets, t.offsets(d.from, d.to, d.noon.Sub(start).Seconds(), dawnToDusk*d.upS())...)
		}
	}
	if len(offsets) == 0 {
		return
	}
	slices.Sort(offsets)
	m := figure(ranked(offsets, 0.5))
	spread := figure((offsets[len(offsets)-1] - offsets[0]) / 2)
	s.NoonOffsetMin, s.NoonSpreadMin = &m, &spread
}

// offsets are the middles between dawn and dusk less the Sun's noon, minutes, one a
// level, for the samples of one day. A level counts where the log is darker than it
// at both ends and the light is above it for so many seconds at least.
func (t *trace) offsets(from, to int, noon, least float64) []float64 {
	const enough = 4096 // of a day's samples, to know its bright ones
	var day []float64
	for i := from; i < to; i += 1 + (to-from)/enough {
		day = append(day, t.v[i])
	}
	slices.Sort(day)
	zero := math.Max(0, day[0])
	bright := ranked(day, 0.95) - zero
	var out []float64
	for _, part := range dawnLevels {
		level := zero + part*bright
		if !(bright > 0 && t.v[from] < level && t.v[to-1] < level && level-zero > 5*t.step) {
			continue
		}
		first, last := from, to-1
		for t.v[first] < level {
			first++
		}
		for t.v[last] < level {
			last--
		}
		dawn := t.crossing(first-1, first, level)
		dusk := t.crossing(last+1, last, level)
		if dusk-dawn >= least {
			out = append(out, ((dawn+dusk)/2-noon)/60)
		}
	}
	return out
}

// crossing is when the light passed a level between two samples, one darker, the
// other not, seconds.
func (t *trace) crossing(dark, light int, level float64) float64 {
	w := (level - t.v[dark]) / (t.v[light] - t.v[dark])
	return t.at[dark] + w*(t.at[light]-t.at[dark])
}
