package rehearsal

import (
	"math"
	"testing"
)

// A flicker has as much of its variance in every octave of time: second differences of
// its logarithm over spans that double grow by far less than the random walk's,
// whose doubles, and by more than white noise's, whose stay.
func TestCirrusFlickersOnEveryScale(t *testing.T) {
	bend := func(span float64) (variance float64) {
		const logs = 40
		n := 0
		for seed := range uint64(logs) {
			c := newCirrus(newDice(seed, streamWeather), -9000, 9000, 0.1)
			for x := -9000 + span; x < 9000-span; x += span {
				d := math.Log(c.at(x-span)) - 2*math.Log(c.at(x)) + math.Log(c.at(x+span))
				variance += d * d
				n++
			}
		}
		return variance / float64(n)
	}
	for span := 32.0; span <= 1024; span *= 2 {
		if r := bend(2*span) / bend(span); !(r > 1.0 && r < 1.35) {
			t.Errorf("over %g s bends have %.2f times the variance of those over half of it", 2*span, r)
		}
	}
}

func TestCirrusOnlyDims(t *testing.T) {
	for seed := range uint64(20) {
		c := newCirrus(newDice(seed, streamWeather), -9000, 9000, 0.1)
		for x := -9000.0; x <= 9000; x += 7 {
			if d := c.at(x); !(d > 0 && d < 20) {
				t.Fatalf("seed %d, %g s: optical depth %g", seed, x, d)
			}
		}
	}
}
