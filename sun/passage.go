package sun

import (
	"math"
	"time"

	"example.org/noonfall/sun/timescale"
)

// Levels of the events of a day: altitudes of the Sun's centre without
// refraction, degrees. Any other altitude is as good a level.
const (
	// Sunrise is the almanacs' for rise and set: the upper limb on the sea's
	// horizon as seen from the water's edge, 34 arcmin of refraction and 16 of
	// semidiameter (Explanatory Supplement to the Astronomical Almanac, 1992,
	// section 9.33, from memory). From a height take [Dip] off. The altitude is
	// topocentric here; almanacs leave the 8.8 arcsec of parallax out, which is a
	// second of time or so.
	Sunrise              = -50.0 / 60
	CivilTwilight        = -6.0  // by its end lamps are needed outdoors
	NauticalTwilight     = -12.0 // by its end the sea's horizon is lost
	AstronomicalTwilight = -18.0 // beyond it the Sun adds nothing to the night
)

// Dip is by how many degrees the sea's horizon lies below the level of an eye at
// a height above the sea, metres: 1.76 arcmin times the root of the height, usual
// refraction included (Nautical Almanac, dip table, from memory). What counts is
// the height over the water or plain that makes the horizon, which the Height of
// a [Site] does not tell. Zero and below give zero.
func Dip(height float64) float64 {
	if height <= 0 {
		return 0
	}
	return 1.76 / 60 * math.Sqrt(height)
}

// A Course is what the Sun does about a level in a day. It is an answer in every
// case, none of them an error.
type Course uint8

// The courses. Of the level Sunrise, StaysAbove is the polar day and StaysBelow
// the polar night; of CivilTwilight, StaysAbove is a night that never gets dark.
const (
	NoLevel    Course = iota // the level is not a number
	Crosses                  // it passes the level, at least once, at least one way
	StaysAbove               // above it, or on it, from midnight to midnight
	StaysBelow               // below it from midnight to midnight
)

var courses = [...]string{"no level", "crosses", "stays above", "stays below"}

// String is the course as it is printed.
func (c Course) String() string {
	if int(c) < len(courses) {
		return courses[c]
	}
	return "no course"
}

// An Event is an instant of a [Day].
type Event struct {
	TT timescale.TT
	// Time is civil time in the day's zone. After the last announced leap second
	// it may be off by those to come: see [timescale.Scale.UTCHeld].
	Time time.Time
	// UT is TT - Delta T, as almanacs print it for any year.
	UT time.Time
	// Sun is where it stands then, without refraction.
	Sun Horizontal
}

func (d *Day) event(t timescale.TT) Event {
	scale := d.observer.scale
	return Event{t, scale.UTC(t).In(d.start.Location()), scale.UT1(t).Time(), d.Position(t)}
}

// A Crossing is a passage of the Sun's centre through a level.
type Crossing struct {
	Event
	Rising bool // upwards through the level
	// Rate is how fast the altitude changes, degrees an hour, negative for a
	// setting Sun. Real air lifts the horizon's Sun by some arcminutes more or
	// less than the almanacs' 34: divided by the rate that is the doubt of a rise
	// in hours. It is a minute of time in the middle latitudes, without bound
	// where the Sun skims the level.
	Rate float64
}

// A Passage is all that the Sun does about a level in one day.
type Passage struct {
	Level  float64 // degrees
	Course Course  // above, below, or crossing
	// Crossings are those of the day, in order of time: one up and one down as a
	// rule, in high latitudes none, one or three, and two sunrises on a day in
	// which the midnight Sun sets for the first time.
	Crossings []Crossing
	// Margin is how near the level the Sun comes where it does not cross it,
	// degrees, never negative. Less than the air's whims, some 0.2 degrees on the
	// horizon, and the polar day or night is one by definition only.
	Margin float64
}

// Rise returns the day's first crossing upwards, and whether there is one.
func (p Passage) Rise() (Crossing, bool) { return p.first(true) }

// Set returns the day's first crossing downwards, and whether there is one. It may
// come before the rise: the day is the zone's, the noon the site's.
func (p Passage) Set() (Crossing, bool) { return p.first(false) }

func (p Passage) first(rising bool) (Crossing, bool) {
	for _, c := range p.Crossings {
		if c.Rising == rising {
			return c, true
		}
	}
	return Crossing{}, false
}

// Passage finds what the Sun's centre does about an altitude, degrees, without
// refraction: [Sunrise], [CivilTwilight] and their like, or any other.
func (d *Day) Passage(level float64) Passage {
	p := Passage{Level: level}
	if math.IsNaN(level) {
		return p
	}
	p.Margin = math.Abs(d.turns[0].alt - level)
	for i, b := range d.turns[1:] {
		a := d.turns[i]
		p.Margin = math.Min(p.Margin, math.Abs(b.alt-level))
		if (a.alt >= level) != (b.alt >= level) {
			p.Crossings = append(p.Crossings, d.crossing(d.passing(a, b, level), b.alt > a.alt))
		}
	}
	switch {
	case len(p.Crossings) > 0:
		p.Course, p.Margin = Crosses, 0
	case d.turns[0].alt >= level:
		p.Course = StaysAbove
	default:
		p.Course = StaysBelow
	}
	return p
}

func (d *Day) crossing(t timescale.TT, rising bool) Crossing {
	const s = 1.0 // either side
	rate := (d.Position(t+s).Alt - d.Position(t-s).Alt) / (2 * s) * 3600
	return Crossing{Event: d.event(t), Rising: rising, Rate: rate}
}

// Transits are the instants of the day at which the Sun passes the site's upper
// meridian, noon by the sundial: one as a rule, two or none on a few days where
// the zone's midnight is near it. Only where the declination stands still is the
// Sun highest at that instant; near a pole that may be hours away.
func (d *Day) Transits() []Event { return d.events(d.meridian(0)) }

func (d *Day) events(instants []timescale.TT) []Event {
	var e []Event
	for _, t := range instants {
		e = append(e, d.event(t))
	}
	return e
}
