package shadow

import (
	"fmt"
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun/timescale"
)

// A Quantity is what a Grid can show without a function of the caller's. The zero
// value is what people see, SeenObscuration: the Sun above the horizon, whichever of
// GridOptions. Those without Seen in their name ignore the horizon and are defined on
// the night side too, where the shadow's cone runs on through the Earth.
type Quantity uint8

// The quantities. Where a site has no eclipse, degrees of cover and durations are 0,
// and instants and altitudes NaN.
const (
	SeenObscuration Quantity = iota // greatest covered part of the Sun's area with the Sun up
	SeenMagnitude                   // greatest magnitude with the Sun up
	Obscuration                     // greatest covered part of the Sun's area
	Magnitude                       // greatest magnitude, the ratio of diameters where central
	CentralDuration                 // of totality or annularity, s
	SunAltitude                     // of the Sun's centre at maximum without refraction, degrees
	Maximum                         // instant of maximum, s after Grid.T0
	FirstContact                    // C1, s after Grid.T0
	LastContact                     // C4, s after Grid.T0
)

// quantities is the one table of what they are. A Parallel knows most of them at once;
// contacts, durations, and what is seen where the Sun is down at maximum cost two
// microseconds a site.
var quantities = [...]struct {
	name, unit string
	of         func(*eclipse.Parallel) float64
}{
	SeenObscuration: {"seen obscuration", "1", func(r *eclipse.Parallel) float64 { _, o := r.Seen(); return o }},
	SeenMagnitude:   {"seen magnitude", "1", func(r *eclipse.Parallel) float64 { m, _ := r.Seen(); return m }},
	Obscuration:     {"obscuration", "1", (*eclipse.Parallel).Obscuration},
	Magnitude:       {"magnitude", "1", (*eclipse.Parallel).Magnitude},
	CentralDuration: {"central duration", "s", func(r *eclipse.Parallel) float64 {
		if r.Geometry() <= eclipse.Partial {
			return 0
		}
		return r.Circumstances().Duration
	}},
	SunAltitude:  {"altitude of the Sun at maximum", "deg", (*eclipse.Parallel).SunAlt},
	Maximum:      {"maximum", "s after T0", func(r *eclipse.Parallel) float64 { return after(r, r.Max()) }},
	FirstContact: {"first contact", "s after T0", func(r *eclipse.Parallel) float64 { return contact(r, firstContact) }},
	LastContact:  {"last contact", "s after T0", func(r *eclipse.Parallel) float64 { return contact(r, lastContact) }},
}

func firstContact(c *eclipse.Circumstances) timescale.TT { return c.C1.TT }
func lastContact(c *eclipse.Circumstances) timescale.TT  { return c.C4.TT }

func contact(r *eclipse.Parallel, of func(*eclipse.Circumstances) timescale.TT) float64 {
	if r.Geometry() == eclipse.None {
		return math.NaN()
	}
	c := r.Circumstances()
	return after(r, of(&c))
}

// after is an instant in seconds after T0.
func after(r *eclipse.Parallel, t timescale.TT) float64 {
	if r.Geometry() == eclipse.None {
		return math.NaN()
	}
	return float64(t - r.Elements().T0)
}

// String is the quantity's name.
func (q Quantity) String() string {
	if int(q) < len(quantities) {
		return quantities[q].name
	}
	return fmt.Sprintf("quantity %d", uint8(q))
}

// Unit is the quantity's unit: 1, s, deg, or s after T0.
func (q Quantity) Unit() string {
	if int(q) < len(quantities) {
		return quantities[q].unit
	}
	return ""
}
