package station

import (
	"fmt"
	"slices"

	"example.org/noonfall/sensor"
)

// A Ceiling is a reading above which the light shows no more.
type Ceiling struct {
	Reading float64 `json:"reading"` // the least one that counts as saturated; lux where the chain is known
	Samples int     `json:"samples"` // at the ceiling
	// NoonShare is the share of samples at the ceiling while the Sun stands at more
	// than half its height of noon; nil without a site, or samples then.
	NoonShare *float64 `json:"noon_share"`
	// SunDeg is the Sun's altitude from which readings are at the ceiling, degrees: two
	// in a hundred of them have it lower. Nil without a site.
	SunDeg *float64 `json:"sun_deg"`
	// Sure is how sure it is that this is the sensor and not the light: "known" from
	// the chain; "sure", a pile at the full scale of a converter; "likely", a pile at
	// another reading, which the light came up to; "possible", a pile that it jumped
	// to, as a lamp does, or readings close under a full scale.
	Sure string `json:"sure"`
	Why  string `json:"why"` // in words
}

// How sure a Ceiling is.
const (
	SureKnown    = "known"
	SureFull     = "sure"
	SureLikely   = "likely"
	SurePossible = "possible"
)

// fullScales are the greatest codes of converters, 2^bits - 1.
var fullScales = []struct {
	code float64
	bits int
}{{255, 8}, {1023, 10}, {4095, 12}, {16383, 14}, {32767, 15}, {65535, 16}, {8388607, 23}, {16777215, 24}}

const (
	// nearFull is the part of full scale that small converters do not reach, or not
	// truly (from memory; the default of package sensor's dead zone).
	nearFull = 0.98
	// nearShare of all readings must be that near before it means anything. (Common
	// practice, no source.)
	nearShare = 0.05
	// climbNumbers are different readings between half the ceiling and it that show
	// that the light came up to it. (Common practice, no source.)
	climbNumbers = 10
	// lowestFull is the share of saturated readings that may be so by lit clouds alone.
	// (Common practice, no source.)
	lowestFull = 0.02
	// lowestSun for a sample of the hours around noon, degrees: below, the clear sky
	// has a tenth of full Sun.
	lowestSun = 5
)

// ceiling finds saturation: by the status of readings where the chain is known,
// else by where they pile up.
func (t *trace) ceiling(known bool) *Ceiling {
	var c *Ceiling
	if known {
		c = t.knownCeiling()
	} else {
		c = t.seenCeiling()
	}
	if c == nil {
		return nil
	}
	var at, noon int
	var suns []float64
	for i := range t.v {
		full := t.isFull(i, c)
		if full {
			c.Samples++
		}
		if t.sun == nil {
			continue
		}
		if t.noon[i] {
			noon++
			if full {
				at++
			}
		}
		if full && t.sun[i] > lowestSun {
			suns = append(suns, t.sun[i])
		}
	}
	if noon > 0 {
		s := share(at, noon)
		c.NoonShare = &s
	}
	if len(suns) > 0 {
		slices.Sort(suns)
		s := figure(ranked(suns, lowestFull))
		c.SunDeg = &s
	}
	return c
}

// isFull says that a sample is at the ceiling.
func (t *trace) isFull(i int, c *Ceiling) bool {
	if c == nil {
		return false
	}
	if c.Sure == SureKnown {
		return t.status[i] == sensor.Saturated
	}
	return t.v[i] >= c.Reading
}

func (t *trace) knownCeiling() *Ceiling {
	for i, s := range t.status {
		if s == sensor.Saturated {
			return &Ceiling{Reading: figure(t.v[i]), Sure: SureKnown, Why: "the station's chain says what its sensor can read"}
		}
	}
	return nil
}

func (t *trace) seenCeiling() *Ceiling {
	top := t.sorted[len(t.sorted)-1]
	if !(top > 0) {
		return nil
	}
	if p, ok := pileAtTop(t.sorted, t.step); ok {
		c := &Ceiling{Reading: p.from, Why: fmt.Sprintf("%d readings of %g, and hardly any just below", p.count, top)}
		if !p.exact {
			c.Why = fmt.Sprintf("%d readings from %g to %g, and hardly any just below", p.count, p.from, top)
		}
		bits := bitsOf(top)
		switch climbed := t.numbersBetween(top/2, p.from); {
		case bits > 0:
			c.Sure, c.Why = SureFull, c.Why+fmt.Sprintf("; it is the full scale of %d bits", bits)
		case climbed >= climbNumbers:
			c.Sure = SureLikely
		default:
			c.Sure, c.Why = SurePossible, c.Why+"; but the light jumped there, as a lamp's does"
		}
		return c
	}
	for _, f := range fullScales {
		if top > nearFull*f.code && top <= f.code {
			return t.nearCeiling(f.code, f.bits)
		}
	}
	return nil
}

// nearCeiling is a full scale that readings come close to, without a pile.
func (t *trace) nearCeiling(code float64, bits int) *Ceiling {
	near := 0
	for _, v := range t.v {
		if v > nearFull*code {
			near++
		}
	}
	if share(near, len(t.v)) < nearShare {
		return nil
	}
	return &Ceiling{Reading: figure(nearFull * code), Sure: SurePossible,
		Why: fmt.Sprintf("%d readings are within 2 %% of %g, the full scale of %d bits, if the sensor has such a converter", near, code, bits)}
}

// bitsOf is the resolution whose greatest code a reading is, or 0.
func bitsOf(v float64) int {
	for _, f := range fullScales {
		if v == f.code {
			return f.bits
		}
	}
	return 0
}

// numbersBetween counts different readings above low and below high.
func (t *trace) numbersBetween(low, high float64) int {
	n := 0
	for _, v := range t.distinct {
		if v > low && v < high {
			n++
		}
	}
	return n
}
