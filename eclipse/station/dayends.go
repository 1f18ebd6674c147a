package station

import (
	"math"
	"slices"
	"time"

	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// A dayEnd is one dawn with its dusk, as the light has them and as the stamps tell them;
// no site goes into it.
type dayEnd struct{ dawn, dusk time.Time }

// What makes a day of a log. Common practice, no source.
const (
	endLevel    = 0.03 // of the bright light, at which dawn and dusk are read
	endHigh     = 0.10 // and between these two
	endLow      = 0.01 //
	endSlowest  = 6    // minutes that a twilight takes at least: a lid takes none
	endDark     = 20   // minutes of darkness before and behind
	endGap      = 5    // minutes without a sample that spoil an edge
	endEclipse  = 150  // minutes of darkness within a day: a deep eclipse has ten, a night more
	endShortest = 180  // minutes of light
)

// A minuteOf is the mean light of a minute.
type minuteOf struct {
	at int64 // minutes since 1970
	v  float64
}

// minuteMeans are the log's, ascending.
func minuteMeans(samples []fit.Sample) []minuteOf {
	var out []minuteOf
	var m minuteOf
	n := 0.0 // samples in it
	for i := range samples {
		s := &samples[i]
		if !isNumber(s.Value) {
			continue
		}
		if k := floored(s.Time.Unix(), 60); k != m.at || n == 0 {
			if n > 0 {
				out = append(out, m)
			}
			m, n = minuteOf{at: k}, 0
		}
		n++
		m.v += (s.Value - m.v) / n
	}
	if n > 0 {
		out = append(out, m)
	}
	return out
}

// dayEnds are the dawns with their dusks in a log; turned is for a sensor whose readings
// fall as the light grows. A log of a few hours has none.
func dayEnds(minutes []minuteOf, turned bool) []dayEnd {
	if len(minutes) < endShortest {
		return nil
	}
	sign := 1.0
	if turned {
		sign = -1
	}
	all := make([]float64, len(minutes))
	for i, m := range minutes {
		all[i] = sign * m.v
	}
	sorted := slices.Sorted(slices.Values(all))
	zero, bright := ranked(sorted, 0.01), ranked(sorted, 0.95)
	if !(bright > zero) {
		return nil
	}
	level := func(part float64) float64 { return zero + part*(bright-zero) }
	var out []dayEnd
	for _, run := range brightRuns(minutes, all, level(endLevel)) {
		if !darkBeside(minutes, all, run, level(endLevel)) {
			continue
		}
		dawn, slow := crossed(minutes, all, run[0], -1, level)
		dusk, slowToo := crossed(minutes, all, run[1], 1, level)
		if slow && slowToo {
			out = append(out, dayEnd{dawn, dusk})
		}
	}
	return out
}

// brightRuns are the first and last minutes of the days: above the level but for an
// eclipse.
func brightRuns(minutes []minuteOf, v []float64, level float64) (out [][2]int) {
	for i := range minutes {
		if v[i] < level {
			continue
		}
		if n := len(out); n > 0 && minutes[i].at-minutes[out[n-1][1]].at <= endEclipse {
			out[n-1][1] = i
		} else {
			out = append(out, [2]int{i, i})
		}
	}
	return slices.DeleteFunc(out, func(r [2]int) bool { return minutes[r[1]].at-minutes[r[0]].at < endShortest })
}

// darkBeside says that a run begins out of recorded darkness and ends in it.
func darkBeside(minutes []minuteOf, v []float64, run [2]int, level float64) bool {
	for side, step := range []int{-1, 1} {
		edge := run[side]
		dark, last := 0, minutes[edge].at
		for i := edge + step; i >= 0 && i < len(minutes) && dark < endDark; i += step {
			if v[i] >= level || (minutes[i].at-last)*int64(step) > endGap {
				break
			}
			dark, last = dark+1, minutes[i].at
		}
		if dark < endDark {
			return false
		}
	}
	return true
}

// crossed is when the light passed the level at an edge, out of the dark in the direction
// of step, and whether it took its time there.
func crossed(minutes []minuteOf, v []float64, edge, step int, level func(float64) float64) (time.Time, bool) {
	out, in := edge, edge
	for out+step >= 0 && out+step < len(minutes) && v[out] >= level(endLow) {
		out += step
	}
	for in-step >= 0 && in-step < len(minutes) && v[in] < level(endHigh) {
		in -= step
	}
	took := (minutes[out].at - minutes[in].at) * int64(step)
	return time.Unix(60*minutes[edge].at+30, 0).UTC(), took >= endSlowest
}

// A fitness says how the Sun's height at a site goes with dawns and dusks.
type fitness int

const (
	unclear fitness = iota
	fits            // within what hills, walls and cloud do
	misfits         // beyond it
)

// How high the Sun may stand when the light passes the level, degrees, and by how much
// noon may be off, hours. Hills and walls shift the light's noon by half an hour (common
// practice, no source).
const (
	endsHigh    = 8.0  // either side of the horizon, and it fits
	endsOff     = 14.0 // and it does not
	sunNoonFits = 0.6
	sunNoonOff  = 1.0
	leastRate   = 4.0 // degrees an hour; slower near the poles, where nothing is told
)

// sunAt is how the ends of the days go with the Sun at a site, the stamps being ahead of
// UTC by so much, and by how many hours noon comes late.
func sunAt(ends []dayEnd, site Site, ahead time.Duration, scale timescale.Scale) (fitness, float64) {
	o, err := sun.NewObserver(site.Sun(), scale)
	if err != nil || len(ends) == 0 {
		return unclear, 0
	}
	if 15*math.Cos(site.Lat*math.Pi/180) < leastRate {
		return unclear, 0
	}
	var heights, hours []float64
	for _, e := range ends {
		dawn, dusk := e.dawn.Add(-ahead), e.dusk.Add(-ahead)
		noon, ok := nearestNoon(o, dawn.Add(dusk.Sub(dawn)/2))
		if !ok {
			return unclear, 0
		}
		heights = append(heights, (o.Position(scale.TT(dawn)).Alt+o.Position(scale.TT(dusk)).Alt)/2)
		hours = append(hours, noon.Hours())
	}
	height, late := math.Abs(median(heights)), median(hours)
	switch {
	case height <= endsHigh && math.Abs(late) <= sunNoonFits:
		return fits, late
	case height > endsOff || math.Abs(late) > sunNoonOff:
		return misfits, late
	}
	return unclear, late
}

// nearestNoon is how long after the Sun's nearest noon an instant is, within half a day.
func nearestNoon(o *sun.Observer, t time.Time) (time.Duration, bool) {
	day, err := o.Day(t)
	if err != nil {
		return 0, false
	}
	for _, k := range day.Transits() {
		const solar = 24 * time.Hour // to half a minute
		return t.Sub(k.Time) - t.Sub(k.Time).Round(solar), true
	}
	return 0, false
}
