// Genbench makes the invented log of an evening with a ball and a lamp: five passages, somebody
// who leans across, the lamp switched off and on, flicker, warm-up, a few wild readings. It is
// run by go generate in the example's folder:
//
//	go run ./internal/genbench -out demo
//
// The output is the same, byte for byte, every time.
package main

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"example.org/noonfall/examples/internal/cli"
)

func main() { cli.Main("genbench", run) }

var run = cli.Generator("genbench", func(context.Context) (map[string][]byte, error) {
	return map[string][]byte{"bench.csv": evening()}, nil
})

// A passage of a ball, in units of the lamp's radius.
type passage struct{ least, speed, ball, impact float64 }

// passages are those of the evening, s after its start. Invented.
var passages = []passage{
	{90, 0.12, 1.5, 0.1}, // as in totality
	{190, 0.15, 1.05, 0.7},
	{290, 0.10, 0.93, 0.02}, // as in an annular eclipse
	{420, 0.12, 1.05, 1.4},
	{760, 0.06, 1.05, 0.3},
}

// evening is the file.
func evening() []byte {
	rng := rand.New(rand.NewPCG(2027, 8))
	var b bytes.Buffer
	b.WriteString("# invented data: a made-up evening with a ball and a lamp, nothing was measured\ntime,light\n")
	start := time.Date(2027, 7, 20, 20, 15, 0, 0, time.UTC)
	phase := 0.0
	for i := range 900 {
		t := float64(i)
		light := 1 - 0.06*math.Exp(-t/200)
		for _, p := range passages {
			light *= 1 - overlap(p, t)
		}
		switch { // somebody leans across and stays; the lamp is off for a minute
		case t >= 500 && t < 560:
			light = 0
		case t >= 610:
			light *= 0.82
		}
		phase += 1.1 + 0.05*rng.NormFloat64() // mains, as the cadence sees it
		c := 35 + 2600*light*(1+0.008*math.Sin(phase)+0.006*rng.NormFloat64())
		if rng.Float64() < 0.004 {
			c = 4095 * rng.Float64()
		}
		fmt.Fprintf(&b, "%s,%.0f\n", start.Add(time.Duration(i)*time.Second).Format(time.RFC3339), c)
	}
	return b.Bytes()
}

// overlap is the part of a unit disc that the ball covers.
func overlap(p passage, t float64) float64 {
	d, r := math.Hypot(p.speed*(t-p.least), p.impact), p.ball
	switch {
	case d >= 1+r:
		return 0
	case d <= math.Abs(1-r):
		return math.Min(1, r*r)
	}
	a := math.Acos((d*d + 1 - r*r) / (2 * d))
	b := math.Acos((d*d + r*r - 1) / (2 * d * r))
	return (a - math.Sin(2*a)/2 + r*r*(b-math.Sin(2*b)/2)) / math.Pi
}
