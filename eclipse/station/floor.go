package station

import (
	"math"

	"example.org/noonfall/eclipse/internal/quantile"
	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
)

// A Floor is how dark a sky the logger can tell.
type Floor struct {
	Reading float64 `json:"reading"` // the least reading; lux where the chain is known
	Samples int     `json:"samples"` // that are at it, or too dark to be numbers
	// Piled says that readings pile up at the least one: it does not change any more
	// at the bottom.
	Piled bool `json:"piled"`
	// Dark is the middle reading with the Sun 9 degrees down or more, the sensor's
	// zero; nil without a site or a night.
	Dark *float64 `json:"dark"`
	// Told is the least reading that is told from darkness: a step above it, or three
	// times the night's scatter.
	Told float64 `json:"told"`
	// LostSunDeg is the Sun's altitude at which twilight is lost in darkness, degrees,
	// and LostLux the clear sky's light there; nil where that was not seen.
	LostSunDeg *float64 `json:"lost_sun_deg"`
	LostLux    *float64 `json:"lost_lux"`
	// TwilightSteps is the middle reading above darkness with the Sun 6 degrees down,
	// in steps of the sensor or, where that is more, in the night's scatter: the end of
	// civil twilight is as dark as totality, 3.4 lx
	// (testdata/references/natural_illuminance.csv). Nil where the log has none.
	TwilightSteps *float64 `json:"twilight_steps"`
	// DaySamples are at the floor with the Sun more than 5 degrees up.
	DaySamples int `json:"day_samples"`
}

const (
	duskSide  = 0.5 // degrees of the Sun either side of a twilight that still count
	leastTold = 3.0 // times the scatter
	binDeg    = 0.5 // of the Sun's altitude, where it is asked when light was lost
	binLeast  = 3   // samples that make a bin
	// nightLeast are samples that say what a night is like. (Common practice, no source.)
	nightLeast = 10
	// nightDeg is the Sun's altitude below which a small sensor reads its own zero: the
	// clear sky has 0.1 lx by package sun, a fortieth of totality.
	nightDeg = -9.0
)

// floor finds the bottom of the readings.
func (t *trace) floor(c *Ceiling) *Floor {
	f := &Floor{Reading: t.sorted[0]}
	upsideDown := make([]float64, len(t.sorted))
	for i, v := range t.sorted {
		upsideDown[len(t.sorted)-1-i] = -v
	}
	pile, piled := pileAtTop(upsideDown, t.step)
	f.Piled = piled
	bottom := f.Reading
	if piled {
		bottom = -pile.from
	}
	f.Told = t.step + bottom
	grain := t.step
	if !math.IsNaN(t.dark) {
		scatter := t.nightScatter()
		f.Told = t.dark + math.Max(t.step, leastTold*scatter)
		grain = math.Max(grain, scatter)
		dark := figure(t.dark)
		f.Dark = &dark
	}
	f.Told = figure(f.Told)
	for i, v := range t.v {
		if v > bottom && t.status[i] != sensor.TooDark {
			continue
		}
		f.Samples++
		if t.sun != nil && t.sun[i] > lowestSun && (piled || t.status[i] == sensor.TooDark) {
			f.DaySamples++
		}
	}
	if twilight := t.dusk(); len(twilight) >= binLeast && grain > 0 {
		s := figure(math.Max(0, median(twilight)-f.zero()) / grain)
		f.TwilightSteps = &s
	}
	f.LostSunDeg, f.LostLux = t.lost(f.Told)
	return f
}

// zero is the reading of darkness.
func (f *Floor) zero() float64 {
	if f.Dark != nil {
		return *f.Dark
	}
	if f.Piled {
		return f.Reading
	}
	return math.Min(0, f.Reading)
}

// decades are between the floor and the ceiling, or the brightest reading.
func (f *Floor) decades(c *Ceiling, sorted []float64) float64 {
	top := sorted[len(sorted)-1]
	if c != nil {
		top = c.Reading
	}
	zero := f.zero()
	least := math.Max(f.Told, sorted[0]) - zero
	if f.Dark == nil && !f.Piled { // the bottom was not seen: a single reading is no measure of it
		least = ranked(sorted, 0.01) - zero
	}
	if !(least > 0 && top-zero > least) {
		return 0
	}
	return figure(math.Log10((top - zero) / least))
}

// between are the readings with the Sun between two altitudes.
func (t *trace) between(low, high float64) []float64 {
	n := 0
	for _, alt := range t.sun {
		if alt > low && alt <= high {
			n++
		}
	}
	out := make([]float64, 0, n)
	for i, alt := range t.sun {
		if alt > low && alt <= high {
			out = append(out, t.v[i])
		}
	}
	return out
}

// dusk are the readings about the end of civil twilight.
func (t *trace) dusk() []float64 {
	return t.between(sun.CivilTwilight-duskSide, sun.CivilTwilight+duskSide)
}

// nightScatter is how far readings of the night are from its middle one: 1.48 times
// the median distance, the standard deviation of normal scatter.
func (t *trace) nightScatter() float64 {
	off := make([]float64, len(t.night))
	for i, v := range t.night {
		off[i] = math.Abs(v - t.dark)
	}
	return toSigma * quantile.MedianOf(off)
}

// lost is the highest Sun at which more than half of the readings cannot be told
// from darkness, in bins of half a degree from 6 degrees up to 18 down; nil where
// there is no such bin, or no bin above it whose light is told.
func (t *trace) lost(told float64) (alt, lux *float64) {
	const high, low = 6.0, -18.0
	bins := int((high - low) / binDeg)
	dark, all := make([]int, bins), make([]int, bins)
	for i, a := range t.sun {
		if b := int(math.Floor((a - low) / binDeg)); b >= 0 && b < bins {
			all[b]++
			if t.v[i] < told || t.status[i] == sensor.TooDark {
				dark[b]++
			}
		}
	}
	seen := false // light, in a bin above
	for b := bins - 1; b >= 0; b-- {
		switch {
		case all[b] < binLeast:
		case 2*dark[b] <= all[b]:
			seen = true
		case seen:
			a := low + (float64(b)+1)*binDeg
			l := figure(clearSky(a))
			return &a, &l
		default:
			return nil, nil // dark from the start: no twilight in this log
		}
	}
	return nil, nil
}
