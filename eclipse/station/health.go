package station

import (
	"math"
	"slices"

	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/internal/quantile"
	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
)

// Health is what a log says of its logger, on any day and under any sky: it needs
// no eclipse and no fit. It is plain data, and marshals to JSON whose keys carry
// units. A part that the log does not show is nil. Readings are the light column's
// own numbers, or lux where the station's chain is known; figures that are
// estimates are rounded to four digits.
type Health struct {
	Records int     `json:"records"` // lines with a readable stamp, before merging
	Samples int     `json:"samples"` // of a clock that was set or put right, each instant's reading once
	SpanH   float64 `json:"span_h"`  // from the first sample to the last, hours

	Steps   *Steps   `json:"steps"`   // nil with fewer than three different stamps
	Gaps    Gaps     `json:"gaps"`    // of all files together
	Clock   Stamps   `json:"stamps"`  // what the clock did and how it was written
	Lines   Lines    `json:"lines"`   // what could be read
	Range   *Range   `json:"range"`   // nil without a reading
	Ceiling *Ceiling `json:"ceiling"` // nil where nothing saturates
	Floor   *Floor   `json:"floor"`   // nil without a reading
	Noise   Noise    `json:"noise"`   // how readings scatter, bright and dark
	Sky     *Sky     `json:"sky"`     // nil without a reading, or a site

	// Advice is what to change before the day, most important first; empty where the
	// log is fine.
	Advice []Advice `json:"advice"`
}

// Lines counts what could not be read, in all files.
type Lines struct {
	RefusedShare float64 `json:"refused_share"`  // of the lines that should be records
	NoLightShare float64 `json:"no_light_share"` // of the samples: without a readable light
}

// Range is how much of the sensor's range the log used.
type Range struct {
	Unit     string  `json:"unit"`     // of the column, as its heading or its cells give it; may be empty
	Least    float64 `json:"least"`    // in the column's own numbers, whatever the chain
	Greatest float64 `json:"greatest"` // in the same numbers
	Distinct int     `json:"distinct"` // different numbers
	// Swing is the share of the brightest reading by which all but the two extreme
	// hundredths differ.
	Swing float64 `json:"swing"`
	// Decades of light between the brightest reading and the darkest that is told
	// from the floor.
	Decades float64 `json:"decades"`
}

// Noise is how the readings scatter where the light is strong and where it is weak.
type Noise struct {
	Bright *Scatter `json:"bright"` // the upper decade, saturated readings left out
	Dark   *Scatter `json:"dark"`   // the decade about civil dusk, as dark as totality, or the lowest told from the floor
}

// trace is a log as its health is read from it: what is a number or a bound,
// ascending in time.
type trace struct {
	at     []float64 // seconds since the first sample
	v      []float64 // lux, or the column's numbers
	status []sensor.Status
	sun    []float64 // the Sun's altitude at the stamp, degrees; nil without a site
	noon   []bool    // whether that is more than half its height of noon
	days   []daySpan // the solar days, where sun is known
	night  []float64 // of v, in any order, with the Sun 9 degrees down or more
	dark   float64   // the middle one of them; NaN where they are too few
	// distinct are the different numbers of v in ascending order, and sorted all of them.
	distinct, sorted []float64

	step float64 // least difference between two different numbers; 0 with one
}

// examine fills in the report's Health.
func (r *Report) examine() error {
	h := &r.Health
	h.Records, h.Samples = r.Records, len(r.Samples)
	h.Clock = r.stamps()
	h.Lines = r.lines()
	if n := len(r.Samples); n > 1 {
		h.SpanH = figure(elapsed(r.Samples[0].Time, r.Samples[n-1].Time).Hours())
	}
	h.Steps, h.Gaps = cadence(r.Samples)
	almanac, err := r.almanac()
	if err != nil {
		return err
	}
	t := r.trace(almanac)
	if len(t.v) > 0 {
		h.Range = r.used(t)
		h.Ceiling = t.ceiling(r.chain != nil)
		h.Floor = t.floor(h.Ceiling)
		h.Range.Swing = t.swing()
		h.Range.Decades = h.Floor.decades(h.Ceiling, t.sorted)
		h.Noise = t.noise(h.Ceiling, h.Floor)
		h.Sky = t.sky(r.Samples[0].Time)
	}
	h.Advice = advise(r.diagnosis(almanac))
	return nil
}

