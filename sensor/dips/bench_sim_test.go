package dips

import (
	"math"
	"math/rand/v2"
	"time"
)

// The bench of the tests: an evenly lit or limb-darkened or lopsided round lamp, divided
// into points that a round ball hides or does not, in a room with light of its own. The
// finder knows of no ball, no lamp and no room.
type bench struct {
	rng     *rand.Rand
	cadence float64 // s
	level   float64 // counts of the lamp
	room    float64 // counts of the room and of the converter's zero
	noise   float64 // white, part of the level
	drift   float64 // slow, part of the level: random walks that forget in 1 s to 3 h
	flicker float64 // amplitude of mains flicker, part of the level
	warm    float64 // part that the lamp gains while it warms up, over 15 min
	age     float64 // part that it loses in a day
	quantum float64 // counts
	spikes  float64 // chance of a wild reading
	jitter  float64 // of the instants of readings, part of the cadence
	rising  float64 // counts are this, less the light; 0 for counts that fall with it
}

// A pass of a ball before the lamp, in units of the lamp's radius.
type pass struct {
	least  float64 // s
	speed  float64 // lamp radii a second
	ball   float64 // radius
	impact float64 // least distance of the centres
	dark   float64 // limb darkening, 0 to 1
	lean   float64 // brightness across the lamp, 0 to 0.5
}

// contacts are by Pythagoras.
func (p pass) contacts() (start, end float64) {
	half := math.Sqrt((1+p.ball)*(1+p.ball)-p.impact*p.impact) / p.speed
	return p.least - half, p.least + half
}

var lampPoints = func() (out [][2]float64) {
	const n = 40
	for i := range n {
		for j := range n {
			x, y := (float64(i)+0.5)*2/n-1, (float64(j)+0.5)*2/n-1
			if x*x+y*y < 1 {
				out = append(out, [2]float64{x, y})
			}
		}
	}
	return out
}()

// hidden is the part of the lamp's light that the ball hides.
func (p pass) hidden(t float64) float64 {
	cx := p.speed * (t - p.least)
	if math.Hypot(cx, p.impact) > 1+p.ball {
		return 0
	}
	sum, all := 0.0, 0.0
	for _, q := range lampPoints {
		w := (1 - p.dark*(1-math.Sqrt(1-q[0]*q[0]-q[1]*q[1]))) * (1 + p.lean*q[1])
		all += w
		sum += w * soft((p.ball-math.Hypot(q[0]-cx, q[1]-p.impact))/0.05)
	}
	return sum / all
}

// soft spreads a point over its share of the lamp.
func soft(x float64) float64 { return math.Min(1, math.Max(0, x+0.5)) }

// depth is the part of all counts that is lost at least light.
func (b bench) depth(p pass) float64 { return p.hidden(p.least) * b.level / (b.level + b.room) }

// log records n readings; lamp says what part of it is lit at an instant, nil for all.
func (b bench) log(n int, passes []pass, lamp func(t float64) float64) []Sample {
	memories := []float64{1, 10, 100, 1000, 10800}
	walk := make([]float64, len(memories))
	for k := range walk {
		walk[k] = b.rng.NormFloat64()
	}
	phase := 2 * math.Pi * b.rng.Float64()
	mains := 100 * (1 + 5e-4*b.rng.NormFloat64()) // Hz; a drifting mains, a drifting clock
	out := make([]Sample, 0, n)
	for i := range n {
		t := b.cadence * (float64(i) + b.jitter*(b.rng.Float64()-0.5))
		phase += 2e-2 * math.Sqrt(b.cadence) * b.rng.NormFloat64()
		slow := 0.0
		for k, m := range memories {
			r := math.Exp(-b.cadence / m)
			walk[k] = r*walk[k] + math.Sqrt(1-r*r)*b.rng.NormFloat64()
			slow += walk[k] / math.Sqrt(float64(len(memories)))
		}
		light := 1 + b.drift*slow + b.flicker*math.Sin(2*math.Pi*mains*t+phase) - b.warm*math.Exp(-t/900) - b.age*t/86400
		if lamp != nil {
			light *= lamp(t)
		}
		for _, p := range passes {
			if math.Abs(t-p.least) < (1+p.ball)/p.speed {
				light *= 1 - p.hidden(t)
			}
		}
		c := b.level*(light+b.noise*b.rng.NormFloat64()) + b.room
		if b.rng.Float64() < b.spikes {
			c = (b.level + b.room) * 1.5 * b.rng.Float64()
		}
		if b.rising > 0 {
			c = b.rising - c
		}
		if b.quantum > 0 {
			c = b.quantum * math.Round(c/b.quantum)
		}
		out = append(out, Sample{Time: benchDay.Add(time.Duration(t * 1e9)), Counts: c})
	}
	return out
}

var benchDay = time.Date(2027, 7, 20, 8, 0, 0, 0, time.UTC)

func newBench(seed uint64) bench {
	return bench{rng: rand.New(rand.NewPCG(seed, 2)), cadence: 1, level: 2000, room: 20, noise: 0.01, quantum: 1}
}
