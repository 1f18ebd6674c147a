package eclipse

import (
	"errors"
	"fmt"
	"iter"
	"math"
	"time"

	"example.org/noonfall/eclipse/disc"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// ErrNoEclipse says that the site lies outside the Moon's shadow throughout.
var ErrNoEclipse = errors.New("eclipse: the site sees no eclipse")

// DefaultFloor is the light left in totality, lx, where the caller gives none:
// two measured minima are 3.8 lx (1932, under cloud) and 4.1 lx (2006, clear),
// testdata/references/eclipse_light_measured.csv. Between sites and sites it
// ranges from one to ten.
const DefaultFloor = 4.0

// CurveOptions tunes a Curve. The zero value is the recommended setting.
type CurveOptions struct {
	// Law is the Sun's limb darkening; the zero law means disc.Visible, 550 nm.
	// A uniform disc, which no sensor sees, is had from a power law of exponent 0.
	Law disc.Law
	// Sky is the clear sky that the light falls from.
	Sky sun.Sky
	// Floor is the light left in totality, lx; zero means DefaultFloor.
	Floor float64
}

// A Curve is the light of one eclipse at one site over time, prepared once and
// then read at any instant. It is safe for concurrent use.
type Curve struct {
	observer *Observer
	circ     Circumstances
	opt      CurveOptions
	k        float64 // the lunar radius throughout
	total    [2]float64
	stretch  []stretch
	far      *sun.Observer // the Sun outside the elements' span
}

// NewCurve prepares the light at an observer's site. The error is ErrNoEclipse
// where there is none, whether or not the Sun would be up.
func NewCurve(o *Observer, opt CurveOptions) (*Curve, error) {
	if !(opt.Floor >= 0) || math.IsInf(opt.Floor, 1) {
		return nil, fmt.Errorf("eclipse: CurveOptions.Floor is %g lx, want zero or more", opt.Floor)
	}
	if opt.Floor == 0 {
		opt.Floor = DefaultFloor
	}
	if opt.Law == (disc.Law{}) {
		opt.Law = disc.Visible()
	}
	c := &Curve{observer: o, circ: o.Circumstances(), opt: opt, k: o.k1, total: [2]float64{math.Inf(1), math.Inf(-1)}}
	if c.circ.Geometry == None {
		return nil, ErrNoEclipse
	}
	var err error
	if c.far, err = sun.NewObserver(o.site, o.opt.Scale); err != nil {
		return nil, err
	}
	knots := []float64{o.hours(c.circ.C1.TT), o.hours(c.circ.Max.TT), o.hours(c.circ.C4.TT)}
	if c.circ.Geometry > Partial {
		c.k = o.k2
		second, third := c.touch(o.hours(c.circ.C2.TT)), c.touch(o.hours(c.circ.C3.TT))
		knots = []float64{knots[0], second, knots[1], third, knots[2]}
		if c.circ.Geometry == Total {
			c.total = [2]float64{second, third}
		}
	}
	for i := 1; i < len(knots); i++ {
		a, b := knots[i-1], knots[i]
		if a >= c.total[0] && b <= c.total[1] {
			continue // nothing left to tabulate in totality
		}
		m := (a + b) / 2
		c.stretch = append(c.stretch, c.tabulate(a, m, a == c.total[1]), c.tabulate(b, m, b == c.total[0]))
	}
	return c, nil
}

// touch moves an inner contact to where the two discs themselves touch. The cones
// of printed elements, rounded to 1e-6 Earth radii, miss that by some hundredths
// of a second, in which the last light changes by a part in a hundred.
func (c *Curve) touch(t float64) float64 {
	gap := func(t float64) float64 {
		w := c.observer.see(t)
		p := c.observer.discs(&w, c.k)
		return p.separation - math.Abs(p.moon-p.sun)
	}
	const reach = 0.5 / 3600
	a, b := t-reach, t+reach
	ga, gb := gap(a), gap(b)
	if (ga > 0) == (gb > 0) {
		return t // a central phase of under a second
	}
	for range 50 {
		m := (a + b) / 2
		if (gap(m) > 0) == (ga > 0) {
			a = m
		} else {
			b = m
		}
	}
	return (a + b) / 2
}

// A stretch tabulates the flux between a knot and a point midway to the next.
// Its argument is the square root of the time from the knot, because near a
// contact the light goes with the 3/2 power of that time: a cube of the root,
// which a cubic follows exactly. Close to totality's edge the table is thus good
// relative to what little light is left.
type stretch struct {
	from, to float64 // hours, ascending
	knot     float64
	scale    float64 // nodes per square root of an hour
	cubed    bool    // flux over root cubed
	flux     [stretchNodes]float64
}

const stretchNodes = 160

func (c *Curve) tabulate(knot, end float64, cubed bool) stretch {
	s := stretch{from: math.Min(knot, end), to: math.Max(knot, end), knot: knot}
	if s.to == s.from {
		s.flux[0] = c.exact(knot)
		return s
	}
	s.scale = (stretchNodes - 1) / math.Sqrt(s.to-s.from)
	for i := range s.flux {
		root := float64(i) / s.scale
		s.flux[i] = c.exact(knot + math.Copysign(root*root, end-knot))
		if cubed {
			s.flux[i] /= root * root * root
		}
	}
	if cubed { // nothing over nothing: the limit, by the cubic through the next four
		f := &s.flux
		f[0] = 4*f[1] - 6*f[2] + 4*f[3] - f[4]
		s.cubed = true
	}
	return s
}

// read interpolates with the cubic through four nodes.
func (s *stretch) read(t float64) float64 {
	root := math.Sqrt(math.Abs(t - s.knot))
	x := root * s.scale
	i := max(0, min(int(x)-1, stretchNodes-4))
	f := (*[4]float64)(s.flux[i:])
	x -= float64(i)
	a, b, d := x-1, x-2, x-3
	v := x*(a*(b*f[3]-3*d*f[2])/6+b*d*f[1]/2) - a*b*d*f[0]/6
	if s.cubed {
		v *= root * root * root
	}
	return v
}

// exact is the flux without the table.
func (c *Curve) exact(t float64) float64 {
	w := c.observer.see(t)
	p := c.observer.discs(&w, c.k)
	return c.opt.Law.Flux(p.moon/p.sun, p.separation/p.sun)
}

// Flux is the visible fraction of the Sun's light, 1 outside C1 to C4 and 0 in
// totality. The table is within 1e-7 of the full light everywhere, and within
// 1e-5 of the light itself down to a tenth of a second from totality.
func (c *Curve) Flux(t timescale.TT) float64 {
	h := c.observer.hours(t)
	for i := range c.stretch {
		s := &c.stretch[i]
		if h >= s.from && h <= s.to {
			return math.Max(0, math.Min(1, s.read(h)))
		}
	}
	if h >= c.total[0] && h <= c.total[1] {
		return 0
	}
	return 1
}

// ClearLux is the illuminance of the horizontal under a clear sky without the
// eclipse, lx.
func (c *Curve) ClearLux(t timescale.TT) float64 {
	alt, away := c.sun(t)
	return c.opt.Sky.Illuminance(alt, away).Global
}

// Lux is the illuminance of the horizontal to be expected under a clear sky, lx:
// direct light and sky light are both dimmed as the Sun is, which holds to 99.8 %
// obscuration (W. E. Sharp, S. M. Silverman & J. W. F. Lloyd, Applied Optics 10
// (1971) 1207), and the floor takes over below that.
func (c *Curve) Lux(t timescale.TT) float64 {
	flux := c.Flux(t)
	return c.ClearLux(t)*flux + c.opt.Floor*(1-flux)
}

// sun gives the Sun's altitude, degrees, and distance, au.
func (c *Curve) sun(t timescale.TT) (alt, away float64) {
	h := c.observer.hours(t)
	if math.Abs(h) > c.observer.elements.Span {
		p := c.far.Position(t)
		return p.Alt, p.Distance
	}
	w := c.observer.see(h)
	p := c.observer.discs(&w, c.k)
	up, south, west, length := c.observer.sky(&w, p.sunAway)
	const earthRadiusAU = 6378.137 / 149597870.7
	return math.Atan2(up, math.Sqrt(south*south+west*west)) / deg, length * earthRadiusAU
}

// A Point is the eclipse at one instant of a Curve.
type Point struct {
	TT          timescale.TT
	UTC         time.Time
	Obscuration float64 // covered part of the Sun's area
	Flux        float64 // visible part of its light
	Lux         float64 // expected on the horizontal under a clear sky, lx
	Alt         float64 // of the Sun's centre without refraction, degrees
}

// At reads the curve at an instant.
func (c *Curve) At(t timescale.TT) Point {
	w := c.observer.see(c.observer.hours(t))
	alt, _ := c.sun(t)
	return Point{
		TT: t, UTC: c.observer.opt.Scale.UTC(t),
		Obscuration: c.observer.aspect(&w, c.k).Obscuration,
		Flux:        c.Flux(t), Lux: c.Lux(t), Alt: alt,
	}
}

// margin is what All adds before first and after last contact.
const margin = 30 * time.Minute

// All walks the curve from half an hour before first contact to half an hour
// after last contact at a cadence, which must be positive: else it yields nothing.
func (c *Curve) All(step time.Duration) iter.Seq[Point] {
	return func(yield func(Point) bool) {
		if step <= 0 {
			return
		}
		from := c.circ.C1.TT - timescale.TT(margin.Seconds())
		n := int(float64(c.circ.C4.TT-c.circ.C1.TT+2*timescale.TT(margin.Seconds())) / step.Seconds())
		for i := 0; i <= n; i++ {
			if !yield(c.At(from + timescale.TT(float64(i)*step.Seconds()))) {
				return
			}
		}
	}
}

// Circumstances returns the site's circumstances.
func (c *Curve) Circumstances() Circumstances { return c.circ }

// Observer returns the observer whose light this is.
func (c *Curve) Observer() *Observer { return c.observer }

// Options returns the options in force, defaults filled in.
func (c *Curve) Options() CurveOptions { return c.opt }
