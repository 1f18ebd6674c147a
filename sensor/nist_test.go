package sensor

import (
	"bufio"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

// nistFile is a reference set as its file has it: starts and certified values in the
// lines that name a parameter, rows of numbers from line 61 on.
type nistFile struct {
	starts         [][]float64
	certified, dev []float64
	residual       float64 // sum of squares
	rows           [][]float64
}

var nistParameter = regexp.MustCompile(`^\s*[Bb]\d+\s*=?\s+([-+0-9.E\s]+)$`)

func readNIST(t *testing.T, name string) nistFile {
	f, err := os.Open(filepath.Join("..", "testdata", "references", "nist", name+".dat"))
	require.NoError(t, err)
	defer f.Close()
	numbers := func(s string) (out []float64) {
		for _, w := range strings.Fields(s) {
			v, err := strconv.ParseFloat(w, 64)
			require.NoError(t, err, s)
			out = append(out, v)
		}
		return out
	}
	var n nistFile
	s := bufio.NewScanner(f)
	for line := 1; s.Scan(); line++ {
		text := strings.TrimRight(s.Text(), " ")
		switch m := nistParameter.FindStringSubmatch(text); {
		case line > 60 && text != "" && !strings.HasPrefix(text, "--"):
			n.rows = append(n.rows, numbers(text))
		case m != nil:
			v := numbers(m[1])
			last := len(v) - 2
			n.certified, n.dev = append(n.certified, v[last]), append(n.dev, v[last+1])
			n.starts = append(n.starts, v[:last]) // a row for each parameter
		case strings.HasPrefix(text, "Residual Sum of Squares:"):
			n.residual = numbers(strings.TrimPrefix(text, "Residual Sum of Squares:"))[0]
		case strings.HasPrefix(text, "Residual") && len(strings.Fields(text)) == 4 && strings.Fields(text)[1] != "Standard":
			n.residual = numbers(text[len("Residual"):])[1]
		}
	}
	require.NoError(t, s.Err())
	return n
}

// digits is how many significant digits two numbers share.
func digits(got, want float64) float64 {
	if got == want {
		return 16
	}
	return -math.Log10(math.Abs(got-want) / math.Abs(want))
}

// curve is a model of unit weights in closed form, given with its derivatives.
type curve struct {
	rows [][]float64 // y, then x
	f    func(p, x []float64) (y float64, by []float64)
}

func (c curve) weigh([]float64) {}

func (c curve) residuals(p []float64) (r []float64, ok bool) {
	for _, row := range c.rows {
		y, _ := c.f(p, row[1:])
		r = append(r, row[0]-y)
	}
	return r, !math.IsNaN(squares(r)) && !math.IsInf(squares(r), 0)
}

func (c curve) slopes(p []float64) *mat.Dense {
	j := mat.NewDense(len(c.rows), len(p), nil)
	for i, row := range c.rows {
		_, by := c.f(p, row[1:])
		j.SetRow(i, by)
	}
	return j
}

func linear(p, x []float64) (y float64, by []float64) {
	by = append([]float64{1}, x...)
	for i := range p {
		y += p[i] * by[i]
	}
	return y, by
}

func polynomial(p, x []float64) (y float64, by []float64) {
	for i := range p {
		by = append(by, math.Pow(x[0], float64(i)))
		y += p[i] * by[i]
	}
	return y, by
}

// NIST's reference sets through the least squares that the calibrations use, linear
// ones from a start of nothing, the others from both of NIST's. The digits asked are
// what double precision leaves: Filip's columns are alike to one in 10^10, and no
// method in doubles has more than seven or eight of it from decimal data. From the first
// start of BoxBOD it walks to where one parameter moves nothing, and must say so.
func TestLeastSquaresNIST(t *testing.T) {
	for _, r := range []struct {
		name               string
		f                  func(p, x []float64) (float64, []float64)
		value, dev, square float64 // least digits
		refused            int     // the start from which it does not settle, from 1
	}{
		{"Norris", linear, 12, 12, 12, 0},
		{"Longley", linear, 10, 11, 11, 0},
		{"Filip", polynomial, 7, 7, 7, 0},
		{"BoxBOD", func(p, x []float64) (float64, []float64) {
			e := math.Exp(-p[1] * x[0])
			return p[0] * (1 - e), []float64{1 - e, p[0] * x[0] * e}
		}, 10, 10, 10, 1},
		{"MGH10", func(p, x []float64) (float64, []float64) {
			d := x[0] + p[2]
			e := math.Exp(p[1] / d)
			return p[0] * e, []float64{e, p[0] * e / d, -p[0] * e * p[1] / (d * d)}
		}, 10, 8, 10, 0},
	} {
		t.Run(r.name, func(t *testing.T) {
			n := readNIST(t, r.name)
			require.NotEmpty(t, n.rows)
			require.NotZero(t, n.residual)
			starts := max(1, len(n.starts[0]))
			for s := range starts {
				start := make([]float64, len(n.certified))
				for k := range start {
					if len(n.starts[k]) > 0 {
						start[k] = n.starts[k][s]
					}
				}
				got, ok := leastSquares(curve{n.rows, r.f}, start)
				if s+1 == r.refused {
					if ok {
						t.Errorf("start %d is solved now: ask for its digits", s+1)
					}
					continue
				}
				require.True(t, ok, "start %d", s+1)
				value, dev := 16.0, 16.0
				perFreedom := got.sum / float64(len(n.rows)-len(start))
				for k := range start {
					value = math.Min(value, digits(got.p[k], n.certified[k]))
					dev = math.Min(dev, digits(math.Sqrt(perFreedom*got.cov.At(k, k)), n.dev[k]))
				}
				square := digits(got.sum, n.residual)
				t.Logf("start %d: %.1f digits of the parameters, %.1f of their deviations, %.1f of the sum of squares", s+1, value, dev, square)
				if !(value >= r.value && dev >= r.dev && square >= r.square) {
					t.Errorf("start %d: %.1f, %.1f, %.1f digits, want %g, %g, %g: %v", s+1, value, dev, square, r.value, r.dev, r.square, got.p)
				}
			}
		})
	}
}

// The straight line with errors in one coordinate is Norris' line.
func TestLineNIST(t *testing.T) {
	n := readNIST(t, "Norris")
	var points []linePoint
	for _, row := range n.rows {
		points = append(points, linePoint{x: row[1], y: row[0], yu: 1})
	}
	l, ok := fitLine(points)
	require.True(t, ok)
	l = l.scaled()
	for name, d := range map[string]float64{
		"intercept": digits(l.intercept, n.certified[0]), "slope": digits(l.slope, n.certified[1]), "sum of squares": digits(l.chiSquare, n.residual),
		"u(intercept)": digits(math.Sqrt(l.varIntercept), n.dev[0]), "u(slope)": digits(math.Sqrt(l.varSlope), n.dev[1]),
	} {
		if !(d >= 11) {
			t.Errorf("%s: %.1f digits, want 11", name, d)
		}
	}
}

// gonum's mean and deviation, which the tests here and the rooms above lean on, of
// numbers that differ in their ninth digit only.
func TestStatNIST(t *testing.T) {
	var x []float64
	for _, row := range readNIST(t, "NumAcc4").rows {
		if len(row) == 1 {
			x = append(x, row[0])
		}
	}
	require.Len(t, x, 1001)
	mean, dev := stat.MeanStdDev(x, nil)
	lagged := 0.0
	for i := 1; i < len(x); i++ {
		lagged += (x[i] - mean) * (x[i-1] - mean)
	}
	auto := lagged / (dev * dev * float64(len(x)-1))
	for _, r := range []struct {
		name                 string
		got, want, certified float64
	}{
		{"mean", mean, 10000000.2, 14}, {"deviation", dev, 0.1, 7}, {"autocorrelation", auto, -0.999, 7},
	} { // certified exact; a double of the data holds 16 digits, and seven go into the level
		if d := digits(r.got, r.want); !(d >= r.certified) {
			t.Errorf("%s: %.1f digits, want %g", r.name, d, r.certified)
		}
	}
}
