package eclipse

import (
	"math"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// A CentralLine says where a site lies from the line on which Sun and Moon stand
// concentric. The zero value is that of an eclipse that has none.
type CentralLine struct {
	Exists bool
	// Km is the distance to the nearest point of the line along the ground, km, good
	// to half a percent: the Earth is taken as a sphere of its equatorial radius.
	Km float64
	// TT is when the axis passes that point.
	TT timescale.TT
}

// CentralLine finds the nearest point of the central line, whether or not the Sun is
// up at the site and whatever the site sees. It costs a tenth of a millisecond.
func (o *Observer) CentralLine() CentralLine {
	e := o.prep.elements
	sea := *o // the ground below the observer
	s := o.site
	sea.rhoSin, sea.rhoCos = sun.Site{Lat: s.Lat, Lon: s.Lon}.Geocentric()
	chord := func(t float64) float64 {
		foot := e.ground(t)
		if !foot.hit {
			return math.Inf(1)
		}
		var w view
		sea.see(t, &w)
		return math.Sqrt(w.u*w.u + w.v*w.v + (foot.ζ-w.ζ)*(foot.ζ-w.ζ))
	}
	const step = 1.0 / 30 // two minutes: the line is at least five minutes long but for the shallowest
	best, least := 0.0, math.Inf(1)
	for t := -e.Span; t <= e.Span; t += step {
		if d := chord(t); d < least {
			best, least = t, d
		}
	}
	if math.IsInf(least, 1) {
		// A line too short for the steps passes at greatest eclipse or not at all.
		if best = o.hours(e.Greatest().TT); math.IsInf(chord(best), 1) {
			return CentralLine{}
		}
	}
	golden := (math.Sqrt(5) - 1) / 2
	a, b := best-step, best+step
	for range 40 {
		c, d := b-golden*(b-a), a+golden*(b-a)
		if fc, fd := chord(c), chord(d); fc < fd || math.IsInf(fd, 1) && d > best {
			b = d
		} else {
			a = c
		}
	}
	t := (a + b) / 2
	if d := chord(t); math.IsInf(d, 1) {
		t = best
	}
	const radius = 6378.137 // km, WGS84
	return CentralLine{Exists: true, Km: 2 * radius * math.Asin(min(1, chord(t)/2)), TT: o.instant(t)}
}
