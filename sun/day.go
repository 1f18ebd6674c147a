package sun

import (
	"math"
	"time"

	"example.org/noonfall/sun/timescale"
)

// A Day is the Sun's course over one site through one civil day, prepared once
// and then read at any instant for a small part of what [Observer.Position]
// costs, and searched for the day's events. It is safe for concurrent use. The
// zero value is no day: make one with [Observer.Day].
type Day struct {
	observer   *Observer
	start, end time.Time
	from, to   timescale.TT // of the civil day

	middle timescale.TT // of the prepared span
	half   float64      // its half width, s
	hour   quartic      // hour angle, radians, growing from turn to turn
	axis   quartic      // the Sun's distance from the Earth's axis, au
	plane  quartic      // and from the equator's plane, north positive, au

	turns []turn // start, the highest and lowest Sun between, end
}

// margin is how far either side of the civil day the prepared span reaches, s, so
// that a turn of the Sun's altitude at midnight is seen from both sides.
const margin = 1800.0

// Day prepares the civil day that a time falls on, in the time's own Location:
// time.Date(2027, 8, 2, 0, 0, 0, 0, time.FixedZone("CEST", 7200)), say. The hour
// within the day does not matter. The day lasts from midnight to midnight there,
// 23 or 25 hours where clocks are put forward or back; before 1972 civil time is
// taken as UT1, as package timescale has it. It costs some 30 us.
//
// The error is a *RangeError: for a year outside -2000 to 6000, for which the
// series of [Apparent] are not meant, or a zone more than a day from UTC.
func (o *Observer) Day(date time.Time) (*Day, error) {
	if e := outside("Day.Year", float64(date.Year()), -2000, 6000); e != nil {
		return nil, e
	}
	_, offset := date.Zone()
	if e := outside("Day.ZoneHours", float64(offset)/3600, -farthestZone, farthestZone); e != nil {
		return nil, e
	}
	d := &Day{observer: o}
	d.start, d.end = civilDay(date)
	d.from, d.to = o.scale.TT(d.start), o.scale.TT(d.end)
	d.prepare()
	d.turns = d.findTurns()
	return d, nil
}

// Start returns the day's first instant, in the zone it was asked for in.
func (d *Day) Start() time.Time { return d.start }

// End returns the first instant of the day that follows.
func (d *Day) End() time.Time { return d.end }

// prepare lays quartics through five instants. In a day the hour angle departs
// from even motion by seconds of time and the declination runs almost straight,
// so that four powers leave 1e-8 degrees (a test measures it).
func (d *Day) prepare() {
	d.middle = d.from + (d.to-d.from)/2
	d.half = float64(d.to-d.from)/2 + margin
	var hour, axis, plane [5]float64
	for i, u := range chebyshev {
		t := d.middle + timescale.TT(u*d.half)
		p := Apparent(t)
		H := d.observer.hourAngle(t, p)
		if i > 0 {
			H = unwrap(H, hour[0]/deg+(u-chebyshev[0])*d.half/240) // a degree in 240 s
		} else {
			H = wrap(H)
		}
		sinδ, cosδ := math.Sincos(p.Dec * deg)
		hour[i], axis[i], plane[i] = H*deg, p.Distance*cosδ, p.Distance*sinδ
	}
	d.hour, d.axis, d.plane = through(hour), through(axis), through(plane)
}

// unwrap returns the angle that equals d by whole turns and is nearest to another.
func unwrap(d, near float64) float64 { return near + math.Remainder(d-near, 360) }

// Position is the Sun's topocentric direction at an instant, without refraction:
// that of the observer's own Position within 1e-6 degrees inside the day and half
// an hour either side of it. Further out it is that Position, at its price.
func (d *Day) Position(t timescale.TT) Horizontal {
	u := float64(t-d.middle) / d.half
	if !(u >= -1 && u <= 1) {
		return d.observer.Position(t)
	}
	return d.observer.horizontal(d.hour.at(u), d.axis.at(u), d.plane.at(u))
}

// A quartic is a polynomial over [-1, 1] in Newton's form on the chebyshev nodes:
// c0 + (u - u0)(c1 + (u - u1)(c2 + ...)).
type quartic [5]float64

// chebyshev are the zeros of the fifth Chebyshev polynomial, cos((2k + 1) pi/10):
// the nodes that spread an interpolation's error evenly over [-1, 1].
var chebyshev = [5]float64{-0.9510565162951535, -0.5877852522924731, 0, 0.5877852522924731, 0.9510565162951535}

// through is the quartic with the given values at the nodes, by divided
// differences.
func through(v [5]float64) quartic {
	for order := 1; order < len(v); order++ {
		for i := len(v) - 1; i >= order; i-- {
			v[i] = (v[i] - v[i-1]) / (chebyshev[i] - chebyshev[i-order])
		}
	}
	return v
}

func (q *quartic) at(u float64) float64 {
	return q[0] + (u-chebyshev[0])*(q[1]+(u-chebyshev[1])*(q[2]+(u-chebyshev[2])*(q[3]+(u-chebyshev[3])*q[4])))
}
