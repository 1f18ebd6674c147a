package limb

import "math"

// A Figure is the circle that stands best for a limb: least squares over all position
// angles. Its centre lies off the centre of mass, where almanacs and elements have the
// smooth Moon.
type Figure struct {
	// East and North are where its centre lies from the centre of mass, km, on the sky:
	// North towards the north of the Moon's axis, East at right angles to that towards
	// the sky's east, which is the Moon's west.
	East, North float64
	// Radius is that of the circle, km: the one for light and for partial phases.
	Radius float64
	// ReliefU is the standard deviation of the limb about it, km.
	ReliefU float64
}

// figure is that of the limb with some radii.
func (g *grid) figure(radii *[points]float64) (f Figure) {
	for i, r := range radii {
		f.Radius += r / points
		f.East += 2 * r * g.sin[i] / points
		f.North += 2 * r * g.cos[i] / points
	}
	var sum float64
	for i, r := range radii {
		d := r - f.Radius - f.East*g.sin[i] - f.North*g.cos[i]
		sum += d * d
	}
	f.ReliefU = math.Sqrt(sum / points)
	return f
}
