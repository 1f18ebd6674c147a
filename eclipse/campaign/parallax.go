package campaign

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"example.org/noonfall/eclipse"
)

// A MoonDistance is the Moon's distance from parallax, as Hipparchus had it: of two places
// apart, one sees more of the Sun left beside the Moon than the other, and the difference,
// as an angle, is that under which the Moon sees the two places.
type MoonDistance struct {
	Km Figure // of the centres of Earth and Moon
	// Predicted is the mean of what the elements have for the same stations, km.
	Predicted float64
	// BaseKm is by how much the stations used lie apart, at right angles to the Sun and to the
	// Moon's way past it: the part of their distance that counts.
	BaseKm float64
	Used   []string // names of the stations
}

// What a lever must be, and physical constants.
const (
	leastBaseKm = 50.0        // below it nothing is to be had. Common practice, no source
	auKm        = 149597870.7 // IAU 2012 Resolution B2
	earthKm     = 6378.1366   // of the elements' unit: IAU 2009 system of constants, equatorial radius
)

// A depth is what one station says of the separation of Sun and Moon at its maximum, along
// the one direction that matters.
type depth struct {
	member *Member
	// along is how far the Moon's centre passes from the Sun's on the side that
	// the prediction says, radians, and u its standard uncertainty.
	along, u float64
	base     float64 // of the station, in the same direction, km
}

