package eclipse

import "math"

// Seen gives the greatest magnitude and obscuration with the Sun up by Options.Horizon,
// as Circumstances does; both are 0 where nothing is seen. Only where the Sun is down at
// maximum and might not be at another time does it cost Circumstances' two
// microseconds.
func (r *Parallel) Seen() (magnitude, obscuration float64) {
	switch r.daylight() {
	case sunUp:
		return r.Magnitude(), r.Obscuration()
	case sunDown:
		return 0, 0
	}
	c := r.Circumstances()
	return c.SeenMagnitude, c.SeenObscuration
}

// A daylight says whether the Sun is up at maximum, for certain, or down all the time.
type daylight uint8

const (
	doubtful daylight = iota
	sunUp
	sunDown
)

// horizonRoom is in degrees: the Sun stands off the axis by 0.0014, the axis' declination
// is taken as that at T0 and changes by 0.02 an hour, and a look is 2 s off.
const horizonRoom = 0.2

// daylight looks at the axis instead of the Sun.
func (r *Parallel) daylight() daylight {
	if r.kind == None {
		return sunDown
	}
	p := r.o.prep
	sin := r.o.sinφ*p.sin0 + r.o.cosφ*p.cos0*r.cosH
	if sin > horizonRoom*deg {
		return sunUp // over the highest of the horizons
	}
	within, ok := r.hours(&r.glimpse, p)
	const lowest = -1 // degrees, refracted upper limb and a little more
	climb := earthTurn * 3600 * r.o.cosφ * within
	if ok && math.Asin(max(-1, sin))/deg+climb < lowest-horizonRoom {
		return sunDown
	}
	return doubtful
}

// hours bounds how long before or after a look near maximum the site can be in the
// penumbra, by the same inequality as approach.
func (b *reach) hours(g *glimpse, p *Prepared) (t float64, ok bool) {
	L := g.l1 + room
	least := g.least()
	t = 1.15*math.Sqrt(max(0, L*L-least)/g.speed2) + 0.05
	return t, b.beyond(g, least, L, t) && b.beyond(g, least, L, math.Max(t, b.span(g, p, L)))
}
