package shadow

import (
	"context"
	"iter"
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// A Pass is a central line that comes near a site.
type Pass struct {
	Elements *eclipse.Elements // those of the eclipse
	Type     eclipse.Type      // what it is on the Earth as a whole
	Km       float64           // from the site to the nearest point of the line, along the ground
	TT       timescale.TT      // when the axis passes that point
	Nearest  sun.Site          // that point
	Kind     eclipse.Kind      // what is seen there: annular or total
}

// Near returns the eclipses whose central line passes within a distance of a site,
// in the order given: of a catalogue, say, or of a slice by slices.Values. The
// distance is along the ground, km, up to 20,037; whether the site itself sees
// anything, for the Sun may be down, is for an Observer to say. It costs a tenth of
// a millisecond an eclipse. The walk ends with the first error: that of an element
// set or the site, or the context's.
func Near(ctx context.Context, of iter.Seq[*eclipse.Elements], site sun.Site, km float64, opt eclipse.Options) iter.Seq2[Pass, error] {
	return func(yield func(Pass, error) bool) {
		if !(km >= 0 && km <= 20037) {
			yield(Pass{}, &sun.RangeError{Field: "km", Value: km, Min: 0, Max: 20037})
			return
		}
		for e := range of {
			p, ok, err := near(ctx, e, site, km, opt)
			if err != nil {
				yield(Pass{}, err)
				return
			}
			if ok && !yield(p, nil) {
				return
			}
		}
	}
}

func near(ctx context.Context, e *eclipse.Elements, site sun.Site, km float64, opt eclipse.Options) (p Pass, ok bool, err error) {
	if err := ctx.Err(); err != nil {
		return p, false, err
	}
	prep, err := eclipse.Prepare(e, opt)
	if err != nil {
		return p, false, err
	}
	o, err := prep.Observer(site)
	if err != nil {
		return p, false, err
	}
	line := o.CentralLine() // good to half a percent
	if !line.Exists || line.Km > km*1.006+0.1 {
		return p, false, nil
	}
	s := prepare(prep)
	m := s.at(s.hours(line.TT))
	at := m.lift(m.x, m.y)
	p = Pass{Elements: e, Type: s.greatest.Type, TT: line.TT, Nearest: m.place(at), Kind: m.kindAt(at)}
	p.Km = distance(sun.Site{Lat: site.Lat, Lon: site.Lon}, p.Nearest)
	return p, p.Km <= km && !math.IsNaN(p.Km), nil
}