// used is the range in the column's own numbers.
func (r *Report) used(t *trace) *Range {
	values := t.distinct
	if r.chain != nil { // those are lux
		values, _ = quantile.Distinct(r.raw)
		r.raw = nil // nobody else asks
	}
	return &Range{Unit: r.unit(), Least: values[0], Greatest: values[len(values)-1], Distinct: len(values)}
}

// swing compares the readings' ends, without the hundredth at each.
func (t *trace) swing() float64 {
	low, high := ranked(t.sorted, 0.01), ranked(t.sorted, 0.99)
	if scale := math.Max(math.Abs(low), math.Abs(high)); scale > 0 {
		return figure((high - low) / scale)
	}
	return 0
}

// unit is that of the light column, from the first file that tells it.
func (r *Report) unit() string {
	for _, f := range r.Files {
		for _, c := range f.Layout.Columns {
			if c.Role == lightRole && c.Unit != "" {
				return c.Unit
			}
		}
	}
	return ""
}

func (r *Report) trace(a *almanac) *trace {
	n := len(r.Samples)
	t := &trace{at: make([]float64, 0, n), v: make([]float64, 0, n), status: make([]sensor.Status, 0, n)}
	for i := range r.Samples {
		s := &r.Samples[i]
		if !isNumber(s.Value) {
			continue
		}
		t.at = append(t.at, elapsed(r.Samples[0].Time, s.Time).Seconds())
		t.v = append(t.v, s.Value)
		t.status = append(t.status, s.Status)
	}
	distinct, times := quantile.Distinct(t.v)
	t.distinct, t.sorted = distinct, quantile.Repeated(distinct, times)
	t.step = leastStep(distinct)
	if a != nil {
		t.light(r.Samples, a)
	}
	t.night = t.between(math.Inf(-1), nightDeg)
	if t.dark = math.NaN(); len(t.night) >= nightLeast {
		t.dark = quantile.MedianOf(t.night)
	}
	return t
}

// A daySpan are the samples from one index to another, of one solar day.
type daySpan struct {
	from, to int
	*sunDay  // nil for a date of which the Sun's place is not known
}

// light finds where the Sun was.
func (t *trace) light(samples []fit.Sample, a *almanac) {
	t.sun, t.noon = make([]float64, 0, len(t.v)), make([]bool, 0, len(t.v))
	last := int64(math.MinInt64)
	var d *sunDay
	for i := range samples {
		s := &samples[i]
		if !isNumber(s.Value) {
			continue
		}
		number, into := a.dayOf(s.Time)
		if number != last {
			last, d = number, a.day(number)
			t.days = append(t.days, daySpan{len(t.sun), len(t.sun), d})
		}
		alt := d.altitude(into)
		t.sun, t.noon = append(t.sun, alt), append(t.noon, d.about(alt))
		t.days[len(t.days)-1].to++
	}
}

// leastStep is the least difference between two different numbers of a sorted
// slice, and 0 where there are not two.
func leastStep(sorted []float64) float64 {
	step := math.Inf(1)
	for i := 1; i < len(sorted); i++ {
		// Differences of decimal fractions that are one step apart differ in their last
		// bits; a part in 1e9 of the reading is no step.
		if d := sorted[i] - sorted[i-1]; d > 1e-9*math.Abs(sorted[i]) && d < step {
			step = d
		}
	}
	if math.IsInf(step, 1) {
		return 0
	}
	return step
}

// ranked is the p-quantile of a sorted slice by nearest rank, NaN of an empty one.
func ranked(sorted []float64, p float64) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	return sorted[int(math.Round(p*float64(len(sorted)-1)))]
}

// median is that of values in any order, NaN of none.
func median(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	return quantile.MedianOf(slices.Clone(v))
}

func isNumber(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// figure rounds an estimate to four digits.
func figure(v float64) float64 {
	if v == 0 || !isNumber(v) {
		return v
	}
	scale := math.Pow(10, 3-math.Floor(math.Log10(math.Abs(v))))
	return math.Round(v*scale) / scale
}

func share(part, whole int) float64 {
	if whole == 0 {
		return 0
	}
	return figure(float64(part) / float64(whole))
}

// sited says that the station's place was given: nobody has a logger where the
// equator meets the prime meridian, at sea.
func (s *Station) sited() bool { return s.Site.Sun() != (sun.Site{}) }
