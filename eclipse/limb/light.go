package limb

import (
	"math"

	"example.org/noonfall/eclipse/disc"
)

// A pane is some minutes of the Moon before the Sun with the limb at both ends.
type pane struct {
	track
	grid   *grid
	radius [points]float64 // in the middle
	drift  [points]float64 // by the end
	// The limb's least and greatest distance in these minutes.
	inner, outer float64
}

func (m *Moon) pane(t track, p *pane) {
	p.track, p.grid = t, m.grid
	m.grid.radii(t.start.Lon, t.start.Lat, &p.radius)
	m.grid.radii(t.end.Lon, t.end.Lat, &p.drift)
	for i, first := range p.radius {
		p.radius[i], p.drift[i] = (first+p.drift[i])/2, (p.drift[i]-first)/2
	}
	p.bound()
}

// bound finds how near and far the limb comes.
func (p *pane) bound() {
	p.inner, p.outer = math.Inf(1), 0
	for i, r := range p.radius {
		d := math.Abs(p.drift[i])
		p.inner, p.outer = min(p.inner, r-d), max(p.outer, r+d)
	}
}

// A rim is what a law of limb darkening leaves outside a point of the disc, tabulated
// over mu squared: that part is nearly straight, and a crescent needs it relative to
// what little there is.
type rim [rimSteps + 2]float64

const rimSteps = 1024

func newRim(law disc.Law) *rim {
	var out rim
	for i := range out {
		mu := math.Min(1, math.Max(float64(i), 0.01)/rimSteps) // the limit at the limb
		out[i] = law.Ring(mu) / (mu * mu)
	}
	return &out
}

// ring is the light outside a point of the disc with mu squared, none off the disc.
func (r *rim) ring(mu2 float64) float64 {
	if !(mu2 > 0) {
		return 0
	}
	x := math.Sqrt(mu2) * rimSteps
	i := min(int(x), rimSteps)
	x -= float64(i)
	return mu2 * (r[i] + x*(r[i+1]-r[i]))
}

// light is the visible part of the Sun's light at an argument of the track. By Green's
// theorem it is an integral along the limb, where that stands before the Sun,
//
//	1/2pi integral of ring d phi
//
// with phi the angle about the Sun's centre, and one more where the Moon leaves that
// free (package disc has the same for circles). Between its points the limb is
// straight.
func (p *pane) light(law *rim, at float64) float64 {
	sx, sy, size := p.x.at(at), p.y.at(at), p.sun.at(at)
	scale := 1 / size
	sun := int(circle(math.Atan2(sx, sy)/deg)/step) % points
	sum, free := 0.0, 0.0
	pieces := p.before(math.Hypot(sx, sy), size)
	i := (sun - pieces/2 + 1 + points) % points // where the first begins; the one at sun is among them
	r := p.radius[i] + at*p.drift[i]
	x, y := (r*p.grid.sin[i]-sx)*scale, (r*p.grid.cos[i]-sy)*scale
	m := 1 - x*x - y*y // mu squared, if positive
	h := law.ring(m)
	for range pieces {
		crossing := i == sun
		if i++; i == points {
			i = 0
		}
		r := p.radius[i] + at*p.drift[i]
		nx, ny := (r*p.grid.sin[i]-sx)*scale, (r*p.grid.cos[i]-sy)*scale
		nm := 1 - nx*nx - ny*ny
		nh := 0.0
		if m > 0 || nm > 0 {
			nh = law.ring(nm)
			sum += mean(m, nm, h, nh) * turn(x, y, nx, ny)
		}
		if crossing && nx*y < x*ny {
			free = 1 // the piece that crosses the line of centres passes before the Sun's
		}
		x, y, m, h = nx, ny, nm, nh
	}
	return math.Max(0, math.Min(1, free+sum/(2*math.Pi)))
}

// before is how many pieces of the limb, around the one towards the Sun's centre, may stand
// before a Sun of that size so far away: a point is as far from the Sun's centre as the
// triangle with the two centres has it, and nearer than the Sun's edge where the angle at the
// Moon's centre is small enough.
func (p *pane) before(away, size float64) int {
	cos := func(r float64) float64 { return (r*r + away*away - size*size) / (2 * r * away) }
	least := min(cos(p.inner), cos(p.outer))
	if r := math.Sqrt(max(0, away*away-size*size)); r > p.inner && r < p.outer {
		least = cos(r)
	}
	if !(least > -1) {
		return points
	}
	half := int(math.Acos(min(1, least))/deg/step) + 2
	return min(points, 2*half)
}

// mean of the ring along a piece of limb; near the Sun's edge it goes as mu squared,
// and that nearly linearly in the distance.
func mean(m, n, hm, hn float64) float64 {
	switch {
	case n <= 0:
		return hm / 2 * m / (m - n)
	case m <= 0:
		return hn / 2 * n / (n - m)
	}
	return (hm + hn) / 2
}

// turn is the angle between two points about the origin, positive from north to east.
func turn(x, y, nx, ny float64) float64 {
	cross, dot := nx*y-x*ny, x*nx+y*ny
	if math.Abs(cross) < 0.01*dot {
		tan := cross / dot
		return tan * (1 - tan*tan/3)
	}
	return math.Atan2(cross, dot)
}
