package sun

import (
	"math"

	"example.org/noonfall/sun/timescale"
)

// A turn is an end of a stretch in which the Sun only climbs or only sinks.
type turn struct {
	t   timescale.TT
	alt float64 // degrees, without refraction
}

// look is how far apart the altitude is looked at in search of its turns, s. Two
// turns closer than this happen only within a tenth of a degree of a pole, where
// the daily circle is so small that the season's climb nearly hides it; between
// them lies less than 1e-6 degrees.
const look = 600.0

// findTurns divides the day at its highest and lowest Suns, so that between
// neighbours the altitude passes any level once at most. Usually that makes one
// or two turns between the day's ends, at the very poles none.
func (d *Day) findTurns() []turn {
	turns := []turn{d.turnAt(d.from)}
	a, b := d.turnAt(d.from-look), turns[0]
	for a.t < d.to {
		c := d.turnAt(b.t + look)
		sign := 0.0
		switch {
		case b.alt > a.alt && b.alt >= c.alt:
			sign = 1
		case b.alt < a.alt && b.alt <= c.alt:
			sign = -1
		}
		if sign != 0 {
			// A top may lie past a midnight though a look within the day is above both
			// its neighbours, or the other way about.
			if top := d.peak(a.t, c.t, sign); top.t > d.from && top.t < d.to {
				turns = append(turns, top)
			}
		}
		a, b = b, c
	}
	return append(turns, d.turnAt(d.to))
}

func (d *Day) turnAt(t timescale.TT) turn { return turn{t, d.Position(t).Alt} }

// peak narrows the highest Sun between two instants, or the lowest if sign is
// negative, by golden section. Near the zenith the top is a cusp, so no parabola.
func (d *Day) peak(from, to timescale.TT, sign float64) turn {
	const golden = 0.6180339887498949 // (sqrt 5 - 1)/2
	a, b := to-timescale.TT(golden)*(to-from), from+timescale.TT(golden)*(to-from)
	fa, fb := sign*d.Position(a).Alt, sign*d.Position(b).Alt
	for to-from > 1e-4 { // s; at a cusp that leaves 4e-7 degrees, at a round top nothing
		if fa > fb {
			to, b, fb = b, a, fa
			a = to - timescale.TT(golden)*(to-from)
			fa = sign * d.Position(a).Alt
		} else {
			from, a, fa = a, b, fb
			b = from + timescale.TT(golden)*(to-from)
			fb = sign * d.Position(b).Alt
		}
	}
	return d.turnAt(from + (to-from)/2)
}

// passing bisects for the instant at which the Sun passes a level between two
// neighbouring turns that lie on either side of it.
func (d *Day) passing(a, b turn, level float64) timescale.TT {
	low, high := a.t, b.t
	rising := b.alt > a.alt
	for high-low > 1e-6 { // s
		middle := low + (high-low)/2
		if !(middle > low && middle < high) {
			break
		}
		if (d.Position(middle).Alt >= level) == rising {
			high = middle
		} else {
			low = middle
		}
	}
	return high
}

// meridian finds the instants of the day at which the hour angle is a given one,
// radians.
func (d *Day) meridian(angle float64) []timescale.TT {
	hourAt := func(t timescale.TT) float64 { return d.hour.at(float64(t-d.middle) / d.half) }
	const rate = 2 * math.Pi / 86400 // of the mean Sun; the true one keeps to 0.04 %
	var found []timescale.TT
	first := math.Ceil((hourAt(d.from) - angle) / (2 * math.Pi))
	for n := first; ; n++ {
		want := angle + n*2*math.Pi
		t := d.from
		for range 6 { // each step gains three digits
			t += timescale.TT((want - hourAt(t)) / rate)
		}
		if !(t < d.to) {
			return found
		}
		if t >= d.from {
			found = append(found, t)
		}
	}
}
