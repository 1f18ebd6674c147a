package eclipse

import (
	"errors"
	"fmt"
	"iter"
	"math"
	"time"

	"example.org/noonfall/eclipse/disc"
	"example.org/noonfall/eclipse/internal/bracket"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// ErrNoEclipse says that the site lies outside the Moon's shadow throughout.
var ErrNoEclipse = errors.New("eclipse: the site sees no eclipse")

// DefaultFloor is the light left in totality, lx, where the caller gives none:
// two measured minima are 3.8 lx (1932, under cloud) and 4.1 lx (2006, clear),
// testdata/references/eclipse_light_measured.csv. From eclipse to eclipse it ranges
// from one to ten.
const DefaultFloor = 4.0

// CurveOptions tunes a Curve. The zero value is the recommended setting.
type CurveOptions struct {
	// Law is the Sun's limb darkening; the zero law means disc.Visible, 550 nm.
	// A uniform disc, which no sensor sees, is a power law of exponent 0.
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
	total    [2]float64 // hours, while the Moon hides all of the Sun; else empty
	stretch  []stretch
	far      *sun.Observer // the Sun outside the elements' span
}

// NewCurve prepares the light at an observer's site, in a tenth of a millisecond
// or so. The error is ErrNoEclipse where there is none, whether or not the Sun
// would be up; or it says what cannot be used.
func NewCurve(o *Observer, opt CurveOptions) (*Curve, error) {
	if o == nil || o.prep == nil {
		return nil, errors.New("eclipse: NewCurve needs an Observer made by NewObserver")
	}
	if !(opt.Floor >= 0) || math.IsInf(opt.Floor, 1) {
		return nil, fmt.Errorf("eclipse: CurveOptions.Floor is %g lx, want zero or more", opt.Floor)
	}
	if opt.Floor == 0 {
		opt.Floor = DefaultFloor
	}
	if opt.Law == (disc.Law{}) {
		opt.Law = disc.Visible()
	}
	c := &Curve{observer: o, circ: o.Circumstances(), opt: opt, total: [2]float64{math.Inf(1), math.Inf(-1)}}
	if c.circ.Geometry == None {
		return nil, ErrNoEclipse
	}
	var err error
	if c.far, err = sun.NewObserver(o.site, o.prep.opt.Scale); err != nil {
		return nil, err
	}
	c.fill(c.knots())
	return c, nil
}

// knots are where the light has a kink, in order: first and last contact, inner
// contacts, and maximum, which is a kink in all but name for a site just outside
// the path.
func (c *Curve) knots() []float64 {
	o := c.observer
	first, top, last := o.hours(c.circ.C1.TT), o.hours(c.circ.Max.TT), o.hours(c.circ.C4.TT)
	second, third, inside := c.touches(first, top, last)
	if !inside {
		return []float64{first, top, last}
	}
	if c.circ.Geometry == Total {
		c.total = [2]float64{second, third}
	}
	return []float64{first, second, top, third, last}
}

// touches finds where the two discs touch inside. The cones of printed elements,
// rounded to 1e-6 Earth radii, miss that by some hundredths of a second, in which
// the last light changes by a part in a hundred, and can even lose it.
func (c *Curve) touches(first, top, last float64) (second, third float64, inside bool) {
	if c.circ.Geometry < Annular {
		return 0, 0, false
	}
	open := func(t float64) float64 {
		p := c.discs(t)
		return p.separation - math.Abs(p.moon-p.sun)
	}
	least := open(top)
	if !(least < 0) {
		return 0, 0, false
	}
	second = bracket.Zero(open, first, top, open(first), least, enough)
	third = bracket.Zero(open, last, top, open(last), least, enough)
	return second, third, true
}

// fill tabulates between the knots, each half from its own knot.
func (c *Curve) fill(knots []float64) {
	for i := 1; i < len(knots); i++ {
		a, b := knots[i-1], knots[i]
		if a >= c.total[0] && b <= c.total[1] {
			continue // nothing left to tabulate in totality
		}
		m := (a + b) / 2
		c.stretch = append(c.stretch,
			tabulate(c.exact, a, m, a == c.total[1]), tabulate(c.exact, b, m, b == c.total[0]))
	}
}

// discs are those at an instant, hours from T0.
func (c *Curve) discs(t float64) pair {
	var w view
	c.observer.see(t, &w)
	return w.discs(c.observer.prep.k1, c.observer.k)
}

// exact is the flux without the table.
func (c *Curve) exact(t float64) float64 {
	p := c.discs(t)
	return c.opt.Law.Flux(p.moon/p.sun, p.separation/p.sun)
}

// Flux is the visible fraction of the Sun's light, 1 outside C1 to C4 and 0 in
// totality. The table is within 2e-7 of the full light everywhere, and within 1e-4
// of what light is left wherever that is above 1e-4, a tenth of a metre from the
// limit of a path included; well inside a path or outside it the relative error is
// below 1e-5 down to a tenth of a second from totality. NaN gives NaN.
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
	if math.IsNaN(h) {
		return h
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
	return c.dim(c.ClearLux(t), c.Flux(t))
}

func (c *Curve) dim(clear, flux float64) float64 { return clear*flux + c.opt.Floor*(1-flux) }

// sun gives the Sun's altitude, degrees, and distance, au.
func (c *Curve) sun(t timescale.TT) (alt, away float64) {
	o := c.observer
	h := o.hours(t)
	if !(math.Abs(h) <= o.prep.elements.Span) {
		p := c.far.Position(t)
		return p.Alt, p.Distance
	}
	var w view
	o.see(h, &w)
	p := w.discs(o.prep.k1, o.k)
	s := o.sun(&w, p.sunZ)
	const earthRadiusAU = 6378.137 / 149597870.7 // WGS84; IAU 2012 Resolution B2
	return s.altitude(), earthRadiusAU * math.Sqrt(w.u*w.u+w.v*w.v+p.sunZ*p.sunZ)
}

// A Point is the eclipse at one instant of a Curve.
type Point struct {
	TT          timescale.TT // the instant
	UTC         time.Time    // the same on civil clocks
	Obscuration float64      // covered part of the Sun's area
	Flux        float64      // visible part of its light
	Lux         float64      // expected on the horizontal under a clear sky, lx
	Alt         float64      // of the Sun's centre without refraction, degrees
}

// At reads the curve at an instant.
func (c *Curve) At(t timescale.TT) Point {
	alt, away := c.sun(t)
	flux := c.Flux(t)
	p := c.discs(c.observer.hours(t))
	return Point{
		TT: t, UTC: c.observer.prep.opt.Scale.UTC(t),
		Obscuration: disc.Overlap(p.moon/p.sun, p.separation/p.sun),
		Flux:        flux, Lux: c.dim(c.opt.Sky.Illuminance(alt, away).Global, flux), Alt: alt,
	}
}

// margin is what All adds before first and after last contact.
const margin = 30 * time.Minute

// All walks the curve from half an hour before first contact to half an hour
// after last contact at a cadence. A cadence of zero or less is no walk: nothing is
// yielded. The iterator can be used again.
func (c *Curve) All(step time.Duration) iter.Seq[Point] {
	return func(yield func(Point) bool) {
		if step <= 0 {
			return
		}
		from := c.circ.C1.TT - timescale.TT(margin.Seconds())
		n := int64(float64(c.circ.C4.TT-c.circ.C1.TT+2*timescale.TT(margin.Seconds())) / step.Seconds())
		for i := int64(0); i <= n; i++ {
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
