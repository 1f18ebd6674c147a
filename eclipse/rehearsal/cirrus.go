package rehearsal

import "math"

// A cirrus is high cloud in patches of every size: its optical depth is a median times the
// exponential of a flicker (a spectrum of one over frequency), so that it is never
// negative, dense in a few places and next to nothing in most. The flicker is the sum
// of walks whose memories are apart by factors of four, which is within a tenth of
// one over frequency in between (common practice, no source).
type cirrus struct {
	median  float64
	flicker []walk
}

// flickerMemories are s: a patch of a hundred metres in a jet stream, to a front.
var flickerMemories = []float64{8, 32, 128, 512, 2048, 8192}

func newCirrus(d dice, from, to, median float64) cirrus {
	c := cirrus{median: median}
	each := d.between(0.5, 1.2) / math.Sqrt(float64(len(flickerMemories)))
	for _, memory := range flickerMemories {
		c.flicker = append(c.flicker, newWalk(d, from, to, 2, each, memory))
	}
	return c
}

// at is the optical depth.
func (c *cirrus) at(x float64) float64 {
	if c.median == 0 {
		return 0
	}
	var log float64
	for i := range c.flicker {
		log += c.flicker[i].at(x)
	}
	return c.median * math.Exp(log)
}
