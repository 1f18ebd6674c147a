package dips

import "math"

// switched says that a notch is the work of a switch, or of somebody who stays, rather than
// of something that passes: the level beside it has changed, or both edges are sudden.
func (f *search) switched(n notch) *Reason {
	left, right := f.side(n, -1), f.side(n, 1)
	quarter := (n.up - n.down) / 4
	bottom := f.mean(n.down+quarter, n.up-quarter+1)
	change, fall := math.Abs(left-right), (left+right)/2-bottom
	if change > fall/2 {
		return reason(Step)
	}
	// A ball whose edges are within one interval of 25, or two of 50, is some 18 times as
	// large as its lamp: none for a bench. With fewer readings a switch and a
	// ball look alike.
	const some, many = 25, 50
	span := 1
	if n.up-n.down >= many {
		span = 2
	}
	if !f.sudden(n.down, n, left-bottom, span) || !f.sudden(n.up, n, right-bottom, span) {
		return nil
	}
	switch {
	case change > fall/8:
		return reason(Step)
	case n.up-n.down >= some:
		return reason(Switched)
	}
	return nil
}

// sudden says that much of a fall happens within so many intervals: more than the steepest part
// of the edge of a ball 18 times as large as its lamp (4/pi of the mean slope), by a fifth,
// and more than noise does.
func (f *search) sudden(edge int, n notch, fall float64, span int) bool {
	steepest := 1.2 * 4 / math.Pi * 18 * float64(span) / float64(n.up-n.down)
	much := max(min(0.85, max(0.3, steepest))*fall, 6*f.jitter)
	near := (n.up-n.down)/8 + 2
	for i := max(0, edge-near); i+span < min(len(f.v), edge+near); i++ {
		if math.Abs(f.calm[i+span]-f.calm[i]) >= much {
			return true
		}
	}
	return false
}

// side is the mean beside a notch, as far from its edge as that is wide.
func (f *search) side(n notch, way int) float64 {
	w := max(n.up-n.down, 2)
	if way < 0 {
		b := max(n.down-w/2, 1)
		return f.mean(max(0, b-w), b)
	}
	a := min(n.up+w/2+1, len(f.t)-1)
	return f.mean(a, min(len(f.t), a+w))
}