// parallax regresses the depths on the stations' places.
func (r *Result) parallax(e *eclipse.Elements) {
	way := newWay(e)
	var all []depth
	for i := range r.Stations {
		m := &r.Stations[i]
		if d, ok := m.depth(way); ok {
			all = append(all, d)
		}
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, d := range all {
		lo, hi = math.Min(lo, d.base), math.Max(hi, d.base)
	}
	if len(all) < 2 || hi-lo < leastBaseKm {
		r.Untold["moon"] = fmt.Sprintf("two stations are wanted, %g km apart across the shadow's way, that tell their depth, by both edges of totality or by a calibrated sensor in a partial eclipse; there are %d", leastBaseKm, len(all))
		return
	}
	q, u, ok := lever(all)
	if !ok || !(q > 3*u) {
		r.Untold["moon"] = "the depths are known too ill for the stations' distance"
		return
	}
	d := &MoonDistance{BaseKm: hi - lo}
	d.Km = Figure{Value: 1 / (q + 1/auKm), N: len(all)}
	d.Km.U = d.Km.Value * d.Km.Value * u
	for _, s := range all {
		_, moon := s.member.observer.Places(s.member.circumstances.Max.TT)
		d.Predicted += moon.Distance / float64(len(all))
		d.Used = append(d.Used, s.member.Name)
	}
	r.Moon = d
}

// lever fits along = a - q base by weighted least squares, widened where it fits worse
// than the uncertainties say: q is one over the Moon's distance less one over the Sun's.
func lever(all []depth) (q, u float64, ok bool) {
	n := len(all)
	a, b := mat.NewDense(n, 2, nil), mat.NewVecDense(n, nil)
	for i, d := range all {
		a.SetRow(i, []float64{1 / d.u, -d.base / d.u})
		b.SetVec(i, d.along/d.u)
	}
	var normal, inverse mat.Dense
	var beta, left mat.VecDense
	normal.Mul(a.T(), a)
	if err := inverse.Inverse(&normal); err != nil {
		return 0, 0, false
	}
	var right mat.VecDense
	right.MulVec(a.T(), b)
	beta.MulVec(&inverse, &right)
	left.MulVec(a, &beta)
	left.SubVec(b, &left)
	excess := 1.0
	if n > 2 {
		excess = math.Max(1, math.Sqrt(mat.Dot(&left, &left)/float64(n-2)))
	}
	return beta.AtVec(1), excess * math.Sqrt(inverse.At(1, 1)), true
}

// A way is the Moon's direction of motion past the Sun, in the plane square to the shadow's axis,
// turned by a right angle.
type way struct{ x, y float64 }

func newWay(e *eclipse.Elements) way {
	const h = 0.1 // hours
	dx, dy := e.X.At(h)-e.X.At(-h), e.Y.At(h)-e.Y.At(-h)
	v := math.Hypot(dx, dy)
	return way{-dy / v, dx / v}
}

// depth is the station's, if it has one.
func (m *Member) depth(w way) (d depth, ok bool) {
	c := &m.circumstances
	if m.Summary.Clock == nil || !m.placed() || !c.Max.Exists || !(c.Max.Alt > 0) {
		return d, false
	}
	at := m.observer.Aspect(c.Max.TT)
	separation, u, ok := m.separation(at)
	if !ok {
		return d, false
	}
	sun, moon := m.observer.Places(c.Max.TT)
	// The Moon from the Sun on the sky, and the station in the plane square to the Sun: east, north.
	east, north := math.Remainder(moon.RA-sun.RA, 360)*math.Cos(sun.Dec*deg), moon.Dec-sun.Dec
	part := (east*w.x + north*w.y) / math.Hypot(east, north)
	x, y := m.square(sun)
	return depth{member: m, along: separation * part * deg, u: math.Max(u, leastDepthU*at.SunRadius) * math.Abs(part) * deg, base: (x*w.x + y*w.y) * earthKm}, math.Abs(part) > 0.3
}

// leastDepthU is what no separation is known better than, in radii of the Sun: the Moon's
// edge is rough by a thousandth. Common practice, no source.
const leastDepthU = 0.002

// separation is that of the centres at maximum, degrees: in totality from how long it
// lasted, in a partial eclipse from how much light was left.
func (m *Member) separation(at eclipse.Aspect) (value, u float64, ok bool) {
	c := &m.circumstances
	if c.Geometry == eclipse.Total {
		return m.bySpan(at)
	}
	if c.Geometry != eclipse.Partial || !m.Summary.Calibrated {
		return 0, 0, false
	}
	return m.byLight(at)
}

// bySpan is the distance of a chord from the middle of a circle, by its length.
func (m *Member) bySpan(at eclipse.Aspect) (value, u float64, ok bool) {
	late := map[string]float64{}
	var u2 float64
	for _, k := range m.Summary.Contacts {
		if k.Name == "C2" || k.Name == "C3" {
			late[k.Name] = k.LateS
			u2 += k.OwnU * k.OwnU
		}
	}
	if len(late) != 2 || !(m.circumstances.Duration > 0) {
		return 0, 0, false
	}
	radius := at.MoonRadius - at.SunRadius
	half := math.Sqrt(math.Max(0, radius*radius-at.Separation*at.Separation))
	speed := 2 * half / m.circumstances.Duration // degrees a second
	side := func(seconds float64) float64 {
		h := speed * (m.circumstances.Duration + seconds) / 2
		return math.Sqrt(math.Max(0, radius*radius-h*h))
	}
	longer, du := late["C3"]-late["C2"], math.Sqrt(u2)
	return side(longer), math.Max(math.Abs(side(longer+du)-side(longer-du))/2, radius/20), true
}

// byLight puts the light that was left at maximum down to the separation. The light is that
// of a calibrated sensor: where its answer is a little more or less than in proportion, so
// was the light.
func (m *Member) byLight(at eclipse.Aspect) (value, u float64, ok bool) {
	curve, err := eclipse.NewCurve(&m.observer, eclipse.CurveOptions{})
	if err != nil {
		return 0, 0, false
	}
	max := m.circumstances.Max.TT
	const aside = 300 // s before maximum, for the slope of light against separation
	before := m.observer.Aspect(max - aside)
	log, logBefore := math.Log(curve.Flux(max)), math.Log(curve.Flux(max-aside))
	perLog := (before.Separation - at.Separation) / (logBefore - log)
	e := m.Summary.Clock.Exponent
	eU := math.Hypot(e.U, m.Summary.CalibrationU)
	value, u = at.Separation+perLog*log*(e.Value-1), math.Abs(perLog*log)*eU
	return value, u, !math.IsNaN(value) && !math.IsInf(value, 0) && u > 0
}

// square is where the station stands in the plane square to the Sun's direction through the Earth's
// centre, at its own maximum, in equatorial radii: east, and north.
func (m *Member) square(sun eclipse.Place) (x, y float64) {
	site := m.observer.Site()
	const f = 1 / 298.257223563 // WGS84
	sinφ, cosφ := math.Sincos(site.Lat * deg)
	n := 1 / math.Sqrt(1-f*(2-f)*sinφ*sinφ)
	h := site.Height / (earthKm * 1000)
	p, z := (n+h)*cosφ, (n*(1-f)*(1-f)+h)*sinφ
	// The Sun's hour angle from its azimuth and altitude at the site.
	sinA, cosA := math.Sincos(m.circumstances.Max.Az * deg)
	sinH, cosH := math.Sincos(m.circumstances.Max.Alt * deg)
	hour := math.Atan2(-sinA*cosH, sinH*cosφ-cosA*cosH*sinφ)
	sinT, cosT := math.Sincos(hour)
	sinδ, cosδ := math.Sincos(sun.Dec * deg)
	return p * sinT, z*cosδ - p*cosT*sinδ
}
