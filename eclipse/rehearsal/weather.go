package rehearsal

import (
	"fmt"
	"math"
)

// A Weather is a kind of sky.
type Weather uint8

// The kinds. The zero value is a clear sky, which still drifts a little.
const (
	Clear   Weather = iota // nothing but slow haze
	Haze                   // thin high cloud, restless within minutes
	Cumulus                // a few passing shadows
	Broken                 // shadows half of the time
	Deck                   // thick smooth cloud throughout, the eclipse still in it
	Shade                  // a wall or a tree from some instant on
	Veiled                 // clear but for a bank of cloud over the maximum
	Cirrus                 // high cloud in patches of every size
	weathers
)

// skies is the one table of what they are. Numbers are common practice, no source.
var skies = [weathers]struct {
	name     string
	restless [2]float64 // standard deviation of the optical depth of moving cloud, range
	memory   [2]float64 // over which it forgets itself, s, range
	shadows  [2]float64 // how many pass in an hour, range
	deck     [2]float64 // mean optical depth, range
	shade    bool
	veil     [2]float64 // how long cloud lies over the maximum, s, range
	patches  [2]float64 // median optical depth of patchy cloud, range
}{
	Clear:   {name: "clear"},
	Haze:    {name: "haze", restless: [2]float64{0.02, 0.08}, memory: [2]float64{60, 300}},
	Cumulus: {name: "cumulus", shadows: [2]float64{0.5, 1.5}},
	Broken:  {name: "broken", restless: [2]float64{0.02, 0.05}, memory: [2]float64{60, 300}, shadows: [2]float64{4, 8}},
	Deck:    {name: "deck", restless: [2]float64{0.05, 0.2}, memory: [2]float64{300, 1800}, deck: [2]float64{1, 2.2}},
	Shade:   {name: "shade", shade: true},
	Veiled:  {name: "veiled", veil: [2]float64{600, 3600}},
	Cirrus:  {name: "cirrus", patches: [2]float64{0.03, 0.3}},
}

// String is one of "clear", "haze", "cumulus", "broken", "deck", "shade", "veiled"
// and "cirrus".
func (w Weather) String() string {
	if w < weathers {
		return skies[w].name
	}
	return fmt.Sprintf("weather %d", uint8(w))
}

// MarshalText writes the name; the error is for a weather that there is not.
func (w Weather) MarshalText() ([]byte, error) {
	if w >= weathers {
		return nil, fmt.Errorf("rehearsal: there is no %v", w)
	}
	return []byte(w.String()), nil
}

// UnmarshalText reads what MarshalText wrote. The error names what it found.
func (w *Weather) UnmarshalText(text []byte) error {
	for i, row := range skies {
		if row.name == string(text) {
			*w = Weather(i)
			return nil
		}
	}
	return fmt.Errorf("rehearsal: there is no weather %q", text)
}

// A sky is the weather of one log: how much the light is dimmed, as a natural
// logarithm, at any second.
type sky struct {
	slow, fast walk
	shadows    []shadow
	deck       float64
	cirrus     cirrus
}

// A walk is an Ornstein-Uhlenbeck process on a grid, read between its points by
// straight lines.
type walk struct {
	from, step float64
	value      []float64
}

func newWalk(d dice, from, to, step, sd, memory float64) walk {
	w := walk{from: from, step: step, value: make([]float64, int((to-from)/step)+2)}
	keep := math.Exp(-step / memory)
	kick := sd * math.Sqrt(1-keep*keep)
	v := sd * d.NormFloat64()
	for i := range w.value {
		w.value[i] = v
		v = v*keep + kick*d.NormFloat64()
	}
	return w
}

func (w *walk) at(x float64) float64 {
	if len(w.value) == 0 {
		return 0
	}
	u := math.Max(0, math.Min(float64(len(w.value))-1.001, (x-w.from)/w.step))
	i := int(u)
	return w.value[i] + (u-float64(i))*(w.value[i+1]-w.value[i])
}

// A shadow passes with soft edges. Beside a cloud the light is above the clear
// sky's, since its lit flank adds to the Sun: up to a tenth here, more at times in
// nature (common practice, no source).
type shadow struct {
	middle, half, edge float64 // s
	depth              float64 // natural logarithm
	glow               float64 // likewise, beside it
}

// reach is how many edges from its own edge a shadow is still felt.
const reach = 12

func (s *shadow) at(x float64) float64 {
	out := (math.Abs(x-s.middle) - s.half) / s.edge
	if out > reach {
		return 0
	}
	dims := s.depth / (1 + math.Exp(out))
	if out > 0 && s.glow > 0 {
		dims -= s.glow * out * math.Exp(1-out) // greatest one edge outside
	}
	return dims
}

// newSky draws a log's weather between two instants.
func newSky(d dice, w Weather, from, to float64) sky {
	row := skies[w]
	s := sky{slow: newWalk(d, from, to, 60, d.logBetween(0.005, 0.05), d.between(1800, 10800))}
	if row.restless[1] > 0 {
		s.fast = newWalk(d, from, to, 2, d.between(row.restless[0], row.restless[1]), d.between(row.memory[0], row.memory[1]))
	}
	if row.shadows[1] > 0 {
		n := int(math.Round(d.between(row.shadows[0], row.shadows[1]) * (to - from) / 3600))
		for range max(1, n) {
			s.shadows = append(s.shadows, shadow{
				middle: d.between(from, to), half: d.between(30, 300), edge: d.between(3, 25),
				depth: -math.Log(1 - d.between(0.2, 0.9)), glow: d.between(0, 0.1),
			})
		}
	}
	if row.deck[1] > 0 {
		s.deck = d.between(row.deck[0], row.deck[1])
	}
	if row.shade {
		const endless = 1e6 // s
		s.shadows = append(s.shadows, shadow{
			middle: from + d.between(0.2, 0.9)*(to-from) + endless, half: endless, edge: d.between(2, 20),
			depth: -math.Log(1 - d.between(0.3, 0.85)),
		})
	}
	if row.veil[1] > 0 {
		s.shadows = append(s.shadows, veil(d, d.between(row.veil[0], row.veil[1]))...)
	}
	if row.patches[1] > 0 {
		s.cirrus = newCirrus(d, from, to, d.logBetween(row.patches[0], row.patches[1]))
	}
	return s
}

// veil is a bank of cloud that takes that long to pass, with the maximum under it: three
// shadows that overlap, each of its own depth.
func veil(d dice, lasts float64) []shadow {
	const shadows = 3
	out := make([]shadow, shadows)
	begin := -lasts * d.between(0.15, 0.85)
	for i := range out {
		out[i] = shadow{
			middle: begin + lasts*(float64(i)+0.5)/shadows, half: lasts / shadows * d.between(0.45, 0.7), edge: d.between(5, 60),
			depth: -math.Log(1 - d.between(0.2, 0.8)), glow: d.between(0, 0.1),
		}
	}
	return out
}

// dims is the light lost at an instant, natural logarithm.
func (s *sky) dims(x float64) float64 {
	return s.slow.at(x) + s.fast.at(x) + s.deck + s.cirrus.at(x) + s.shaded(x)
}

// shaded is the part of it that shadows take.
func (s *sky) shaded(x float64) (lost float64) {
	for i := range s.shadows {
		lost += s.shadows[i].at(x)
	}
	return lost
}

// cloudy says that shadows take a tenth of the light or more.
func (s *sky) cloudy(x float64) bool { return s.shaded(x) > 0.1054 } // -ln 0.9
