package ephemeris

import (
	"math"

	"example.org/noonfall/eclipse"
)

// A Residual is how far elements stray from positions, metres: the largest of
// each kind over the span.
type Residual struct {
	Axis      float64 // of the place where the axis meets the fundamental plane
	Direction float64 // of an observer's own place in that plane, through d and mu
	Penumbra  float64 // of the penumbra's radius anywhere on the Earth
	Umbra     float64 // of the umbra's
	// Edge is the largest sum of Axis, Direction and the worse of the radii at one
	// instant: no edge of a shadow is off by more, for any observer on the Earth.
	Edge float64
}

// Largest returns the largest of Axis, Direction, Penumbra and Umbra, metres.
func (r Residual) Largest() float64 {
	return max(r.Axis, r.Direction, r.Penumbra, r.Umbra)
}

// Compare returns how far elements are from a source, looking every stepHours,
// [0.001, Span], over their span; elements of any origin may be compared with any source.
// Lunar radii are the elements' own. Errors are those of [Reduce].
func Compare(e *eclipse.Elements, src Source, stepHours float64) (Residual, error) {
	if err := e.Validate(); err != nil {
		return Residual{}, err
	}
	if err := within("step, hours", stepHours, 0.001, e.Span); err != nil {
		return Residual{}, err
	}
	var r Residual
	n := int(math.Ceil(e.Span/stepHours - 1e-9))
	for i := -n; i <= n; i++ {
		t := e.Span * float64(i) / float64(n)
		sh, err := castAt(src, e.T0, t, e.K1, e.K2)
		if err != nil {
			return Residual{}, err
		}
		r.include(e, t, sh)
	}
	return r, nil
}

// include widens the residual by what elements miss at t hours.
func (r *Residual) include(e *eclipse.Elements, t float64, s Shadow) {
	const metres = EarthRadius * 1000
	axis := metres * math.Hypot(e.X.At(t)-s.X, e.Y.At(t)-s.Y)
	δd := (e.D.At(t) - s.D) * deg
	δμ := math.Remainder(e.Mu.At(t)-s.Mu, 360) * deg
	direction := metres * math.Hypot(δd, δμ) // an observer is one Earth radius from the centre at most
	penumbra := metres * (math.Abs(e.L1.At(t)-s.L1) + math.Abs(e.TanF1.At(t)-s.TanF1))
	umbra := metres * (math.Abs(e.L2.At(t)-s.L2) + math.Abs(e.TanF2.At(t)-s.TanF2))
	r.Axis = math.Max(r.Axis, axis)
	r.Direction = math.Max(r.Direction, direction)
	r.Penumbra = math.Max(r.Penumbra, penumbra)
	r.Umbra = math.Max(r.Umbra, umbra)
	r.Edge = math.Max(r.Edge, axis+direction+math.Max(penumbra, umbra))
}
