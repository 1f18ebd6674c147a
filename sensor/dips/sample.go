package dips

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/stat"
)

// A Sample is one reading of the sensor: counts, ohms, volts, whatever the log has.
type Sample struct {
	Time time.Time // any zone
	// Counts may fall or grow as the light falls. A reading that is NaN or infinite, or
	// beyond 1e100 either way, is skipped.
	Counts float64
}

// Errors of Find, wrapped with what was found and what to do.
var (
	// ErrFew says that there are too few readings for anything to be told from noise.
	ErrFew = errors.New("dips: too few readings")
	// ErrSpan says that the readings lie more than a year apart, as with a clock that was reset.
	ErrSpan = errors.New("dips: the readings span more than a year")
	// ErrOptions says that an option cannot be.
	ErrOptions = errors.New("dips: an option cannot be")
	// ErrDark says that the level beside a dip is not above that of darkness, so that no
	// depth can be stated.
	ErrDark = errors.New("dips: the level is not above that of darkness")
)

const (
	fewest  = 20                   // readings, three windows and something to compare them with
	longest = 366 * 24 * time.Hour // so that seconds keep a microsecond as a float64
	wildest = 1e100                // so that squares stay finite
)

// series are the readings that can be used, in order of time, one for each instant.
type series struct {
	start   time.Time
	t, v    []float64 // seconds after start; readings
	cadence float64   // median interval, s
	step    float64   // least difference of two readings, 0 where all are equal
	jitter  float64   // scatter from one reading to the next, as a standard deviation
	skipped int       // readings without a number
}

// newSeries sorts, skips what is no number, and averages readings of one stamp.
func newSeries(samples []Sample) (*series, error) {
	s := &series{}
	kept := make([]Sample, 0, len(samples))
	for _, x := range samples {
		if math.Abs(x.Counts) <= wildest { // false for NaN
			kept = append(kept, x)
		}
	}
	s.skipped = len(samples) - len(kept)
	slices.SortStableFunc(kept, func(a, b Sample) int { return a.Time.Compare(b.Time) })
	if len(kept) < fewest {
		return nil, fmt.Errorf("%w: %d that are numbers, at least %d are wanted", ErrFew, len(kept), fewest)
	}
	s.start = kept[0].Time
	if span := kept[len(kept)-1].Time.Sub(s.start); span > longest {
		return nil, fmt.Errorf("%w: from %v to %v; give one part of the log", ErrSpan, s.start, kept[len(kept)-1].Time)
	}
	s.average(kept)
	if len(s.t) < fewest {
		return nil, fmt.Errorf("%w: %d different stamps, at least %d are wanted", ErrFew, len(s.t), fewest)
	}
	s.measure()
	return s, nil
}

// average makes one reading of all that bear the same stamp.
func (s *series) average(sorted []Sample) {
	for i := 0; i < len(sorted); {
		sum, j := 0.0, i
		for ; j < len(sorted) && sorted[j].Time.Equal(sorted[i].Time); j++ {
			sum += sorted[j].Counts
		}
		s.t = append(s.t, sorted[i].Time.Sub(s.start).Seconds())
		s.v = append(s.v, sum/float64(j-i))
		i = j
	}
}

// measure finds cadence, step and jitter.
func (s *series) measure() {
	n := len(s.t)
	gaps, jumps := make([]float64, n-1), make([]float64, n-1)
	for i := range gaps {
		gaps[i], jumps[i] = s.t[i+1]-s.t[i], math.Abs(s.v[i+1]-s.v[i])
	}
	s.cadence = median(gaps)
	const ofNormal = 0.6745 * math.Sqrt2 // median of |difference| of two standard normals
	s.jitter = median(jumps) / ofNormal
	sorted := slices.Clone(s.v)
	slices.SortFunc(sorted, cmp.Compare[float64])
	s.step = math.Inf(1)
	for i := 1; i < n; i++ {
		if d := sorted[i] - sorted[i-1]; d > 0 {
			s.step = math.Min(s.step, d)
		}
	}
	if math.IsInf(s.step, 1) {
		s.step = 0
	}
}

// median sorts its argument.
func median(x []float64) float64 {
	slices.Sort(x)
	return stat.Quantile(0.5, stat.Empirical, x, nil)
}

// at is the instant so many seconds after the first reading.
func (s *series) at(seconds float64) time.Time {
	return s.start.Add(time.Duration(math.Round(seconds * 1e9)))
}

// calm is the series without lone wild readings: each is the middle one of three.
func (s *series) calm() []float64 {
	out := slices.Clone(s.v)
	for i := 1; i+1 < len(out); i++ {
		a, b, c := s.v[i-1], s.v[i], s.v[i+1]
		out[i] = max(min(a, b), min(max(a, b), c))
	}
	return out
}
