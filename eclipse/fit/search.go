package fit

import (
	"cmp"
	"math"
	"slices"

	"example.org/noonfall/eclipse/internal/quantile"
)

// A match is one shift at which the log looks like the eclipse.
type match struct {
	shift float64 // s
	score float64 // squared deviations that the eclipse explains and a plain day does not
	worth float64 // score, less what a shift of this kind costs beforehand
}

// The search looks at the log a minute at a time: fine enough to find the
// eclipse, coarse enough to try a day of shifts.
const (
	searchBin  = 60.0
	searchStep = 60.0
	aside      = 1800.0 // s before first and after fourth contact that are compared as well
	leastClear = 4000.0 // lx; below some 2.5 degrees of altitude the clear-sky model is not to be trusted
)

// search tries every shift within reach, by the steps between neighbouring
// minutes: the level of a log means nothing and a cloud's edge spoils one
// step only. Each step weighs by how smoothly the log ran around it. It returns
// the best match and its rivals, most promising first.
func (l *light) search(s *series, reach float64) []match {
	y := s.minutes()
	steps := searchSteps(y)
	n := int(reach / searchStep)
	all := make([]match, 0, 2*n+1)
	for i := -n; i <= n; i++ {
		m := match{shift: float64(i) * searchStep}
		m.score = l.score(steps, m.shift)
		m.worth = m.score - cost(m.shift)
		if m.score > leastScore {
			all = append(all, m)
		}
	}
	slices.SortStableFunc(all, func(a, b match) int { return cmp.Compare(b.worth, a.worth) })
	// A clock that is right to minutes is always looked at, however faint the dip.
	right := match{}
	if i := slices.IndexFunc(all, func(m match) bool { return math.Abs(m.shift) <= rightClock }); i >= 0 {
		right = all[i]
	}
	peaks := []match{right}
	for _, m := range all {
		apart := !slices.ContainsFunc(peaks, func(p match) bool { return math.Abs(p.shift-m.shift) < rivalApart })
		if apart && len(peaks) < rivals && m.worth > rivalWorth*all[0].worth {
			peaks = append(peaks, m)
		}
	}
	slices.SortStableFunc(peaks, func(a, b match) int { return cmp.Compare(b.worth, a.worth) })
	return peaks
}

const (
	rightClock = 600.0  // s
	leastScore = 9.0    // three deviations: less is not worth a closer look
	rivals     = 4      // matches looked at closely
	rivalApart = 3000.0 // s; the same eclipse matches at half its own length from its best
	rivalWorth = 0.25   // of the best match: a minute is too coarse to tell better
)

// minutes are the log's means over so long.
func (s *series) minutes() []reading {
	return binned(s.samples, false, func(float64) float64 { return searchBin })
}

// A stepOf is one difference between neighbouring minutes.
type stepOf struct{ from, to, rise, weight float64 }

// searchSteps makes the differences. Those in the deepest part of the log are
// left out: a minute there is too long beside totality's edges.
func searchSteps(y []reading) []stepOf {
	var values []float64
	for _, r := range y {
		values = append(values, r.y)
	}
	deepest := quantile.Of(0.9, values) - 3.5
	steps := make([]stepOf, 0, len(y))
	for k := 1; k < len(y); k++ {
		if y[k].t-y[k-1].t > 5*searchBin || y[k].y < deepest || y[k-1].y < deepest {
			continue
		}
		steps = append(steps, stepOf{from: y[k-1].t, to: y[k].t, rise: y[k].y - y[k-1].y})
	}
	for k := range steps {
		// Second differences: an eclipse makes them small and a cloud large.
		var sum float64
		n := 0
		for j := max(1, k-5); j < min(len(steps), k+6); j++ {
			d := steps[j].rise - steps[j-1].rise
			sum += d * d
			n++
		}
		steps[k].weight = 1 / (searchError*searchError + sum/float64(2*max(n, 1)))
	}
	return steps
}

// searchError is a step that the model itself may be wrong by, relative: a
// clear sky's change in a minute at low Sun. Common practice, no source.
const searchError = 0.004

