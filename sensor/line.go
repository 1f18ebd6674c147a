package sensor

import "math"

// A linePoint has standard uncertainties in both coordinates; one may be 0.
type linePoint struct{ x, y, xu, yu float64 }

// A line is y = intercept + slope x with the covariance of its parameters.
type line struct {
	intercept, slope float64
	varIntercept     float64
	varSlope         float64
	cov              float64
	chiSquare        float64
	residuals        []float64 // y measured less y of the line
}

// maxLineSteps is far more than it takes: each step of York's gains a digit or more.
const maxLineSteps = 200

// fitLine is the straight line through points with uncertainties in both
// coordinates. The effective variance of a point is yu^2 + slope^2 xu^2 (J. Orear,
// Am. J. Phys. 50 (1982) 912); the sum of squares over it is least for the line of
// D. York (Can. J. Phys. 44 (1966) 1079), whose iteration this is, with the
// covariance of D. York et al., Am. J. Phys. 72 (2004) 367, at the adjusted points.
// Weighting by the effective variance alone, as if it did not vary with the slope, would
// bend the slope a little. False where it does not settle.
func fitLine(points []linePoint) (line, bool) {
	slope := firstSlope(points)
	for range maxLineSteps {
		l, next := yorkStep(points, slope)
		if !(math.Abs(next) <= math.MaxFloat64) {
			return line{}, false
		}
		if math.Abs(next-slope) <= 1e-14*math.Abs(next) || next == slope {
			return l, true
		}
		slope = next
	}
	return line{}, false
}

// firstSlope is that of plain least squares.
func firstSlope(points []linePoint) float64 {
	var mx, my, sxy, sxx float64
	for _, p := range points {
		mx += p.x / float64(len(points))
		my += p.y / float64(len(points))
	}
	for _, p := range points {
		sxy += (p.x - mx) * (p.y - my)
		sxx += (p.x - mx) * (p.x - mx)
	}
	return sxy / sxx
}

// yorkStep is one step from slope b, York et al. (2004) table I without correlated
// errors: the line at b and the next b.
func yorkStep(points []linePoint, b float64) (l line, next float64) {
	weight := func(p linePoint) float64 { return 1 / (p.yu*p.yu + b*b*p.xu*p.xu) }
	var sum, mx, my float64
	for _, p := range points {
		w := weight(p)
		sum, mx, my = sum+w, mx+w*p.x, my+w*p.y
	}
	mx, my = mx/sum, my/sum
	// beta is how far the adjusted x lies from the mean.
	beta := func(p linePoint) float64 {
		return weight(p) * ((p.x-mx)*p.yu*p.yu + b*(p.y-my)*p.xu*p.xu)
	}
	var up, down, adjusted float64
	for _, p := range points {
		w, s := weight(p), beta(p)
		up, down, adjusted = up+w*s*(p.y-my), down+w*s*(p.x-mx), adjusted+w*s
	}
	adjusted /= sum
	var spread float64
	l = line{slope: b, intercept: my - b*mx}
	for _, p := range points {
		w := weight(p)
		spread += w * square(beta(p)-adjusted)
		r := p.y - l.intercept - b*p.x
		l.residuals = append(l.residuals, r)
		l.chiSquare += w * r * r
	}
	l.varSlope = 1 / spread
	l.varIntercept = 1/sum + square(mx+adjusted)*l.varSlope
	l.cov = -(mx + adjusted) * l.varSlope
	return l, up / down
}

// scaled has its covariance times the chi-square for a degree of freedom: the
// points tell their own spread (GUM H.3.2).
func (l line) scaled() line {
	s := l.chiSquare / float64(len(l.residuals)-2)
	l.varSlope, l.varIntercept, l.cov = l.varSlope*s, l.varIntercept*s, l.cov*s
	return l
}
