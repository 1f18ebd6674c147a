package cooling

import (
	"math"
	"slices"
	"sort"
	"time"

	"gonum.org/v1/gonum/stat"

	"example.org/noonfall/eclipse/internal/quantile"
)

// A Reading is one reading of a thermometer. NaN and values of a failed sensor
// are left out and counted.
type Reading struct {
	UTC time.Time // corrected as well as it is known
	C   float64   // degrees Celsius
}

// Values that no air near the ground has: the coldest and hottest measured are -89
// and 57 degrees Celsius (common knowledge, no source). Digital thermometers say
// -127 for a lost contact and exactly 85 after power-on; the range keeps both out.
const (
	coldest = -90.0
	hottest = 60.0
)

// A series is a log in bins: times in seconds from maximum eclipse, ascending.
type series struct {
	t, c, v []float64 // middle of the bin, mean, variance of the mean by white noise
	width   float64   // of a bin, s
	box     float64   // from the first reading of a bin to its last, s
	lag     float64   // of the thermometer that is likeliest, s
	n       int       // readings in use
	failed  int       // readings left out as impossible
	spikes  int       // readings left out as far from their neighbours
	noise   float64   // of one reading, degrees
	quantum float64   // step of the readings, degrees; 0 where none is seen
	dwell   float64   // mean time between changes of the reading, s
}

// bins is into how many a log is averaged at most: the answer to light takes
// minutes, and a bin of four and a half hours is then not quite three.
const bins = 96

// newSeries sorts, cleans and bins the readings between two instants. since turns
// their stamps into seconds.
func newSeries(readings []Reading, since func(time.Time) float64, from, to float64) series {
	var s series
	t, c := make([]float64, 0, len(readings)), make([]float64, 0, len(readings))
	for _, r := range readings {
		at := since(r.UTC)
		if !(at >= from && at <= to) {
			continue
		}
		if !(r.C > coldest && r.C < hottest) {
			s.failed++
			continue
		}
		t, c = append(t, at), append(c, r.C)
	}
	if order := (inTime{t, c}); !sort.IsSorted(order) {
		sort.Sort(order)
	}
	s.quantum = quantumOf(c)
	t, c, s.spikes = withoutSpikes(t, c, s.quantum)
	if s.n = len(t); s.n < 2 {
		return s
	}
	s.noise = noiseOf(c, s.quantum)
	s.dwell = dwellOf(t, c)
	s.bin(t, c)
	return s
}

// inTime puts readings in order.
type inTime struct{ t, c []float64 }

// Len is how many there are.
func (r inTime) Len() int { return len(r.t) }

// Less goes by time, and by temperature where that is the same.
func (r inTime) Less(i, j int) bool { return r.t[i] < r.t[j] || r.t[i] == r.t[j] && r.c[i] < r.c[j] }

// Swap moves both numbers.
func (r inTime) Swap(i, j int) {
	r.t[i], r.t[j] = r.t[j], r.t[i]
	r.c[i], r.c[j] = r.c[j], r.c[i]
}

// quantumOf is the least difference between neighbouring values, where the values
// are few against the readings: a digital thermometer's last place.
func quantumOf(c []float64) float64 {
	u, _ := quantile.Distinct(c)
	u = slices.CompactFunc(u, func(a, b float64) bool { return math.Abs(b-a) < 1e-6 })
	if len(u) < 2 {
		return 0
	}
	d := make([]float64, len(u)-1)
	for i := range d {
		d[i] = u[i+1] - u[i]
	}
	slices.Sort(d)
	return stat.Quantile(0.1, stat.Empirical, d, nil)
}

// fastest is how fast air may move and be no spike, degrees a second: twice what an
// eclipse of 4.4 degrees in 40 min does (testdata/references/eclipse_temperature.csv).
const fastest = 0.2 / 60

