package eclipse

import "math"

// A view is the observer and the shadow in the fundamental frame at an instant:
// Earth equatorial radii and radians.
type view struct {
	u, v       float64 // the axis less the observer
	ζ          float64 // the observer's height over the plane
	l1, l2     float64 // radii of the cones at that height
	f1, f2     float64 // tangents of their half-angles
	plane1     float64 // l1 in the plane itself
	sind, cosd float64
	h          float64 // local hour angle of the axis, not reduced to a turn
	sinH, cosH float64
}

// see evaluates the view at t hours from T0.
func (o *Observer) see(t float64, w *view) {
	rows := o.prep.terms
	r := &rows[0]
	x, y, δ, μ, l1, l2, f1, f2 := r.x, r.y, r.δ, r.μ, r.l1, r.l2, r.f1, r.f2
	for i := 1; i < len(rows); i++ {
		r := &rows[i]
		x, y, δ, μ = x*t+r.x, y*t+r.y, δ*t+r.δ, μ*t+r.μ
		l1, l2, f1, f2 = l1*t+r.l1, l2*t+r.l2, f1*t+r.f1, f2*t+r.f2
	}
	sind, cosd := o.prep.declination(δ)
	h := μ + o.lon
	sinH, cosH := math.Sincos(h)
	out := o.rhoCos * cosH
	ζ := o.rhoSin*sind + out*cosd
	w.u, w.v, w.ζ = x-o.rhoCos*sinH, y-o.rhoSin*cosd+out*sind, ζ
	w.l1, w.l2, w.f1, w.f2, w.plane1 = l1-ζ*f1, l2-ζ*f2, f1, f2, l1
	w.sind, w.cosd, w.h, w.sinH, w.cosH = sind, cosd, h, sinH, cosH
}

// declination turns the axis by δ from where it points at T0. In an eclipse δ
// stays below 0.002, where the series leave 1e-19; its bound leaves 3e-13.
func (p *Prepared) declination(δ float64) (sin, cos float64) {
	if math.Abs(δ) > 0.02 {
		s, c := math.Sincos(δ)
		return p.sin0*c + p.cos0*s, p.cos0*c - p.sin0*s
	}
	δ2 := δ * δ
	s, fall := δ*(1-δ2*(1./6-δ2*(1./120))), δ2*(1./2-δ2*(1./24))
	return p.sin0 + (p.cos0*s - p.sin0*fall), p.cos0 - (p.sin0*s + p.cos0*fall)
}

// A rate is how a view changes, per hour, with the accelerations that the
// Earth's turn causes; the axis' own are two hundred times smaller.
type rate struct {
	u, v, ζ, l1, l2 float64
	f1, plane1      float64
	uu, vv          float64
}

// move gives the rate at t of a view seen then.
func (o *Observer) move(t float64, w *view, m *rate) {
	rows := o.prep.rates
	r := &rows[0]
	x, y, δ, μ, l1, l2, f1, f2 := r.x, r.y, r.δ, r.μ, r.l1, r.l2, r.f1, r.f2
	for i := 1; i < len(rows); i++ {
		r := &rows[i]
		x, y, δ, μ = x*t+r.x, y*t+r.y, δ*t+r.δ, μ*t+r.μ
		l1, l2, f1, f2 = l1*t+r.l1, l2*t+r.l2, f1*t+r.f1, f2*t+r.f2
	}
	ξ, out := o.rhoCos*w.sinH, o.rhoCos*w.cosH
	η := o.rhoSin*w.cosd - out*w.sind
	ζ := η*δ - μ*ξ*w.cosd
	m.u, m.v, m.ζ = x-μ*out, y-μ*ξ*w.sind+w.ζ*δ, ζ
	m.l1, m.l2 = l1-ζ*w.f1-w.ζ*f1, l2-ζ*w.f2-w.ζ*f2
	m.f1, m.plane1 = f1, l1
	m.uu, m.vv = μ*μ*ξ, -μ*μ*out*w.sind
}

