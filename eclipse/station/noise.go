package station

import (
	"math"
	"slices"

	"example.org/noonfall/eclipse/internal/quantile"
	"example.org/noonfall/sensor"
)

// A Scatter is how neighbouring readings scatter about a local line, in the
// logarithm, so that it is in proportion to the light. The quiet quarter of the
// readings counts, since cloud moves the others; where samples are many seconds apart
// it holds cloud all the same.
type Scatter struct {
	Level    float64 `json:"level"`    // the middle one of such readings
	Relative float64 `json:"relative"` // standard deviation, as a part of the reading; 0 where it hides in the steps
	Step     float64 `json:"step"`     // of the sensor at that level, as a part of the reading
	Samples  int     `json:"samples"`  // that were held against their neighbours
}

const (
	// toSigma makes a standard deviation of a median distance, for normal scatter.
	toSigma = 1.4826
	// noiseBlock are triples whose scatter is judged together.
	noiseBlock = 60
	// noiseLeast triples say something of scatter. (Common practice, no source.)
	noiseLeast = 20
	// noiseStride is by how much a step may exceed the one before it in a triple.
	noiseStride = 3
	// quiet is the quantile of the blocks that is taken.
	quiet = 0.25
)

// noise looks at the upper decade, and at the one about the end of civil twilight or,
// where that was not seen, the lowest one that is told from darkness.
func (t *trace) noise(c *Ceiling, f *Floor) Noise {
	top := ranked(t.sorted, 0.98)
	if c != nil {
		top = math.Min(top, c.Reading)
	}
	n := Noise{Bright: t.scatter(c, top/10, math.Inf(1))}
	low, high := f.Told, 10*f.Told
	if dusk := median(t.dusk()); dusk/3 > low { // as dark as totality, and no darker
		low, high = dusk/3, dusk*3
	}
	n.Dark = t.scatter(c, low, high)
	return n
}

// scatter judges the readings from low to high, both above zero; nil where there
// are too few.
func (t *trace) scatter(c *Ceiling, low, high float64) *Scatter {
	if !(low > 0 && high > low) {
		return nil
	}
	// logarithm is NaN of a reading that does not count.
	logarithm := func(i int) float64 {
		if t.v[i] >= low && t.v[i] <= high && t.status[i] == sensor.OK && !t.isFull(i, c) {
			return math.Log(t.v[i])
		}
		return math.NaN()
	}
	block, blocks := make([]float64, 0, noiseBlock), make([]float64, 0, len(t.v)/noiseBlock+1)
	triples := 0
	flush := func() {
		if len(block) >= noiseLeast {
			blocks = append(blocks, toSigma*quantile.MedianOf(block))
		}
		block = block[:0]
	}
	here, after := math.NaN(), math.NaN()
	for i := -1; i+1 < len(t.v); i++ {
		before := here
		here, after = after, logarithm(i+1)
		if math.IsNaN(before) || math.IsNaN(here) || math.IsNaN(after) {
			continue
		}
		a, b := t.at[i]-t.at[i-1], t.at[i+1]-t.at[i]
		if !(a > 0 && b > 0 && a <= noiseStride*b && b <= noiseStride*a) {
			continue
		}
		triples++
		// The line through its neighbours, and what their own errors bring to it.
		w := a / (a + b)
		d := here - (1-w)*before - w*after
		block = append(block, math.Abs(d)/math.Sqrt(1+w*w+(1-w)*(1-w)))
		if len(block) == noiseBlock {
			flush()
		}
	}
	flush()
	if len(blocks) == 0 {
		return nil
	}
	slices.Sort(blocks)
	level := ranked(readings(t.sorted, low, high, c), 0.5)
	return &Scatter{
		Level:    figure(level),
		Relative: figure(ranked(blocks, quiet)),
		Step:     figure(leastStep(readings(t.distinct, low, high, c)) / level),
		Samples:  triples,
	}
}

// readings are those from low to high of a sorted slice, without those at the ceiling.
func readings(sorted []float64, low, high float64, c *Ceiling) []float64 {
	if c != nil {
		high = math.Min(high, math.Nextafter(c.Reading, 0))
	}
	from, _ := slices.BinarySearch(sorted, low)
	to, _ := slices.BinarySearch(sorted, math.Nextafter(high, math.Inf(1)))
	return sorted[from:max(from, to)]
}
