package eclipse

import (
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// An Observer watches one eclipse from one site. It is safe for concurrent use,
// and to copy. The zero value watches nothing: make one with NewObserver or
// Prepared.Observer.
type Observer struct {
	prep *Prepared
	site sun.Site

	sinφ, cosφ     float64
	rhoSin, rhoCos float64
	lon            float64 // what is added to Mu, radians: east longitude less the Earth's lag
	k              float64 // the lunar radius of magnitudes: k2 where the eclipse is central, else k1
	pass           passage
}

// NewObserver validates both and lays the site out for the elements. The error
// is an *ElementsError or a *sun.RangeError, or says that there is no such
// horizon. For many sites Prepare the elements once instead.
func NewObserver(e *Elements, site sun.Site, opt Options) (*Observer, error) {
	p, err := Prepare(e, opt)
	if err != nil {
		return nil, err
	}
	o, err := p.Observer(site)
	if err != nil {
		return nil, err
	}
	return &o, nil
}

// Elements returns the eclipse's elements.
func (o *Observer) Elements() *Elements { return o.prep.elements }

// Site returns where the observer stands.
func (o *Observer) Site() sun.Site { return o.site }

// Scale returns the time scale in use.
func (o *Observer) Scale() timescale.Scale { return o.prep.opt.Scale }

// Options returns the options in use.
func (o *Observer) Options() Options { return o.prep.opt }

// hours from T0.
func (o *Observer) hours(t timescale.TT) float64 { return float64(t-o.prep.elements.T0) / 3600 }

// instant is the inverse of hours.
func (o *Observer) instant(h float64) timescale.TT { return o.prep.elements.T0 + timescale.TT(h*3600) }
