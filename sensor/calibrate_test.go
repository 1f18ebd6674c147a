package sensor

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.org/noonfall/testdata/references"
)

// GUM example H.3: a thermometer's correction against its reading, about 20 degC.
func TestLineGUM(t *testing.T) {
	rows := references.Table(t, "gum_h3.csv")
	require.Len(t, rows, 11)
	var points []linePoint
	for _, r := range rows {
		points = append(points, linePoint{x: r.Number(t, "t_degC") - 20, y: r.Number(t, "b_degC"), yu: 1})
	}
	l, ok := fitLine(points)
	require.True(t, ok)
	l = l.scaled()
	at30 := l.varIntercept + 100*l.varSlope + 20*l.cov
	for _, r := range []struct {
		name           string
		got, want, tol float64
	}{ // JCGM 100:2008 H.3.3 and H.3.4, to half the last digit
		{"y1", l.intercept, -0.1712, 0.5e-4}, {"s(y1)", math.Sqrt(l.varIntercept), 0.0029, 0.5e-4},
		{"y2", l.slope, 0.00218, 0.5e-5}, {"s(y2)", math.Sqrt(l.varSlope), 0.00067, 0.5e-5},
		{"r", l.cov / math.Sqrt(l.varIntercept*l.varSlope), -0.930, 0.5e-3},
		{"s", math.Sqrt(l.chiSquare / 9), 0.0035, 0.5e-4},
		{"b(30 degC)", l.intercept + 10*l.slope, -0.1494, 0.5e-4}, {"u(b(30 degC))", math.Sqrt(at30), 0.0041, 0.5e-4},
	} {
		if !(math.Abs(r.got-r.want) <= r.tol) {
			t.Errorf("%s: %.6f, want %g", r.name, r.got, r.want)
		}
	}
}

// Pearson's points with York's weights, the usual trial of errors in both
// coordinates (D. York, Can. J. Phys. 44 (1966) 1079; D. York et al., Am. J. Phys. 72
// (2004) 367; points and weights from memory).
func pearsonYork() []linePoint {
	x := []float64{0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4}
	y := []float64{5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5}
	wx := []float64{1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1}
	wy := []float64{1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500}
	var points []linePoint
	for i := range x {
		points = append(points, linePoint{x[i], y[i], 1 / math.Sqrt(wx[i]), 1 / math.Sqrt(wy[i])})
	}
	return points
}

// effective is the sum of squares over effective variances, for the best intercept.
func effective(points []linePoint, slope float64) float64 {
	var w, wr, wrr float64
	for _, p := range points {
		v, r := 1/(p.yu*p.yu+slope*slope*p.xu*p.xu), p.y-slope*p.x
		w, wr, wrr = w+v, wr+v*r, wrr+v*r*r
	}
	return wrr - wr*wr/w
}

func TestLineYork(t *testing.T) {
	points := pearsonYork()
	l, ok := fitLine(points)
	require.True(t, ok)
	// The second method knows no iteration: a search for the least sum, by thirds.
	low, high := -1.0, 0.0
	for range 200 {
		a, b := low+(high-low)/3, high-(high-low)/3
		if effective(points, a) < effective(points, b) {
			high = b
		} else {
			low = a
		}
	}
	// A rise by 1 is a standard deviation of the slope (any textbook); of a sum that is no
	// parabola the two sides are averaged, and the rest is second-order.
	rise := func(step float64) float64 {
		near, far := l.slope, l.slope+step
		for range 100 {
			if middle := 0.5 * (near + far); effective(points, middle) < l.chiSquare+1 {
				near = middle
			} else {
				far = middle
			}
		}
		return math.Abs(near - l.slope)
	}
	for _, r := range []struct {
		name           string
		got, want, tol float64
	}{
		{"slope, published", l.slope, -0.480533407, 0.5e-9}, {"intercept, published", l.intercept, 5.47991022, 0.5e-8}, // from memory
		{"chi-square a degree, published", l.chiSquare / 8, 1.483294, 0.5e-6}, // from memory
		{"slope, by search", l.slope, low, 1e-7},                              // a flat bottom of 11.9 has half of a double's digits
		{"sum, by search", l.chiSquare, effective(points, low), 1e-10},        // rounding of ten terms
		{"sum a degree, published", l.chiSquare / 8, 1.4833, 0.5e-4},          // from memory
		{"u(slope), by the rise", math.Sqrt(l.varSlope), (rise(-0.5) + rise(0.5)) / 2, 0.02 * math.Sqrt(l.varSlope)},
	} {
		if !(math.Abs(r.got-r.want) <= r.tol) {
			t.Errorf("%s: %.10f, want %.10f ± %g", r.name, r.got, r.want, r.tol)
		}
	}
}

