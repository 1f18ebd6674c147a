package limb

import "math"

// A stretch tabulates the light between a knot and an end on either side of it, at
// equal steps of the root of the time from the knot: closest together where beads
// come and go.
type stretch struct {
	knot     float64 // s from the curve's origin
	from, to float64 // ascending
	scale    float64 // nodes a root of a second
	flux     []float64
}

// tabulate fills a stretch; nodes is how many there are, four or more.
func tabulate(knot, end float64, nodes int, light func(t float64) float64) stretch {
	s := stretch{knot: knot, from: min(knot, end), to: max(knot, end), flux: make([]float64, nodes)}
	s.scale = float64(nodes-1) / math.Sqrt(s.to-s.from)
	for i := range s.flux {
		root := float64(i) / s.scale
		s.flux[i] = light(knot + math.Copysign(root*root, end-knot))
	}
	return s
}

// read interpolates with the cubic that has, at both nodes around, the slope of the
// chord between their neighbours (E. Catmull & R. Rom 1974, from memory), cut down where
// it would overshoot: light that only falls between nodes may not be read below zero.
func (s *stretch) read(t float64) float64 {
	x := math.Sqrt(math.Abs(t-s.knot)) * s.scale
	i := max(0, min(int(x), len(s.flux)-2))
	x -= float64(i)
	a, b := s.flux[i], s.flux[i+1]
	before, after := 2*a-b, 2*b-a // at the ends, unless there is more to go by
	if i+2 < len(s.flux) {
		after = s.flux[i+2]
		before = 3*a - 3*b + after
	}
	if i > 0 {
		before = s.flux[i-1]
		if i+2 == len(s.flux) {
			after = 3*b - 3*a + before
		}
	}
	da, db, rise := (b-before)/2, (after-a)/2, b-a
	v := a + x*(da+x*(3*rise-2*da-db+x*(da+db-2*rise)))
	return max(min(a, b), min(max(a, b), v))
}
