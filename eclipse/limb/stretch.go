package limb

import "math"

// A stretch tabulates the light between two instants on one side of a knot, at equal
// steps of the root of the time from the knot: closest together where beads come and go.
type stretch struct {
	knot     float64 // s from the curve's origin
	from, to float64 // ascending
	first    float64 // root of the time of the first node
	scale    float64 // nodes a root of a second
	flux     []float64
}

// tabulate fills a stretch from an instant, nearer to the knot, to an end; nodes is how
// many there are, four or more.
func tabulate(knot, start, end float64, nodes int, light func(t float64) float64) stretch {
	s := stretch{knot: knot, from: min(start, end), to: max(start, end), flux: make([]float64, nodes)}
	s.first = math.Sqrt(math.Abs(start - knot))
	s.scale = float64(nodes-1) / (math.Sqrt(math.Abs(end-knot)) - s.first)
	for i := range s.flux {
		root := s.first + float64(i)/s.scale
		s.flux[i] = light(knot + math.Copysign(root*root, end-knot))
	}
	return s
}

// read interpolates with the cubic that has, at both nodes around, the slope of the
// chord between their neighbours (E. Catmull & R. Rom 1974, from memory), cut down where
// it would overshoot: light that only falls between nodes may not be read below zero.
func (s *stretch) read(t float64) float64 {
	x := (math.Sqrt(math.Abs(t-s.knot)) - s.first) * s.scale
	i := max(0, min(int(x), len(s.flux)-2))
	x -= float64(i)
	a, b := s.flux[i], s.flux[i+1]
	var before, after float64
	switch { // at an end the parabola through the next three goes on
	case i == 0:
		after = s.flux[2]
		before = 3*a - 3*b + after
	case i+2 == len(s.flux):
		before = s.flux[i-1]
		after = 3*b - 3*a + before
	default:
		before, after = s.flux[i-1], s.flux[i+2]
	}
	da, db, rise := (b-before)/2, (after-a)/2, b-a
	v := a + x*(da+x*(3*rise-2*da-db+x*(da+db-2*rise)))
	return max(min(a, b), min(max(a, b), v))
}
