package logfile

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

const deg = math.Pi / 180 // radians in a degree

// The ellipsoid of WGS84: NGA.STND.0036, from memory.
const (
	equatorRadius = 6378137.0                     // metres
	flattening    = 1 / 298.257223563             // of the poles
	e2            = flattening * (2 - flattening) // eccentricity squared
)

// A PlaceCost is what rounded coordinates cost whoever computes with them. It is
// the most that rounding can do anywhere in the cell of the grid, not what it did:
// that would give the place away.
type PlaceCost struct {
	// Metres is a bound of the distance from the true place to the written one.
	Metres float64
	// Seconds is the same as a shift of predicted times, by the caller's seconds
	// per kilometre; NaN where none was given.
	Seconds float64
}

// String is a line for people.
func (c PlaceCost) String() string {
	if math.IsNaN(c.Seconds) {
		return fmt.Sprintf("the place is off by up to %.0f m; what that is in seconds was not asked", c.Metres)
	}
	return fmt.Sprintf("the place is off by up to %.0f m, predicted times by up to %.2f s", c.Metres, c.Seconds)
}

// A Grid rounds coordinates for privacy, to multiples of Step degrees in latitude
// and longitude. The zero value leaves them as they are.
//
// A receiver that stands near the border of two cells and wavers between them
// tells more than one cell: for a logger that does not move, round its mean place
// once.
type Grid struct {
	// Step in degrees, at most 1, which must divide 90 evenly: 0.01 is a village,
	// 0.1 a town. Zero does not round.
	Step float64
	// SecondsPerKm is how fast the predicted times change with the place, seconds
	// per kilometre, not negative: for a contact about one over the shadow's speed
	// in km/s, for the length of totality far more near the limits of the path.
	// Zero where it is not known.
	SecondsPerKm float64
}

// check refuses what is no grid.
func (g Grid) check() error {
	cells := 90 / g.Step
	switch {
	case g.Step == 0 && g.SecondsPerKm == 0:
		return nil
	case g.Step != 0 && !(g.Step >= 1e-6 && g.Step <= 1 && math.Abs(cells-math.Round(cells)) <= 1e-6):
		return &WriteError{Column: "Grid.Step", Found: shortest(g.Step), Kind: ErrField,
			Reason: "wanted 0 or a step from 0.000001 to 1 degrees that divides 90 evenly"}
	case !(g.SecondsPerKm >= 0 && g.SecondsPerKm <= math.MaxFloat64):
		return &WriteError{Column: "Grid.SecondsPerKm", Found: shortest(g.SecondsPerKm), Kind: ErrField,
			Reason: "wanted a number of seconds per kilometre that is not negative"}
	}
	return nil
}

// decimals are those of the step, so that 3 steps of 0.1 are 0.3.
func (g Grid) decimals() int {
	_, behind, _ := strings.Cut(shortest(g.Step), ".")
	return len(behind)
}

// Round gives the multiple of Step nearest to a latitude or longitude, degrees.
func (g Grid) Round(v float64) float64 {
	if g.Step == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return v
	}
	near := math.Round(v/g.Step) * g.Step
	out, err := strconv.ParseFloat(strconv.FormatFloat(near, 'f', g.decimals(), 64), 64)
	if err != nil {
		return near
	}
	return out + 0 // no -0
}

// Cost is what rounding costs at a latitude in degrees, which may be the rounded
// one. On the ellipsoid ds² = M² dφ² + (N cos φ)² dλ²; with half a step for dφ and
// dλ, the largest M and the largest N cos φ of the cell that is a bound.
func (g Grid) Cost(lat float64) PlaceCost {
	φ := math.Abs(g.Round(lat)) * deg
	half := g.Step / 2 * deg
	m, _ := curvature(math.Min(φ+half, math.Pi/2))
	_, across := curvature(math.Max(φ-half, 0))
	cost := PlaceCost{Metres: half * math.Hypot(m, across), Seconds: math.NaN()}
	if g.SecondsPerKm > 0 {
		cost.Seconds = cost.Metres / 1000 * g.SecondsPerKm
	}
	return cost
}

// curvature gives the radius of the meridian and of the circle of latitude at φ,
// metres; the first grows towards the poles, the second towards the equator.
// Textbook formulas, from memory.
func curvature(φ float64) (meridian, parallel float64) {
	sin, cos := math.Sincos(φ)
	w := 1 - e2*sin*sin
	return equatorRadius * (1 - e2) / (w * math.Sqrt(w)), equatorRadius / math.Sqrt(w) * cos
}

// shortest is a number as it is written.
func shortest(v float64) string { return string(appendNumber(nil, v)) }
