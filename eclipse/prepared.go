package eclipse

import (
	"fmt"
	"math"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// Options belong to an Observer. The zero value is the recommended setting.
type Options struct {
	// Scale gives UTC and Delta T; timescale.FixedDeltaT reproduces a bulletin.
	Scale timescale.Scale
	// Horizon decides what counts as above the horizon.
	Horizon Horizon
}

// A Prepared is one eclipse made ready for many sites: elements validated and
// copied, Delta T looked up. Each of its observers then costs a fifth of a
// microsecond and no allocation. It is safe for concurrent use.
type Prepared struct {
	elements *Elements
	opt      Options
	deltaT   timescale.DeltaT // at T0; it changes by a millisecond within the day at most
	utcU     float64          // standard uncertainty of UTC's label at T0, s
	lag      float64          // the Earth's turn in Delta T, degrees
	k1, k2   float64

	terms, rates []terms // coefficients and those of the derivatives, highest power first
	sin0, cos0   float64 // of the axis' declination at T0
	alongX       float64 // direction in which the axis moves at T0
	alongY       float64

	early   bool    // before the leap seconds: UTC is UT1
	dtDrift float64 // change of Delta T there, seconds a second
}

// terms are the eight polynomials' coefficients of one power. The declination is
// less that at T0, and both angles are in radians.
type terms struct{ x, y, δ, μ, l1, l2, f1, f2 float64 }

// earthTurn is the Earth's turn in degrees a second of UT1 (IAU 2000 Resolution B1.8).
const earthTurn = 1.00273781191135448 * 360 / 86400

// Prepare validates the elements and makes them ready. It keeps a pointer to
// them for Observer.Elements, but computes with a copy. The error is an
// *ElementsError, or says that there is no such horizon.
func Prepare(e *Elements, opt Options) (*Prepared, error) {
	if e == nil {
		return nil, &ElementsError{Field: "all", Reason: "are missing"}
	}
	if err := e.Validate(); err != nil {
		return nil, err
	}
	if int(opt.Horizon) >= len(horizons) {
		return nil, fmt.Errorf("eclipse: Options.Horizon is %d, want one of %d kinds from 0", opt.Horizon, len(horizons))
	}
	p := &Prepared{elements: e, opt: opt, deltaT: opt.Scale.DeltaT(e.T0), utcU: opt.Scale.UTCU(e.T0), k1: e.K1, k2: e.K2}
	p.lag = earthTurn * p.deltaT.Seconds
	p.sin0, p.cos0 = math.Sincos(e.D[0] * deg)
	p.compile()
	dx, dy := e.X.rate(0), e.Y.rate(0)
	if v := math.Hypot(dx, dy); v > 0 {
		p.alongX, p.alongY = dx/v, dy/v
	}
	if p.early = opt.Scale.UTC(e.T0).Equal(opt.Scale.UT1(e.T0).Time()); p.early {
		const hour = 3600
		p.dtDrift = (opt.Scale.DeltaT(e.T0+hour).Seconds - opt.Scale.DeltaT(e.T0-hour).Seconds) / (2 * hour)
	}
	return p, nil
}

// compile lays the coefficients of each power side by side, so that one loop
// runs all polynomials at once, whatever their degrees.
func (p *Prepared) compile() {
	e := p.elements
	n := 1
	for _, q := range []Poly{e.X, e.Y, e.D, e.Mu, e.L1, e.L2, e.TanF1, e.TanF2} {
		n = max(n, len(q))
	}
	at := func(q Poly, i int) float64 {
		if i < len(q) {
			return q[i]
		}
		return 0
	}
	p.terms = make([]terms, n)
	p.rates = make([]terms, max(1, n-1))
	for i := range n {
		c := terms{
			x: at(e.X, i), y: at(e.Y, i), δ: at(e.D, i) * deg, μ: at(e.Mu, i) * deg,
			l1: at(e.L1, i), l2: at(e.L2, i), f1: at(e.TanF1, i), f2: at(e.TanF2, i),
		}
		if i == 0 {
			c.δ = 0
		} else {
			m := float64(i)
			p.rates[n-1-i] = terms{m * c.x, m * c.y, m * c.δ, m * c.μ, m * c.l1, m * c.l2, m * c.f1, m * c.f2}
		}
		p.terms[n-1-i] = c
	}
}

// Observer places an observer. It is returned by value, for loops over many
// sites; methods are on its pointer. The error is a *sun.RangeError.
func (p *Prepared) Observer(site sun.Site) (Observer, error) {
	if err := site.Validate(); err != nil {
		return Observer{}, err
	}
	o := Observer{prep: p, site: site, k: p.k1}
	o.sinφ, o.cosφ = math.Sincos(site.Lat * deg)
	o.rhoSin, o.rhoCos = site.Geocentric()
	o.lon = (site.Lon - p.lag) * deg
	o.pass = o.passage()
	if o.pass.central {
		o.k = p.k2
	}
	return o, nil
}

// Elements returns the eclipse's elements.
func (p *Prepared) Elements() *Elements { return p.elements }

// Options returns the options in use.
func (p *Prepared) Options() Options { return p.opt }
