package ephemeris

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"example.org/noonfall/eclipse"
)

// A fitter draws least-squares polynomials through values at given hours. It
// works in Chebyshev polynomials of hours/span, whose normal equations stay
// well-conditioned (below 3 here, against 1e6 for plain powers of hours), and
// turns the result into powers of hours last.
type fitter struct {
	span  float64
	hours []float64
	worst float64 // largest condition number met
}

// errIllConditioned stops a fit whose samples cannot hold its degree, such as
// many samples at few places; Chebyshev columns of a sane set stay under 10.
var errIllConditioned = errors.New("ephemeris: samples do not determine the polynomials")

const maxCondition = 1e4

// fit returns the polynomial of a degree in hours that comes nearest to values
// in the sense of least squares.
func (f *fitter) fit(degree int, values []float64) (eclipse.Poly, error) {
	columns := degree + 1
	if len(f.hours) < columns {
		return nil, fmt.Errorf("ephemeris: %d samples for a polynomial of degree %d, want at least %d", len(f.hours), degree, columns)
	}
	design := mat.NewDense(len(f.hours), columns, nil)
	for i, t := range f.hours {
		design.SetRow(i, chebyshev(t/f.span, columns))
	}
	var qr mat.QR
	qr.Factorize(design)
	if cond := qr.Cond(); !(cond <= maxCondition) {
		return nil, fmt.Errorf("%w: condition number %.2g, want at most %.0g", errIllConditioned, cond, maxCondition)
	} else {
		f.worst = math.Max(f.worst, cond)
	}
	var c mat.VecDense
	if err := qr.SolveVecTo(&c, false, mat.NewVecDense(len(values), values)); err != nil {
		return nil, fmt.Errorf("%w: %w", errIllConditioned, err)
	}
	return powers(c.RawVector().Data, f.span), nil
}

// chebyshev returns T0(u) to T(n-1)(u).
func chebyshev(u float64, n int) []float64 {
	row := make([]float64, n)
	row[0] = 1
	for i := 1; i < n; i++ {
		if i == 1 {
			row[1] = u
			continue
		}
		row[i] = 2*u*row[i-1] - row[i-2]
	}
	return row
}

// powers turns a Chebyshev series in t/span into powers of t.
func powers(c []float64, span float64) eclipse.Poly {
	n := len(c)
	p := make(eclipse.Poly, n)
	before, now := make([]float64, n), make([]float64, n) // T(i-1), T(i) as powers of u
	now[0] = 1
	for i := range n {
		for j := range n {
			p[j] += c[i] * now[j]
		}
		next := make([]float64, n)
		for j := range n - 1 {
			next[j+1] = 2 * now[j]
		}
		if i == 0 {
			next = make([]float64, n)
			if n > 1 {
				next[1] = 1
			}
		} else {
			for j := range n {
				next[j] -= before[j]
			}
		}
		before, now = now, next
	}
	scale := 1.0
	for j := range p {
		p[j] /= scale
		scale *= span
	}
	return p
}
