package ephemeris

import (
	"errors"
	"fmt"
	"math"

	"example.org/noonfall/sun/timescale"
)

// A Table is a [Source] of evenly spaced rows, such as an almanac prints. On a
// row it gives the row; between rows it interpolates. It is safe for concurrent use.
type Table struct {
	origin Origin
	first  timescale.TT
	step   float64 // seconds
	series [7][]float64
	weight []float64 // of the rows that one interpolation takes
}

// ErrFewRows is returned by [NewTable] for fewer than five rows.
var ErrFewRows = errors.New("ephemeris: a table needs five rows at least")

// rowsUsed is how many rows one interpolation takes. With nine half-hour rows a
// row left out comes back within the rounding of its neighbours; fewer rows do worse.
const rowsUsed = 9

// NewTable returns a source that reads rows; the first is at the instant first and each
// next one stepSeconds later, [1, 86400]. Between rows a polynomial through the
// nine nearest is used. With rows half an hour apart that is good to the
// rounding of the rows, two rows inside the ends. Angles may cross 360 degrees
// anywhere. The error is ErrFewRows, or a *RangeError for the step, the first instant, or a
// row, whose number from 1 it names.
func NewTable(origin Origin, first timescale.TT, stepSeconds float64, rows []Sky) (*Table, error) {
	if len(rows) < 5 {
		return nil, fmt.Errorf("%w: got %d", ErrFewRows, len(rows))
	}
	if err := errors.Join(within("step, seconds", stepSeconds, 1, 86400),
		within("first, seconds from J2000.0", float64(first), -1e12, 1e12)); err != nil {
		return nil, err
	}
	t := &Table{origin: origin, first: first, step: stepSeconds, weight: weights(min(len(rows), rowsUsed))}
	for i, row := range rows {
		if err := row.validate(); err != nil {
			return nil, fmt.Errorf("row %d: %w", i+1, err)
		}
		for j, v := range row.values() {
			t.series[j] = append(t.series[j], v)
		}
	}
	for _, j := range []int{sunRA, moonRA, sidereal} {
		unwrap(t.series[j])
	}
	return t, nil
}

// Where each value of a Sky lies in a Table.
const (
	sunRA = iota
	sunDec
	sunDistance
	moonRA
	moonDec
	moonDistance
	sidereal
)

func (s Sky) values() [7]float64 {
	return [7]float64{s.Sun.RA, s.Sun.Dec, s.Sun.Distance, s.Moon.RA, s.Moon.Dec, s.Moon.Distance, s.Sidereal}
}

// Origin returns what the table was made with.
func (t *Table) Origin(timescale.TT) Origin { return t.origin }

// Sky returns the sky at an instant between the first row and the last, both
// included, and a [*RangeError] outside.
func (t *Table) Sky(at timescale.TT) (Sky, error) {
	last := float64(len(t.series[0]) - 1)
	u := float64(at-t.first) / t.step
	if err := within("instant, rows from the first", u, 0, last); err != nil {
		return Sky{}, err
	}
	var v [7]float64
	if row := math.Round(u); u == row { // on the row exactly, where the formula divides by zero
		for j := range v {
			v[j] = t.series[j][int(row)]
		}
	} else {
		v = t.between(u)
	}
	return Sky{
		Sun:      Place{circle(v[sunRA]), v[sunDec], v[sunDistance]},
		Moon:     Place{circle(v[moonRA]), v[moonDec], v[moonDistance]},
		Sidereal: circle(v[sidereal]),
	}, nil
}

// between interpolates by the barycentric form of Lagrange's formula (J.-P.
// Berrut and L. N. Trefethen, SIAM Review 46, 2004, eq. 4.2) through the rows
// next to u. Through all rows it would multiply their rounding up to fiftyfold
// near the ends.
func (t *Table) between(u float64) [7]float64 {
	n := len(t.weight)
	start := int(math.Round(u - float64(n-1)/2))
	start = min(max(start, 0), len(t.series[0])-n)
	var v [7]float64
	sum := 0.0
	for i, w := range t.weight {
		q := w / (u - float64(start+i))
		sum += q
		for j := range v {
			v[j] += q * t.series[j][start+i]
		}
	}
	for j := range v {
		v[j] /= sum
	}
	return v
}

// weights returns barycentric weights of n evenly spaced rows: binomial
// coefficients of alternating sign (the same paper, eq. 5.1).
func weights(n int) []float64 {
	w := make([]float64, n)
	w[0] = 1
	for i := 1; i < n; i++ {
		w[i] = -w[i-1] * float64(n-i) / float64(i)
	}
	return w
}

// unwrap removes jumps of whole circles from angles in degrees that move by
// less than half a circle from one to the next.
func unwrap(angles []float64) {
	for i := 1; i < len(angles); i++ {
		angles[i] += 360 * math.Round((angles[i-1]-angles[i])/360)
	}
}
