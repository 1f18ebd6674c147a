package eclipse

import (
	"fmt"
	"math"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// A Horizon decides when the Sun counts as up. The zero value is what people
// see: the upper limb, lifted by refraction.
type Horizon uint8

// The horizons. Refraction on it is 34 arcmin, as the almanacs take it.
const (
	RefractedUpperLimb Horizon = iota // any of the Sun shows; centre above about -0.83 degrees
	RefractedCentre                   // centre above -0.57 degrees
	UpperLimb                         // without air
	Centre                            // the geometric altitude of the centre above zero
)

// horizons is the one table of what they mean.
var horizons = [...]struct {
	name       string
	refraction float64 // degrees
	limb       float64 // solar radii that reach above the centre
}{
	RefractedUpperLimb: {"refracted upper limb", 34.0 / 60, 1},
	RefractedCentre:    {"refracted centre", 34.0 / 60, 0},
	UpperLimb:          {"upper limb", 0, 1},
	Centre:             {"centre", 0, 0},
}

func (h Horizon) String() string {
	if int(h) < len(horizons) {
		return horizons[h].name
	}
	return fmt.Sprintf("horizon %d", uint8(h))
}

// Options belong to an Observer. The zero value is the recommended setting.
type Options struct {
	// Scale gives UTC and Delta T; timescale.FixedDeltaT reproduces a bulletin.
	Scale timescale.Scale
	// Horizon decides what counts as above the horizon.
	Horizon Horizon
}

// An Observer watches one eclipse from one site. It is safe for concurrent use.
type Observer struct {
	elements *Elements
	site     sun.Site
	opt      Options
	deltaT   timescale.DeltaT // at T0; it changes by microseconds within the day

	sinφ, cosφ     float64
	rhoSin, rhoCos float64
	lon            float64 // what is added to Mu, degrees: east longitude less the Earth's lag
	k1, k2         float64
}

// earthTurn is the Earth's turn in degrees a second of UT1 (IAU 2000 Resolution B1.8).
const earthTurn = 1.00273781191135448 * 360 / 86400

// NewObserver validates both and lays the site out for the elements. The error
// is an *ElementsError or a *sun.RangeError.
func NewObserver(e *Elements, site sun.Site, opt Options) (*Observer, error) {
	if e == nil {
		return nil, &ElementsError{Field: "all", Reason: "are missing"}
	}
	if err := e.Validate(); err != nil {
		return nil, err
	}
	if err := site.Validate(); err != nil {
		return nil, err
	}
	if int(opt.Horizon) >= len(horizons) {
		return nil, fmt.Errorf("eclipse: no such %v", opt.Horizon)
	}
	o := &Observer{elements: e, site: site, opt: opt, deltaT: opt.Scale.DeltaT(e.T0), k1: e.K1, k2: e.K2}
	o.sinφ, o.cosφ = math.Sincos(site.Lat * deg)
	o.rhoSin, o.rhoCos = site.Geocentric()
	o.lon = site.Lon - earthTurn*o.deltaT.Seconds
	return o, nil
}

// Elements returns the eclipse's elements.
func (o *Observer) Elements() *Elements { return o.elements }

// Site returns where the observer stands.
func (o *Observer) Site() sun.Site { return o.site }

// Scale returns the observer's time scale.
func (o *Observer) Scale() timescale.Scale { return o.opt.Scale }

// A view is the observer and the shadow in the fundamental frame at an instant:
// Earth equatorial radii and radians.
type view struct {
	u, v       float64 // the axis less the observer
	ζ          float64 // the observer's height over the plane
	l1, l2     float64 // radii of the cones at that height
	f1, f2     float64 // tangents
	plane1     float64 // l1 in the plane itself
	sind, cosd float64
	sinH, cosH float64
}

// A rate is how a view changes, per hour.
type rate struct{ u, v, l1, l2 float64 }

// see evaluates the view at t hours from T0.
func (o *Observer) see(t float64) (w view) {
	e := o.elements
	w.sind, w.cosd = math.Sincos(e.D.At(t) * deg)
	w.sinH, w.cosH = math.Sincos((e.Mu.At(t) + o.lon) * deg)
	w.f1, w.f2 = e.TanF1.At(t), e.TanF2.At(t)
	w.ζ = o.rhoSin*w.sind + o.rhoCos*w.cosH*w.cosd
	w.u = e.X.At(t) - o.rhoCos*w.sinH
	w.v = e.Y.At(t) - o.rhoSin*w.cosd + o.rhoCos*w.cosH*w.sind
	w.plane1 = e.L1.At(t)
	w.l1 = w.plane1 - w.ζ*w.f1
	w.l2 = e.L2.At(t) - w.ζ*w.f2
	return w
}

// move gives the rate at t of a view seen then.
func (o *Observer) move(t float64, w *view) rate {
	e := o.elements
	turn, tilt := e.Mu.rate(t)*deg, e.D.rate(t)*deg
	ξ, η := o.rhoCos*w.sinH, o.rhoSin*w.cosd-o.rhoCos*w.cosH*w.sind
	rise := η*tilt - turn*ξ*w.cosd
	return rate{
		u:  e.X.rate(t) - turn*o.rhoCos*w.cosH,
		v:  e.Y.rate(t) - turn*ξ*w.sind + w.ζ*tilt,
		l1: e.L1.rate(t) - rise*w.f1 - w.ζ*e.TanF1.rate(t),
		l2: e.L2.rate(t) - rise*w.f2 - w.ζ*e.TanF2.rate(t),
	}
}

// A pair is Sun and Moon as the observer sees them, radians.
type pair struct {
	separation, sun, moon float64
	sunAway               float64 // height of the Sun over the observer along the axis, Earth radii
}

// discs recovers both bodies from the elements and looks at them from the site,
// the Moon with radius k. The axis joins them: both stand over (x, y), the Moon
// where its cone of radius l1 says, the Sun farther by the distance that f1 says.
func (o *Observer) discs(w *view, k float64) pair {
	sec1 := math.Sqrt(1 + w.f1*w.f1)
	apart := (sunRadius + o.k1) * sec1 / w.f1
	moonZ := (w.plane1-o.k1*sec1)/w.f1 - w.ζ
	sunZ := moonZ + apart
	Δ2 := w.u*w.u + w.v*w.v
	return pair{
		separation: arc(math.Sqrt(Δ2) * apart / (Δ2 + moonZ*sunZ)),
		sun:        arcsine(sunRadius / math.Sqrt(Δ2+sunZ*sunZ)),
		moon:       arcsine(k / math.Sqrt(Δ2+moonZ*moonZ)),
		sunAway:    sunZ,
	}
}

// arc is atan x and arcsine asin x; near an eclipse x stays below 0.02, where two
// terms leave 3e-10 of it.
func arc(x float64) float64 {
	if x > 0.02 {
		return math.Atan(x)
	}
	x2 := x * x
	return x * (1 - x2*(1.0/3-x2/5))
}

func arcsine(x float64) float64 {
	x2 := x * x
	return x * (1 + x2*(1.0/6+x2*3/40))
}

// magnitude is the covered part of the Sun's diameter, unclamped.
func (p pair) magnitude() float64 { return (p.sun + p.moon - p.separation) / (2 * p.sun) }

// sky gives the Sun's own direction: the sine of its altitude, and what azimuth
// and parallactic angle need. The Sun stands off the axis by up to 0.0014 degrees
// as seen from the site, hence the vector.
func (o *Observer) sky(w *view, sunZ float64) (up, south, west, length float64) {
	// Fundamental frame to the meridian's: x outwards on the equator, y east, z north.
	y, z := w.v, sunZ
	north := y*w.cosd + z*w.sind
	out := -y*w.sind + z*w.cosd
	// Turn about the pole by the hour angle: x' towards the local meridian.
	mx := out*w.cosH + w.u*w.sinH
	my := out*w.sinH - w.u*w.cosH // west
	up = mx*o.cosφ + north*o.sinφ
	south = mx*o.sinφ - north*o.cosφ
	return up, south, my, math.Sqrt(w.u*w.u + y*y + z*z)
}