// withoutSpikes leaves out what is far from the median of its neighbours, three on each
// side, or one where they are minutes away. It writes over both slices.
func withoutSpikes(t, c []float64, quantum float64) (kt, kc []float64, spikes int) {
	half, step := 3, 0.0
	if len(t) > 1 {
		step = (t[len(t)-1] - t[0]) / float64(len(t)-1)
	}
	if step > 60 {
		half = 1
	}
	if len(c) == 0 {
		return t, c, 0
	}
	off := make([]float64, len(c))
	m := middle{value: c[0]}
	for _, v := range c[:min(half, len(c))] {
		m.count(v, 1)
	}
	for i, v := range c {
		if i+half < len(c) {
			m.count(c[i+half], 1)
		}
		if i > half {
			m.count(c[i-half-1], -1)
		}
		for !m.holds() {
			m.step(c[max(0, i-half):min(len(c), i+half+1)])
		}
		off[i] = math.Abs(v - m.value)
	}
	all := slices.Clone(off)
	quantile.Split(all, len(all)/2)
	// Eight robust deviations, and never less than three steps, or half a degree and what air may do meanwhile.
	limit := math.Max(8*1.4826*all[len(all)/2], math.Max(3*quantum, 0.5+fastest*step*float64(half)))
	kt, kc = t[:0], c[:0]
	for i, off := range off {
		if off > limit {
			spikes++
			continue
		}
		kt, kc = append(kt, t[i]), append(kc, c[i])
	}
	return kt, kc, spikes
}

// A middle is the median of a few values that come and go, as a rule the same as before.
type middle struct {
	value           float64
	n, below, above int // how many there are, and of other value
}

// count adds a value once, or takes it away.
func (m *middle) count(v float64, times int) {
	m.n += times
	if v < m.value {
		m.below += times
	}
	if v > m.value {
		m.above += times
	}
}

// holds says that the value still is the median, the upper of two in the middle.
func (m *middle) holds() bool { return m.below <= m.n/2 && m.above <= (m.n-1)/2 }

// step goes to the next of the values, down where too many are below and else up.
func (m *middle) step(values []float64) {
	lower, upper := math.Inf(-1), math.Inf(1)
	for _, v := range values {
		if v < m.value {
			lower = max(lower, v)
		}
		if v > m.value {
			upper = min(upper, v)
		}
	}
	next := middle{value: upper}
	if m.below > m.n/2 {
		next.value = lower
	}
	for _, v := range values {
		next.count(v, 1)
	}
	*m = next
}

// noiseOf is the scatter of one reading from the third differences of four
// neighbours, which no smooth course has; rounding is part of it where it hops.
func noiseOf(c []float64, quantum float64) float64 {
	d := make([]float64, 0, len(c))
	for i := 3; i < len(c); i++ {
		d = append(d, math.Abs(c[i]-3*c[i-1]+3*c[i-2]-c[i-3])/math.Sqrt(20))
	}
	if len(d) == 0 {
		return math.Max(0.1, quantum)
	}
	calm := max(1, len(d)*98/100) // a step of the wind is no noise
	quantile.Split(d, calm-1)
	d = d[:calm]
	sum := 0.0
	for _, v := range d {
		sum += v * v
	}
	return math.Max(math.Sqrt(sum/float64(len(d))), 0.003)
}

// dwellOf is the mean time between changes of the reading.
func dwellOf(t, c []float64) float64 {
	changes := 1
	for i := 1; i < len(c); i++ {
		if c[i] != c[i-1] {
			changes++
		}
	}
	return (t[len(t)-1] - t[0]) / float64(changes)
}

// bin averages over equal widths.
func (s *series) bin(t, c []float64) {
	step := (t[len(t)-1] - t[0]) / float64(len(t)-1)
	s.width = math.Max(step, (t[len(t)-1]-t[0])/bins)
	s.box = s.width - step
	for i := 0; i < len(t); {
		end := t[i] + s.width*0.999
		j, st, sc := i, 0.0, 0.0
		for ; j < len(t) && t[j] < end; j++ {
			st, sc = st+t[j], sc+c[j]
		}
		n := float64(j - i)
		// On a grid far finer than anything that the air does.
		at := t[0] + math.Round((st/n-t[0])/s.grid())*s.grid()
		s.t, s.c, s.v = append(s.t, at), append(s.c, sc/n), append(s.v, s.noise*s.noise/n+1e-6)
		i = j
	}
}

// grid is what the bins' times are multiples of from the first, s.
func (s *series) grid() float64 { return s.width / 64 }