// With equal uncertainties the line is known in closed form, the angle of a tensor's
// axis: tan 2a = 2 Sxy/(Sxx - Syy) in units of the uncertainties (W. E. Deming,
// Statistical Adjustment of Data, 1943; from memory).
func TestLineDeming(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xu, yu := rapid.Float64Range(0.01, 0.3).Draw(t, "xu"), rapid.Float64Range(0.01, 0.3).Draw(t, "yu")
		slope := rapid.Float64Range(0.3, 3).Draw(t, "slope")
		var points []linePoint
		var mx, my float64
		for i := range 12 {
			x := float64(i) + xu*rapid.Float64Range(-2, 2).Draw(t, "dx")
			y := slope*float64(i) + yu*rapid.Float64Range(-2, 2).Draw(t, "dy")
			points = append(points, linePoint{x, y, xu, yu})
			mx, my = mx+x/12, my+y/12
		}
		var sxx, sxy, syy float64
		for _, p := range points {
			u, v := (p.x-mx)/xu, (p.y-my)/yu
			sxx, sxy, syy = sxx+u*u, sxy+u*v, syy+v*v
		}
		want := math.Tan(0.5*math.Atan2(2*sxy, sxx-syy)) * yu / xu
		l, ok := fitLine(points)
		if !ok || !(math.Abs(l.slope/want-1) <= 1e-9) || !(math.Abs(l.intercept-(my-want*mx)) <= 1e-9) {
			t.Fatalf("slope %.12g, want %.12g, settled %v", l.slope, want, ok)
		}
	})
}

// Two points have a line through them, and its uncertainty is by hand.
func TestCalibrateTwo(t *testing.T) {
	cell := Photoresistor{R10Ohm: 12e3, Gamma: 0.65}
	c, err := Calibrate([]KnownLight{
		{Lux: 10, LuxLnU: 0.03, Value: cell.Ohms(10), ValueLnU: 0.01},
		{Lux: 1000, LuxLnU: 0.05, Value: cell.Ohms(1000), ValueLnU: 0.02},
	}, CalibrateOptions{LuxLnU: 0.04})
	require.NoError(t, err)
	near, far := 0.01*0.01+square(0.65*0.03), 0.02*0.02+square(0.65*0.05) // effective variances
	gap := math.Log(100)
	own := math.Sqrt(near + square(0.65*0.04))
	for _, r := range []struct {
		name      string
		got, want float64
	}{
		{"ln value", c.LnValue, math.Log(12e3)}, {"slope", c.Slope, -0.65},
		{"u(slope)", c.SlopeU, math.Sqrt(near+far) / gap}, {"u(ln value)", c.LnValueU, own},
		{"r", c.R, -near / gap / own / (math.Sqrt(near+far) / gap)},
		{"chi-square", c.ChiSquare, 0},
	} {
		if !(math.Abs(r.got-r.want) <= 1e-9) {
			t.Errorf("%s: %.12g, want %.12g", r.name, r.got, r.want)
		}
	}
	p, err := c.Photoresistor()
	require.NoError(t, err)
	if !(math.Abs(p.R10Ohm/12e3-1) <= 1e-9) || p.GammaU != c.SlopeU || p.R10GammaR != -c.R || c.Freedom != 0 {
		t.Errorf("%+v of %+v", p, c)
	}
}

// Over many made-up calibrations the parameters scatter as their uncertainties
// say, and chi-square is on average its degrees of freedom.
func TestCalibrateHonest(t *testing.T) {
	draw := rand.New(rand.NewPCG(3, 14))
	lights := []float64{3, 10, 40, 150, 600, 2000}
	const trials = 4000
	var slope, value, product, chi float64
	for range trials {
		var points []KnownLight
		for _, lux := range lights {
			points = append(points, KnownLight{
				Lux: lux * math.Exp(0.05*draw.NormFloat64()), LuxLnU: 0.05,
				Value: 9e3 * math.Pow(lux/10, -0.7) * math.Exp(0.02*draw.NormFloat64()), ValueLnU: 0.02,
			})
		}
		c, err := Calibrate(points, CalibrateOptions{})
		require.NoError(t, err)
		a, b := (c.Slope+0.7)/c.SlopeU, (c.LnValue-math.Log(9e3))/c.LnValueU
		slope, value, product, chi = slope+a*a/trials, value+b*b/trials, product+(a*b-c.R)/trials, chi+c.ChiSquare/trials
	}
	// The mean of n squares of unit normals is 1 within sqrt(2/n) = 0.022; four of that.
	if !(math.Abs(slope-1) <= 0.09) || !(math.Abs(value-1) <= 0.09) || !(math.Abs(product) <= 0.09) {
		t.Errorf("mean squares of slope and value over their variances %.3f, %.3f, want 1; correlation off by %.3f", slope, value, product)
	}
	if !(math.Abs(chi-4) <= 4*math.Sqrt(2*4./trials)) {
		t.Errorf("chi-square %.3f, want 4", chi)
	}
}

