package limb

import (
	"iter"
	"math"

	"example.org/noonfall/sun/timescale"
)

// earthRadius is the equatorial radius of WGS84 in km, the unit of the elements' k.
const earthRadius = 6378.137

// A Profile is the limb that a site sees at an instant. It is not changed once made,
// and safe to share.
type Profile struct {
	Libration
	// Arcsec is how many seconds of arc a kilometre of height is.
	Arcsec float64
	// Base is the radius that heights are counted from, km: that of the elements' k2,
	// about the centre of mass.
	Base   float64
	grid   *grid
	radius [points]float64
}

// Profile looks at the limb. Of an instant that is no number it has no heights but NaN.
// The zero Moon has none, and gives nil.
func (m Moon) Profile(t timescale.TT) *Profile {
	if m.observer == nil {
		return nil
	}
	s := m.scene(t, newRotation(t))
	p := &Profile{Libration: s.Libration, Arcsec: 3600 / deg / s.away, Base: earthRadius * m.observer.Elements().K2, grid: m.grid}
	m.grid.radii(s.Lon, s.Lat, &p.radius)
	return p
}

// Height is how far the limb stands above Base at a position angle, km. The angle is
// taken at the Moon's centre from north through east, degrees; NaN gives NaN.
func (p *Profile) Height(angle float64) float64 {
	x := circle(angle-p.Axis) / step
	if math.IsNaN(x) {
		return x
	}
	i := int(x)
	x -= float64(i)
	a, b := p.radius[i%points], p.radius[(i+1)%points]
	return a + x*(b-a) - p.Base
}

// All walks around the limb from the Moon's north pole eastwards on the sky: position
// angles from the Moon's axis, degrees, a fifth of a degree apart, and heights above
// Base, km.
func (p *Profile) All() iter.Seq2[float64, float64] {
	return func(yield func(angle, height float64) bool) {
		for i, r := range p.radius {
			if !yield(float64(i)*step, r-p.Base) {
				return
			}
		}
	}
}

// Figure is the circle that stands best for this limb.
func (p *Profile) Figure() Figure { return p.grid.figure(&p.radius) }
