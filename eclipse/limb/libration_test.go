package limb

import (
	"math"
	"testing"
	"time"

	"example.org/noonfall/sun/timescale"
)

// J. Meeus, Astronomical Algorithms, 2nd ed., example 53.a: 1992 April 12 at 0h TD,
// with the Moon's place of example 47.a.
func TestWorkedExample(t *testing.T) {
	tt := timescale.TT(time.Date(1992, 4, 12, 0, 0, 0, 0, time.UTC).Sub(time.Date(2000, 1, 1, 12, 0, 0, 0, time.UTC)).Seconds())
	r := newRotation(tt)
	l, b := r.libration(133.162655*deg, -3.229126*deg) // p. 343
	p := r.axis(134.688470*deg, b)
	for _, v := range []struct {
		name      string
		got, want float64 // degrees
		tol       float64 // half the last digit of the book
	}{
		{"l", l / deg, -1.23, 0.005}, {"b", b / deg, 4.20, 0.005}, {"P", p / deg, 15.08, 0.005},
		{"rho", r.ρ / deg, -0.01042, 0.000005}, {"sigma", r.σ / deg, -0.01574, 0.000005}, {"tau", r.τ / deg, 0.02673, 0.000005},
	} {
		if !(math.Abs(v.got-v.want) <= v.tol) {
			t.Errorf("%s = %.5f°, want %.5f° ± %g (example 53.a)", v.name, v.got, v.want, v.tol)
		}
	}
}

// Moving a rotation by some minutes is as good as making it anew.
func TestRotationMoves(t *testing.T) {
	for _, t0 := range []timescale.TT{-1.5e9, 8.7e8, 3e9} {
		r := newRotation(t0)
		for _, by := range []timescale.TT{-600, 600} {
			moved, anew := r.at(t0+by), newRotation(t0+by)
			l, b := moved.libration(1+0.000226*float64(by)/60, 0.01)
			wantL, wantB := anew.libration(1+0.000226*float64(by)/60, 0.01)
			for _, d := range []float64{math.Remainder(l-wantL, 2*math.Pi), b - wantB, moved.axis(1, b) - anew.axis(1, wantB)} {
				if !(math.Abs(d)/deg <= 1e-4) {
					t.Errorf("%g s from %g: %.6f° off", float64(by), float64(t0), d/deg)
				}
			}
		}
	}
}