// A pair is Sun and Moon as the observer sees them, radians.
type pair struct {
	separation, sun, moon float64
	sunZ                  float64 // height of the Sun over the observer along the axis, Earth radii
}

// bodies recovers the height of the Moon over the observer and of the Sun over
// the Moon, from the penumbra of a Moon of radius k1. The axis joins them: both
// stand over (x, y), the Moon where its cone of radius l1 says, the Sun farther by
// the distance that f1 says.
func (w *view) bodies(k1 float64) (moonZ, apart float64) {
	f := w.f1
	sec, inverse := 1+f*f*(1./2-f*f*(1./8)), 1/f
	return (w.plane1-k1*sec)*inverse - w.ζ, (sunRadius + k1) * sec * inverse
}

// discs looks at both bodies from the site: the elements' k1, and the radius k
// that the Moon is to have.
func (w *view) discs(k1, k float64) (p pair) {
	moonZ, apart := w.bodies(k1)
	sunZ := moonZ + apart
	Δ2 := w.u*w.u + w.v*w.v
	p.separation = arc(math.Sqrt(Δ2) * apart / (Δ2 + moonZ*sunZ))
	p.sun = arcsine(sunRadius / math.Sqrt(Δ2+sunZ*sunZ))
	p.moon = arcsine(k / math.Sqrt(Δ2+moonZ*moonZ))
	p.sunZ = sunZ
	return p
}

// arc is atan x and arcsine asin x; near an eclipse x stays below 0.02, where the
// series leave 1e-12 of it.
func arc(x float64) float64 {
	if x > 0.02 {
		return math.Atan(x)
	}
	x2 := x * x
	return x * (1 - x2*(1./3-x2*(1./5-x2*(1./7))))
}

func arcsine(x float64) float64 {
	x2 := x * x
	return x * (1 + x2*(1./6+x2*(3./40)))
}

// magnitude is the covered part of the Sun's diameter, unclamped.
func (p pair) magnitude() float64 { return (p.sun + p.moon - p.separation) / (2 * p.sun) }

// A sight is the Sun's own direction at the site, Earth radii from the observer.
// The Sun stands off the axis by up to 0.0014 degrees as seen from there, hence
// not simply the axis' direction.
type sight struct{ up, south, west float64 }

// sun looks for the Sun, sunZ above the observer along the axis.
func (o *Observer) sun(w *view, sunZ float64) sight {
	// From the fundamental frame to the equator's, turned by the hour angle to the
	// meridian of the site, then tilted by its latitude.
	out, pole := sunZ*w.cosd-w.v*w.sind, w.v*w.cosd+sunZ*w.sind
	meridian := out*w.cosH + w.u*w.sinH
	return sight{
		up:    meridian*o.cosφ + pole*o.sinφ,
		south: meridian*o.sinφ - pole*o.cosφ,
		west:  out*w.sinH - w.u*w.cosH,
	}
}

// altitude of a sight, degrees, by its half: tan(alt/2) = up/(length + level) is
// in [-1, 1], where one rational approximation serves without a branch that
// altitudes at random would mispredict (S. L. Moshier's, as in Go's math.Atan). It
// is good to 1e-14 below 73 degrees and to 2e-8 at the zenith.
func (s sight) altitude() float64 {
	level2 := s.south*s.south + s.west*s.west
	x := s.up / (math.Sqrt(level2+s.up*s.up) + math.Sqrt(level2))
	z := x * x
	n := ((((-8.750608600031904122785e-01*z-1.615753718733365076637e+01)*z-7.500855792314704667340e+01)*z-
		1.228866684490136173410e+02)*z - 6.485021904942025371773e+01) * z
	d := ((((z+2.485846490142306297962e+01)*z+1.650270098316988542046e+02)*z+4.328810604912902668951e+02)*z+
		4.853903996359136964868e+02)*z + 1.945506571482613964425e+02
	return (x + x*(n/d)) * (2 / deg)
}
