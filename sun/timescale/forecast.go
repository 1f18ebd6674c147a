package timescale

import "math"

// The expressions published in 2006 foresaw 75.5 s for 2026.6; the Earth kept
// 69.2 s. To start from them would put a step of six seconds at the table's end,
// and to carry their slope (0.6 s a year, against 0.08 measured) would be nearly
// as wrong for the next eclipses.

const (
	// joinYear is where the forecast has reached the published expression: the
	// year at which its authors too stop easing towards the long-term parabola.
	joinYear = 2150.0
	// trendYears is how much of the observed past the forecast's first slope is
	// taken from: long against the seasons, short against the decades over which
	// the core moves. Common practice, no source.
	trendYears = 10.0
)

// trend is the mean observed rate over the last trendYears, s a year.
func trend() float64 {
	last := len(observed) - 1
	i := last
	for observed[i].year() > observed[last].year()-trendYears {
		i--
	}
	return chord(i, last)
}

// forecast continues the table: a cubic that leaves it with its own value and
// trend and arrives at the published expression, with its value and slope, in
// joinYear; after that the expression itself. The second result is half the
// distance between that and the bare continuation of the trend, s: two defensible
// forecasts, neither preferred.
func forecast(y float64) (seconds, gapU float64) {
	last := observed[len(observed)-1]
	from := curvePoint{last.year(), last.seconds, trend()}
	seconds = polynomial(y)
	if y < joinYear {
		// d/dy of -20 + 32 ((y-1820)/100)^2
		slope := 2 * 32 * (joinYear - 1820) / 100 / 100
		seconds = hermite(y, from, curvePoint{joinYear, polynomial(joinYear), slope})
	}
	straight := from.y + from.slope*(y-from.x)
	return seconds, math.Abs(seconds-straight) / 2
}

// lastRowU is the standard uncertainty of the last observed value, s.
const lastRowU = 0.015

// huber is the standard uncertainty of Delta T some years past the last
// observation, s: the length of day wanders as a random walk. P. J. Huber,
// "Modeling the Length of Day and Extrapolating the Rotation of the Earth"
// (2000), as used by Espenak & Meeus 2006 with Q = 0.058 ms^2/yr and a
// calibration span of 2500 yr; formula and figures from memory. It gives 0.05 s
// after 1 year, 1.6 s after 10, 18 s after 50, 53 s after 100.
func huber(years float64) float64 {
	const q, span = 0.058, 2500
	walk := daysPerYear * years * math.Sqrt(years*q/3*(1+years/span)) / 1000
	return math.Hypot(walk, lastRowU)
}

// historicKnots gives the standard uncertainty of the expressions before 1900,
// {year, s}: L. V. Morrison & F. R. Stephenson, J. Hist. Astron. 35 (2004) 327,
// Table 1, from memory.
var historicKnots = []curvePoint{
	{x: -500, y: 430}, {x: -400, y: 390}, {x: -300, y: 360}, {x: -200, y: 330}, {x: -100, y: 290},
	{x: 0, y: 260}, {x: 100, y: 240}, {x: 200, y: 210}, {x: 300, y: 180}, {x: 400, y: 160},
	{x: 500, y: 140}, {x: 600, y: 120}, {x: 700, y: 100}, {x: 800, y: 80}, {x: 900, y: 70},
	{x: 1000, y: 55}, {x: 1100, y: 40}, {x: 1200, y: 30}, {x: 1300, y: 20}, {x: 1600, y: 20},
	{x: 1700, y: 5}, {x: 1750, y: 2}, {x: 1800, y: 1}, {x: 1850, y: 1}, {x: 1900, y: 0.3},
}

// historicU is the standard uncertainty before the table, s. Before -500 it is
// 0.8 t^2, t in centuries from 1820 (the same paper, from memory), which meets
// the table's 430 s.
func historicU(y float64) float64 {
	if t := (y - 1820) / 100; y < historicKnots[0].x {
		return 0.8 * t * t
	}
	return along(historicKnots, y)
}
