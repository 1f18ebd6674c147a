package eclipse

import (
	"math"

	"example.org/noonfall/sun/timescale"
)

// A Type is what an eclipse is on the Earth as a whole.
type Type uint8

// The types.
const (
	TypePartial Type = iota // no more than the penumbra touches the Earth
	TypeAnnular
	TypeTotal
	TypeHybrid // annular at one part of its path and total at another
)

var typeNames = [...]string{TypePartial: "partial", TypeAnnular: "annular", TypeTotal: "total", TypeHybrid: "hybrid"}

// String is one of "partial", "annular", "total" and "hybrid".
func (t Type) String() string {
	if int(t) < len(typeNames) {
		return typeNames[t]
	}
	return "no such type"
}

// Greatest is the instant at which the axis passes closest to the Earth's centre.
type Greatest struct {
	TT timescale.TT // when that is
	// Gamma is the axis' distance from the Earth's centre then, equatorial radii,
	// positive where it passes north of it.
	Gamma float64
	// Magnitude is greatest magnitude on the Earth: where the axis meets the
	// ground the ratio of diameters there, otherwise the covered part of the
	// Sun's diameter at the place nearest to the axis.
	Magnitude float64
	Type      Type // what the eclipse is on the Earth as a whole
	// Central says that the axis itself meets the Earth.
	Central bool
}

// Greatest finds greatest eclipse and the eclipse's type.
func (e *Elements) Greatest() Greatest {
	var t float64
	for range mostSteps {
		x, y, dx, dy := e.X.At(t), e.Y.At(t), e.X.rate(t), e.Y.rate(t)
		step := (x*dx + y*dy) / (dx*dx + dy*dy)
		t -= step
		if math.Abs(step) < enough {
			break
		}
	}
	x, y := e.X.At(t), e.Y.At(t)
	g := Greatest{TT: e.T0 + timescale.TT(t*3600), Gamma: math.Copysign(math.Hypot(x, y), y)}
	at := e.ground(t)
	g.Central = at.hit
	g.Magnitude = at.magnitude
	g.Type = e.kind(t, at)
	return g
}

// A footprint is where the axis meets the ground, or the place that it passes
// closest by.
type footprint struct {
	hit       bool
	ζ         float64 // height over the fundamental plane, Earth radii
	miss      float64 // distance of the axis from the Earth's outline, Earth radii; 0 where it hits
	l2        float64 // radius of the umbra there
	magnitude float64
}

// ground follows the axis down to the WGS84 ellipsoid. With out and north the
// axis' directions in the meridian, points of the ellipsoid satisfy
// x^2 + out^2 + (north/(1-f))^2 = 1, which is a quadratic in zeta.
func (e *Elements) ground(t float64) footprint {
	sin, cos := math.Sincos(e.D.At(t) * deg)
	x, y := e.X.At(t), e.Y.At(t)
	const squash = 1 / ((1 - 1/298.257223563) * (1 - 1/298.257223563)) // WGS84
	a := cos*cos + squash*sin*sin
	b := y * sin * cos * (squash - 1)
	disc := b*b - a*(x*x+y*y*(sin*sin+squash*cos*cos)-1)
	var f footprint
	ζ := -b / a
	scale := 1.0
	if f.hit = disc >= 0; f.hit {
		ζ += math.Sqrt(disc) / a
	} else {
		// The outline is where the quadratic has one root: an ellipse of half
		// axes 1 and p in x and y. Walk to its nearest point.
		p := 1 / math.Sqrt(sin*sin+squash*cos*cos-(squash-1)*(squash-1)*sin*sin*cos*cos/a)
		scale = onEllipse(x, y, p)
		f.miss = math.Hypot(x, y) * (1 - scale)
		ζ *= scale
	}
	f.ζ = ζ
	f1, f2 := e.TanF1.At(t), e.TanF2.At(t)
	f.l2 = e.L2.At(t) - ζ*f2
	// The magnitude there, seen from the footprint.
	w := view{u: x * (1 - scale), v: y * (1 - scale), ζ: ζ, f1: f1, f2: f2, plane1: e.L1.At(t)}
	k := e.K1
	if f.hit {
		k = e.K2
	}
	p := w.discs(e.K1, k)
	f.magnitude = p.magnitude()
	if f.hit {
		f.magnitude = p.moon / p.sun
	}
	return f
}

// onEllipse is by how much to shorten (x, y) to reach the ellipse of half axes 1
// and p. The nearest point is not quite on the ray, but p is above 0.9966: the
// difference is below 1e-5 of the distance.
func onEllipse(x, y, p float64) float64 { return 1 / math.Hypot(x, y/p) }

// kind tells the type from the umbra along the central line.
func (e *Elements) kind(t float64, greatest footprint) Type {
	if !greatest.hit {
		switch {
		case greatest.miss >= math.Abs(greatest.l2):
			return TypePartial
		case greatest.l2 < 0:
			return TypeTotal
		}
		return TypeAnnular
	}
	total, annular := false, false
	see := func(t float64) {
		l2 := e.ground(t).l2
		total, annular = total || l2 < 0, annular || l2 > 0
	}
	see(t)
	for _, direction := range []float64{-1, 1} {
		// The end of the line, by halving, and the stretch up to it.
		on, off := t, t+direction*4
		for range 40 {
			m := (on + off) / 2
			if e.ground(m).hit {
				on = m
			} else {
				off = m
			}
		}
		const pieces = 24
		for i := 1; i <= pieces; i++ {
			see(t + (on-t)*float64(i)/pieces)
		}
	}
	switch {
	case total && annular:
		return TypeHybrid
	case total:
		return TypeTotal
	}
	return TypeAnnular
}
