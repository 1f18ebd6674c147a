package eclipse

import "math"

// A stretch tabulates the flux between a knot and a point midway to the next.
// Its argument is the square root of the time from the knot, because near a
// contact the light goes with the 3/2 power of that time: a cube of the root,
// which a cubic follows exactly. Close to totality's edge the light over that
// cube is tabulated, so that the table is good relative to what little is left.
type stretch struct {
	from, to float64 // hours, ascending
	knot     float64
	scale    float64 // nodes per square root of an hour
	cubed    bool    // flux over root cubed
	flux     [stretchNodes]float64
}

const stretchNodes = 200

// tabulate fills a stretch from a knot to an end on either side of it.
func tabulate(flux func(t float64) float64, knot, end float64, cubed bool) (s stretch) {
	s.from, s.to, s.knot, s.cubed = min(knot, end), max(knot, end), knot, cubed
	if !(s.to > s.from) {
		s.flux[0] = flux(knot)
		return s
	}
	s.scale = (stretchNodes - 1) / math.Sqrt(s.to-s.from)
	for i := range s.flux {
		root := float64(i) / s.scale
		s.flux[i] = flux(knot + math.Copysign(root*root, end-knot))
		if cubed {
			s.flux[i] /= root * root * root
		}
	}
	if f := &s.flux; cubed { // nothing over nothing: the limit, by the cubic through the next four
		f[0] = 4*f[1] - 6*f[2] + 4*f[3] - f[4]
	}
	return s
}

// read interpolates with the cubic through four nodes (J. L. Lagrange's form).
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
