package timescale

import (
	"math"
	"sort"
)

//go:generate go run ./internal/gendeltat -in ../../testdata/references -out deltat_table.go

// A DeltaT is the lag of the turning Earth behind uniform time, TT - UT1.
type DeltaT struct {
	Seconds  float64 // TT - UT1, s
	SecondsU float64 // its standard uncertainty, s; zero where the caller gave the value
	Source   string  // where the value comes from, for printing
}

// A node is one row of the observed table.
type node struct {
	mjd     int     // Modified Julian Date, 0h
	seconds float64 // TT - UT1, s
}

// year is the argument that TT.year gives for the node's date.
func (n node) year() float64 {
	const mjdOf2000 = 51544 // 2000-01-01T00:00
	return 2000 + float64(n.mjd-mjdOf2000)/daysPerYear
}

// fadeYears is the span before the table over which the published polynomial is
// led to the table's first value: 0.09 s, well inside its uncertainty. Common
// practice, no source.
const fadeYears = 10

// builtinDeltaT joins observation and published expression (see the package comment).
func builtinDeltaT(t TT) DeltaT {
	y := t.year()
	first, last := observed[0], observed[len(observed)-1]
	switch {
	case y > last.year():
		seconds, gapU := forecast(y)
		return DeltaT{seconds, math.Hypot(huber(y-last.year()), gapU),
			"forecast: observed trend led to Espenak & Meeus 2006 by 2150"}
	case y >= first.year():
		return DeltaT{interpolate(y), observedU(y), "observed: Astronomical Almanac and IERS"}
	case y > first.year()-fadeYears:
		// One expression throughout: the next starts in 1900, a day before the table.
		const end = 1900 - 1e-9
		weight := (y - first.year() + fadeYears) / fadeYears
		gap := first.seconds - polynomial(end)
		return DeltaT{polynomial(math.Min(y, end)) + weight*gap, historicU(y), "Espenak & Meeus 2006"}
	default:
		return DeltaT{polynomial(y), historicU(y), "Espenak & Meeus 2006"}
	}
}

// interpolate reads the observed table at a year inside it: a cubic between
// neighbouring rows whose slopes at the rows are those of the parabola through
// each row and its neighbours (Bessel's slopes), so that the rate of the Earth's
// clock has no steps.
func interpolate(y float64) float64 {
	i := sort.Search(len(observed)-2, func(i int) bool { return observed[i+1].year() > y })
	a, b := observed[i], observed[i+1]
	return hermite(y, curvePoint{a.year(), a.seconds, slopeAt(i)}, curvePoint{b.year(), b.seconds, slopeAt(i + 1)})
}

// slopeAt is the rate of Delta T at a row, s a year. The last row's is the
// trend that the forecast starts with.
func slopeAt(i int) float64 {
	switch {
	case i == 0:
		return chord(0, 1)
	case i == len(observed)-1:
		return trend()
	}
	before := observed[i].year() - observed[i-1].year()
	after := observed[i+1].year() - observed[i].year()
	return (chord(i-1, i)*after + chord(i, i+1)*before) / (before + after)
}

// chord is the mean rate between two rows, s a year.
func chord(i, j int) float64 {
	a, b := observed[i], observed[j]
	return (b.seconds - a.seconds) / (b.year() - a.year())
}

// A curvePoint is a value with its slope.
type curvePoint struct{ x, y, slope float64 }

// hermite is the cubic through two points with their slopes.
func hermite(x float64, a, b curvePoint) float64 {
	h := b.x - a.x
	s := (x - a.x) / h
	r := 1 - s
	return r*r*(1+2*s)*a.y + s*s*(1+2*r)*b.y + s*r*h*(r*a.slope-s*b.slope)
}

// observedKnots gives the standard uncertainty of an interpolated value, linear
// between rows: {year, s}.
var observedKnots = []curvePoint{
	{x: 1900, y: 0.3},  // lunar occultations; from memory of Morrison & Stephenson 2004, "below 1 s"
	{x: 1920, y: 0.15}, // the same, "below 0.1 s" by 1950, line between
	{x: 1950, y: 0.08},
	{x: 1956, y: 0.03},  // atomic clocks (June 1955); yearly rows miss the seasons' 0.03 s (a test measures it)
	{x: 1973, y: 0.02},  // half-yearly rows since mid-1973
	{x: 2100, y: 0.015}, // rms found on 30 eclipse days between half-yearly rows, before they were rows too
}

func observedU(y float64) float64 { return along(observedKnots, y) }

// along is the broken line through the points, level outside.
func along(points []curvePoint, x float64) float64 {
	i := sort.Search(len(points), func(i int) bool { return points[i].x > x })
	switch i {
	case 0:
		return points[0].y
	case len(points):
		return points[i-1].y
	}
	a, b := points[i-1], points[i]
	return a.y + (b.y-a.y)*(x-a.x)/(b.x-a.x)
}