// score is what the eclipse explains at this shift: the fall of the weighted
// sum of squares when the logarithm of the flux joins a straight line and the
// clear sky's own course.
func (l *light) score(steps []stepOf, shift float64) float64 {
	var a [3][4]float64 // normal equations of slope, clear, flux; last column the log
	used, inside := 0, 0
	last := math.NaN()
	var c0, f0, c1, f1 float64
	begin, _ := slices.BinarySearchFunc(steps, l.c1-aside+shift, func(s stepOf, at float64) int { return cmp.Compare(s.to, at) })
	for _, s := range steps[begin:] {
		from, to := s.from-shift, s.to-shift
		if from > l.c4+aside {
			break
		}
		if c0, f0 = c1, f1; s.from != last { // most steps begin where the one before ended
			c0, f0 = l.clear.at(from), l.about.at(from)
		}
		c1, f1 = l.clear.at(to), l.about.at(to)
		last = s.to
		if c0 < logLeastClear || c1 < logLeastClear {
			continue
		}
		row := [4]float64{(to - from) / 3600, c1 - c0, f1 - f0, s.rise}
		used++
		if row[2] != 0 { // exactly zero outside first to fourth contact
			inside++
		}
		for i := range 3 {
			weighed := s.weight * row[i]
			for j := i; j < 4; j++ {
				a[i][j] += weighed * row[j]
			}
		}
	}
	if used < 10 || inside < 5 {
		return 0
	}
	return explained(a)
}

var logLeastClear = math.Log(leastClear)

// A fluxTable is the logarithm of the light that is left, as well as minutes can tell it, so
// that thousands of shifts cost one table. It stops at the depth that the search uses.
type fluxTable struct {
	first float64 // s from maximum
	log   []float64
}

const (
	fluxStep = 5.0  // s
	fluxDeep = 0.02 // of the light
)

func newFluxTable(l *light) fluxTable {
	out := fluxTable{first: l.c1, log: make([]float64, int((l.c4-l.c1)/fluxStep)+2)}
	for i := range out.log {
		out.log[i] = math.Log(math.Max(math.Min(1, l.flux(l.c1+float64(i)*fluxStep)), fluxDeep))
	}
	return out
}

// at reads the table by straight lines; outside first to fourth contact nothing is lost.
func (f *fluxTable) at(t float64) float64 {
	x := (t - f.first) / fluxStep
	i := int(x)
	if !(x > 0) || i+1 >= len(f.log) {
		return 0
	}
	return f.log[i] + (x-float64(i))*(f.log[i+1]-f.log[i])
}

// explained eliminates slope and clear sky (Gauss, with a ridge far below any
// real weight) and returns the squared part of the log along what is left of
// the flux, 0 where it points the wrong way.
func explained(a [3][4]float64) float64 {
	for i := range 3 {
		a[i][i] += 1e-9
	}
	for i := range 2 {
		for r := i + 1; r < 3; r++ {
			f := a[i][r] / a[i][i]
			for j := r; j < 4; j++ {
				a[r][j] -= f * a[i][j]
			}
		}
	}
	if a[2][3] <= 0 || a[2][2] <= 1e-9 {
		return 0
	}
	return a[2][3] * a[2][3] / a[2][2]
}

// cost is twice the log-odds against a shift before the log is seen: most
// clocks are right to minutes, many are left on a zone of whole, fewer of half
// and quarter hours, and few are wrong by anything else. The scale is larger than
// odds alone would be, because cloud and a low Sun fake squared deviations by the
// dozen. Common practice, no source; a clear dip overrules it by thousands.
func cost(shift float64) float64 {
	off := func(grid float64) float64 { return math.Abs(shift - grid*math.Round(shift/grid)) }
	switch {
	case math.Abs(shift) <= rightClock:
		return 0
	case off(3600) <= 300:
		return 25
	case off(1800) <= 300:
		return 35
	case off(900) <= 300:
		return 45
	}
	return 60
}

// trust is what evidence counts for at a shift, on the same grounds as cost: a
// setting Sun under cloud looks like an eclipse at some odd hour, in proportion to
// how smooth the log is.
func trust(shift float64) float64 {
	switch {
	case math.Abs(shift) <= rightClock:
		return 1
	case math.Abs(shift-900*math.Round(shift/900)) <= 300:
		return 0.4
	}
	return 0.05
}
