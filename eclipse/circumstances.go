package eclipse

import (
	"math"

	"example.org/noonfall/eclipse/disc"
	"example.org/noonfall/sun/timescale"
)

// A Kind is what a site gets to see.
type Kind uint8

// The kinds, from nothing upwards.
const (
	None Kind = iota
	Partial
	Annular
	Total
)

var kindNames = [...]string{None: "none", Partial: "partial", Annular: "annular", Total: "total"}

// String is one of "none", "partial", "annular" and "total".
func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return "no such kind"
}

// Circumstances are all that an eclipse does at a site.
type Circumstances struct {
	Geometry Kind // the horizon ignored
	Seen     Kind // what the Sun above the horizon shows
	// C1 and C4 are first and last contact of the penumbra, C2 and C3 begin and
	// end of the total or annular phase.
	C1, C2, Max, C3, C4 Contact
	Magnitude           float64 // at maximum; the ratio of diameters where central
	Obscuration         float64 // at maximum
	Ratio               float64 // Moon's diameter over the Sun's at maximum
	Duration            float64 // of the central phase, s; 0 where there is none

	// Rise and Set are the instants between C1 and C4 at which the Sun crosses
	// the horizon, where it does.
	Rise, Set Contact
	// MaxSeen is the deepest instant with the Sun up, with its magnitude and
	// obscuration; it does not exist where nothing is seen.
	MaxSeen                        Contact
	SeenMagnitude, SeenObscuration float64 // at MaxSeen, 0 where it does not exist

	// DeltaT is the value used, with its uncertainty.
	DeltaT timescale.DeltaT
	// TimeU is a standard uncertainty for each UTC, s: the elements' own, and in
	// full that of Delta T, although the ground runs with the shadow and an error
	// of Delta T usually moves a contact by half of itself; and where leap seconds are
	// not announced yet, what they may move UTC's label by (timescale.Scale.UTCU).
	// Where the site is and the Moon's mountains are left out.
	TimeU float64
}

// Circumstances computes the eclipse at the site: contacts to a microsecond of
// the elements, whatever the depth of a graze.
func (o *Observer) Circumstances() (c Circumstances) {
	c.DeltaT = o.prep.deltaT
	c.TimeU = math.Hypot(math.Hypot(o.prep.elements.TimeU, o.prep.deltaT.SecondsU), o.prep.utcU)
	if !o.pass.seen {
		return c
	}
	mid, top := o.pass.mid, o.pass.mid
	outer := o.gap(penumbra, mid)
	c.Geometry = Partial
	if o.pass.central {
		top = o.centralPhase(&c)
	}
	first := o.dress(&c.C1, o.crossing(penumbra, mid, -1, outer), towards)
	last := o.dress(&c.C4, o.crossing(penumbra, mid, +1, outer), towards)
	deepest := o.dress(&c.Max, o.maximum(top), towards).pair
	c.Ratio = deepest.moon / deepest.sun
	c.Magnitude = deepest.magnitude()
	if o.pass.central {
		c.Magnitude = c.Ratio
	}
	c.Obscuration = disc.Overlap(c.Ratio, deepest.separation/deepest.sun)
	o.horizon(&c, first.h, last.h)
	return c
}

// centralPhase fills in second and third contact and returns the instant between
// them, hours from T0.
func (o *Observer) centralPhase(c *Circumstances) float64 {
	t := o.pass.inner
	var w view
	var r rate
	o.see(t, &w)
	o.move(t, &w, &r)
	inner := outside(&w, &r, w.l2, r.l2)
	second, third := o.crossing(umbra, t, -1, inner), o.crossing(umbra, t, +1, inner)
	c.Duration = (third - second) * 3600
	touch := towards
	c.Geometry = Annular
	if w.l2 < 0 {
		c.Geometry, touch = Total, away
	}
	o.dress(&c.C2, second, touch)
	o.dress(&c.C3, third, touch)
	return t
}
