package fit

import (
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/limb"
	"example.org/noonfall/sun/timescale"
)

// A Curve is the light that a log is compared with: a [limb.Curve], whose Moon has its
// real edge, or an [eclipse.Curve], whose Moon is smooth.
type Curve interface {
	Flux(timescale.TT) float64
	Circumstances() eclipse.Circumstances
	Observer() *eclipse.Observer
	Options() eclipse.CurveOptions
}

// A light is the sky's prediction at one site, in seconds from maximum.
type light struct {
	curve  Curve
	laws   lawTable
	max    timescale.TT
	clear  clearTable
	about  fluxTable
	c1, c4 float64    // s from maximum
	c2, c3 float64    // NaN where the eclipse is not central, nor all but so
	limbU  float64    // s: what the Moon's edge leaves open
	innerU [2]float64 // s: and of that the heights at second and third contact
	dark   bool       // nothing of the Sun is left for a while, or next to nothing, so that the residual light matters
}

// nextToNothing is the part of the Sun's light that residual light outshines: startFloor
// is this much of a clear sky's 40,000 lx.
const nextToNothing = 1e-4

func newLight(c Curve) (*light, error) {
	circ := c.Circumstances()
	l := &light{curve: c, max: circ.Max.TT, c2: math.NaN(), c3: math.NaN()}
	since := func(k eclipse.Contact) float64 { return float64(k.TT - l.max) }
	l.c1, l.c4 = since(circ.C1), since(circ.C4)
	if circ.C2.Exists && circ.C3.Exists {
		l.c2, l.c3 = since(circ.C2), since(circ.C3)
	}
	l.limbU, l.innerU = LimbU, [2]float64{LimbU, LimbU}
	kind := circ.Geometry
	if real, ok := c.(*limb.Curve); ok {
		l.limbU = figureU
		k := real.Contacts()
		kind = k.LimbKind
		if k.LimbC2.Exists && k.LimbC3.Exists {
			l.c2, l.c3 = since(k.LimbC2.Contact), since(k.LimbC3.Contact)
			// In a graze the contacts themselves are anywhere within a minute, but heights that
			// are off by 0.1 (valleys) to 0.4 arcsec (peaks) move no clock more than a figure
			// that is off by half of one.
			l.innerU = [2]float64{math.Min(LimbU, k.LimbC2.TimeU), math.Min(LimbU, k.LimbC3.TimeU)}
			l.limbU = math.Min(LimbU, math.Hypot(figureU, math.Hypot(k.LimbC2.TimeU, k.LimbC3.TimeU)/2))
		} else {
			l.c2, l.c3 = math.NaN(), math.NaN()
		}
	}
	// The real edge's totality may lie beside maximum, or be missed by a bead.
	l.dark = kind == eclipse.Total || l.flux(0) <= nextToNothing
	if l.dark && math.IsNaN(l.c2) {
		l.c2, l.c3 = 0, 0
	}
	deepest := 0.0
	if l.dark {
		deepest = l.c2
	}
	var err error
	if l.laws, err = newLawTable(c, l.c1, deepest, l.max); err != nil {
		return nil, err
	}
	l.about = newFluxTable(l)
	l.clear, err = newClearTable(c.Observer().Site(), c.Observer().Scale(), l.max)
	return l, err
}

// close says that there are inner contacts, or all but.
func (l *light) close() bool { return !math.IsNaN(l.c2) }

// flux is the visible fraction of the Sun's light.
func (l *light) flux(t float64) float64 { return l.curve.Flux(l.max + timescale.TT(t)) }