func TestCalibrateScatter(t *testing.T) {
	points := []KnownLight{{Lux: 1, Value: 100}, {Lux: 10, Value: 21}, {Lux: 100, Value: 4}}
	bare, err := Calibrate(points, CalibrateOptions{})
	require.NoError(t, err)
	for i := range points {
		points[i].ValueLnU = 0.5
	}
	scattered, err := Calibrate(points, CalibrateOptions{ByScatter: true})
	require.NoError(t, err)
	if !bare.Scattered || !(math.Abs(bare.SlopeU/scattered.SlopeU-1) <= 1e-9) || !(bare.SlopeU > 0) {
		t.Errorf("u(slope) %.6g without uncertainties, %.6g with equal ones as weights", bare.SlopeU, scattered.SlopeU)
	}
}

func TestCalibrateRefuses(t *testing.T) {
	ok := KnownLight{Lux: 10, Value: 1e4, ValueLnU: 0.01}
	other := KnownLight{Lux: 100, Value: 2e3, ValueLnU: 0.01}
	edit := func(f func(p *KnownLight)) []KnownLight {
		p := other
		f(&p)
		return []KnownLight{ok, p}
	}
	for name, r := range map[string]struct {
		points []KnownLight
		is     error // nil: a *PartError
	}{
		"none":          {nil, ErrFewPoints},
		"one":           {[]KnownLight{ok}, ErrFewPoints},
		"two bare":      {[]KnownLight{{Lux: 10, Value: 1e4}, {Lux: 100, Value: 2e3}}, ErrFewPoints},
		"two equal":     {[]KnownLight{ok, ok}, ErrEqualLight},
		"three in one":  {[]KnownLight{ok, ok, ok}, ErrEqualLight},
		"near":          {edit(func(p *KnownLight) { p.Lux = 39 }), ErrSmallSpan},
		"one bare":      {edit(func(p *KnownLight) { p.ValueLnU = 0 }), ErrUncertainty},
		"flat":          {edit(func(p *KnownLight) { p.Value = 1e4 }), ErrNoSlope},
		"lost in noise": {edit(func(p *KnownLight) { p.Value, p.ValueLnU = 0.9e4, 0.5 }), ErrNoSlope},
		"NaN light":     {edit(func(p *KnownLight) { p.Lux = math.NaN() }), nil},
		"no light":      {edit(func(p *KnownLight) { p.Lux = 0 }), nil},
		"no ohms":       {edit(func(p *KnownLight) { p.Value = 0 }), nil},
		"endless":       {edit(func(p *KnownLight) { p.Value = math.Inf(1) }), nil},
		"uncertainty":   {edit(func(p *KnownLight) { p.LuxLnU = math.NaN() }), nil},
	} {
		_, err := Calibrate(r.points, CalibrateOptions{})
		wantRefused(t, name, err, r.is, "")
	}
	// A slope that is held has a sign, and the readings have one.
	if _, err := Calibrate([]KnownLight{ok, other}, CalibrateOptions{Slope: 1}); !errors.Is(err, ErrNoSlope) || !strings.Contains(err.Error(), "slope of 1") {
		t.Errorf("ohms held to rise with light: %v", err)
	}
	rising, err := Calibrate(edit(func(p *KnownLight) { p.Value = 1e5 }), CalibrateOptions{})
	require.NoError(t, err) // a phototransistor's points
	if _, err := rising.Photoresistor(); err == nil {
		t.Error("ohms that rise with light are no photoresistor")
	}
}

// Whatever is typed in, the answer is an error or numbers.
func TestCalibrateAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var points []KnownLight
		for range rapid.IntRange(2, 9).Draw(t, "n") {
			points = append(points, KnownLight{
				Lux: math.Pow(10, rapid.Float64Range(-5.9, 5.9).Draw(t, "log lux")), LuxLnU: rapid.Float64Range(0, 1).Draw(t, "lux u"),
				Value: math.Pow(10, rapid.Float64Range(-14, 14).Draw(t, "log value")), ValueLnU: rapid.Float64Range(0, 1).Draw(t, "value u"),
			})
		}
		if rapid.Bool().Draw(t, "covered") {
			points[0].Lux = 0
		}
		c, err := Calibrate(points, CalibrateOptions{ByScatter: rapid.Bool().Draw(t, "scatter"), FitDark: rapid.Bool().Draw(t, "dark"),
			Slope: rapid.SampledFrom([]float64{0, 0, 1, -0.7}).Draw(t, "slope")})
		if err != nil {
			return
		}
		for _, v := range []float64{c.LnValue, c.LnValueU, c.Slope, c.SlopeU, c.R, c.ChiSquare, c.Dark, c.DarkU, c.ValueDarkR, c.SlopeDarkR} {
			if !(math.Abs(v) <= math.MaxFloat64) {
				t.Fatalf("%+v of %+v", c, points)
			}
		}
	})
}
