package eclipse

import "math"

// A reach bounds what a site of some latitude can do, so that a look at one instant
// can tell that it stays outside the penumbra for good.
type reach struct {
	slowness float64 // hours that it takes at most to go an Earth radius along the track
	bend     float64 // greatest acceleration in the fundamental plane, Earth radii an hour squared
	umbra    float64 // distance from the axis beyond which there is no umbra, Earth radii
}

// reach is that of the observer's latitude.
func (o *Observer) reach() (b reach) {
	p, e := o.prep, o.prep.elements
	const pieces = 8
	track, turn := math.Inf(1), 0.0
	for i := -pieces; i <= pieces; i++ {
		t := e.Span * float64(i) / pieces
		track = min(track, p.alongX*e.X.rate(t)+p.alongY*e.Y.rate(t))
		turn = max(turn, e.Mu.rate(t)*deg)
		b.umbra = max(b.umbra, math.Abs(e.L2.At(t)))
	}
	// A hundredth is for what happens between those instants; 0.001 for the axis'
	// declination, which changes by 3e-4 radians an hour; 0.01 for the umbra's cone,
	// 0.0047 over an Earth radius.
	b.slowness = 1 / max(0, 0.99*track-1.01*turn*o.rhoCos-0.001)
	b.bend = 1.01*turn*turn*o.rhoCos + 0.001
	b.umbra += 0.01
	return b
}

// room is by how much the penumbra's radius over the site may change, Earth radii:
// its cone's slope is 0.0047.
const room = 0.01

// A whereabouts says what one look at the distance from the axis tells.
type whereabouts uint8

const (
	near       whereabouts = iota // so close to the penumbra that only maximum tells
	elsewhen                      // the least distance is at another time: look again
	outOfReach                    // of the penumbra, for good
	unclear
)

// approach weighs the way to the axis: what can be said, and unless it is near, how
// far off its least distance is, hours.
//
// With r0 the offset from the axis at the least of straight motion at speed v, and
// a bound A on the acceleration, the site is at least sqrt(r0^2 + v^2 t^2) - A t^2/2
// from the axis t hours from then. That is concave in t^2: more than a radius L at
// both ends of a span, it is more than L within. The span ends where the site is L
// away along the track, which it leaves at no less than its slowest speed.
func (b *reach) approach(g *glimpse, p *Prepared) (whereabouts, float64) {
	L := g.l1 + room
	away := (g.distance2-L*L)*g.speed2 - g.along*g.along
	if away <= 0 {
		return near, 0
	}
	off := -g.along / g.curve()
	if math.Abs(off) > 0.05 {
		return elsewhen, off
	}
	if least := g.least(); b.beyond(g, least, L, b.span(g, p, L)) {
		return outOfReach, off
	}
	return unclear, off
}

// clearance is by how much the site stays clear of the penumbra at the least, Earth
// radii, given that it is out of reach; or 0. Sites so near to it are out of reach too,
// for they are never farther from it than this on the plane.
func (b *reach) clearance(g *glimpse, p *Prepared) float64 {
	least := g.least()
	L := g.l1 + room
	free := 0.9*(math.Sqrt(least)-L) - slack
	for range 2 {
		if free <= 0.02 { // a degree: not worth leaving the neighbours for
			break
		}
		if far := L + free; b.beyond(g, least, far, b.span(g, p, far)) {
			return free
		}
		free /= 2
	}
	return 0
}

// least is the square of the least distance from the axis of straight motion.
func (g *glimpse) least() float64 { return g.distance2 - g.along*g.along/g.speed2 }

// span is when at the latest, in hours from a look, the site is some radius L away
// along the track.
func (b *reach) span(g *glimpse, p *Prepared, L float64) float64 {
	return (L + math.Abs(p.alongX*g.u+p.alongY*g.v)) * b.slowness
}

// beyond says whether the site is over L from the axis t hours from a look that is
// within 0.05 hours of the least distance of straight motion, whose square is given.
func (b *reach) beyond(g *glimpse, least, L, t float64) bool {
	edge := L + 0.55*b.bend*t*t + slack
	return least+g.speed2*t*t > edge*edge
}

// slack, and the tenth in beyond, are for the 0.05 hours: (t + 0.05)^2 is less than
// 1.1 t^2 + 0.03, and the bend less than 0.08. Earth radii.
const slack = 0.005
