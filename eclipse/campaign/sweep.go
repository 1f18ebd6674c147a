package campaign

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/shadow"
	"example.org/noonfall/sun"
)

// A Sweep is the shadow's way over the ground, as the stamps of the maximum have it at
// stations whose clock was set by a network or a satellite, those within 500 km of one of
// them where most are. The stamps are taken as they are: put right by the fit they would only
// give the prediction back.
type Sweep struct {
	Speed   Figure // of the shadow's axis over the ground, km/s
	Heading Figure // from north through east, degrees
	// Lat and Lon are the middle of the stations, degrees, to which all of this belongs.
	Lat, Lon float64
	// Predicted is what the elements say in the same way, km/s and degrees, and OnLine the
	// axis' own motion along the central line at that minute; NaN where the line does not
	// reach it.
	Predicted, OnLine struct{ Speed, Heading float64 }
	// Late is by how much the stamps are late altogether, s: the shared offset again.
	Late Figure
	// Excess is the factor by which the stamps scatter more than their uncertainties
	// say, and by which those of Speed and Heading have been widened; one at least.
	Excess float64
	// Used names the stations.
	Used []string
}

const (
	leastSwept  = 4       // stations, one more than there are numbers to find
	mostVague   = 0.25    // of the gradient, its uncertainty the worst way: beyond, speed and heading do not follow in proportion. Common practice, no source
	sweptKm     = 500.0   // from the middle one. Common practice, no source
	kmPerDegree = 111.195 // on a sphere of 6371.0 km
)

// sweep fits a front that goes straight over the ground. A front's times alone give the
// gradient of time over the ground; how the front lies to the shadow's way follows from
// where the Sun stood, since in the plane at right angles to the shadow's axis it is square
// to it. The bend of the front over the stations' area, which a plane cannot have,
// is the elements'.
func (r *Result) sweep() {
	var who []*Member
	left := map[string]bool{}
	for _, o := range r.Outliers {
		left[o.Name] = left[o.Name] || o.What == "clock"
	}
	for i := range r.Stations {
		if m := &r.Stations[i]; m.trusted() && m.placed() && !left[m.Name] && m.circumstances.Max.Exists && m.circumstances.Max.Alt > 0 {
			who = append(who, m)
		}
	}
	if who = together(who); len(who) < leastSwept {
		r.Untold["shadow"] = fmt.Sprintf("%d stations within %.0f km are wanted whose clock was set by network or satellite, and told by the light; there are %d", leastSwept, sweptKm, len(who))
		return
	}
	f, err := newFront(who)
	if err != nil {
		r.Untold["shadow"] = err.Error()
		return
	}
	predicted, ok := f.fit(func(m *Member) float64 { return float64(m.circumstances.Max.TT - f.middle.TT) })
	late, ok2 := f.fit(func(m *Member) float64 { return m.Clock })
	if !ok || !ok2 {
		r.Untold["shadow"] = "the stations lie in a line, or at one place: no heading follows"
		return
	}
	s := &Sweep{Lat: f.lat, Lon: f.lon, Excess: late.excess}
	for _, m := range who {
		s.Used = append(s.Used, m.Name)
	}
	s.Predicted.Speed, s.Predicted.Heading = f.axis(predicted.east, predicted.north)
	gx, gy := predicted.east+late.east, predicted.north+late.north
	n := len(who)
	s.Speed, s.Heading = f.withU(gx, gy, late.cov)
	s.Speed.N, s.Heading.N = n, n
	if vague := late.widest() / math.Hypot(gx, gy); !(vague < mostVague) {
		r.Untold["shadow"] = fmt.Sprintf("the stations lie too close together, or nearly in a line, for their clocks: the gradient of time is known to %.0f %% of itself one way", 100*vague)
		return
	}
	s.Late = Figure{Value: late.at, U: late.atU, N: n}
	s.OnLine.Speed, s.OnLine.Heading = onLine(who[0].observer.Elements(), who[0].observer.Options(), f)
	r.Sweep = s
}

// together are the stations around the one that has most of the others within reach: a front
// over half a continent is no plane, and the shadow's speed there no one number.
func together(who []*Member) (most []*Member) {
	const middles = 300 // that are tried, of thousands
	for i := 0; i < len(who); i += 1 + len(who)/middles {
		at := front{lat: who[i].Summary.Site.Lat, lon: who[i].Summary.Site.Lon}
		var near []*Member
		for _, m := range who {
			if x, y := at.place(m.Summary.Site.Lat, m.Summary.Site.Lon); math.Hypot(x, y) <= sweptKm {
				near = append(near, m)
			}
		}
		if len(near) > len(most) {
			most = near
		}
	}
	return most
}

// A front is a plane of times over a few hundred kilometres of ground.
type front struct {
	who          []*Member
	x, y         []float64 // km east and north of the middle
	u            []float64 // s
	lat, lon     float64
	middle       eclipse.Contact // maximum there
	sinAlt       float64         // of the Sun in the middle
	sinAz, cosAz float64
}

// newFront lays the stations out around their middle.
func newFront(who []*Member) (front, error) {
	f := front{who: who}
	// The middle of the unit vectors serves across the antimeridian and at a pole.
	var v [3]float64
	for _, m := range who {
		sinφ, cosφ := math.Sincos(m.Summary.Site.Lat * deg)
		sinλ, cosλ := math.Sincos(m.Summary.Site.Lon * deg)
		v[0], v[1], v[2] = v[0]+cosφ*cosλ, v[1]+cosφ*sinλ, v[2]+sinφ
	}
	f.lat, f.lon = math.Atan2(v[2], math.Hypot(v[0], v[1]))/deg, math.Atan2(v[1], v[0])/deg
	o, err := eclipse.NewObserver(who[0].observer.Elements(), sun.Site{Lat: f.lat, Lon: f.lon}, who[0].observer.Options())
	if err != nil {
		return f, err
	}
	if f.middle = o.Circumstances().Max; !f.middle.Exists || !(f.middle.Alt > 0) {
		return f, errors.New("there is no eclipse in the middle of the stations")
	}
	f.sinAlt = math.Sin(f.middle.Alt * deg)
	f.sinAz, f.cosAz = math.Sincos(f.middle.Az * deg)
	for _, m := range who {
		x, y := f.place(m.Summary.Site.Lat, m.Summary.Site.Lon)
		f.x, f.y = append(f.x, x), append(f.y, y)
		// A rounded site is anywhere within its square, in which the front takes this long.
		const slowest = 0.5 // km/s; the shadow is slower nowhere. Common practice, no source
		square := m.Summary.RoundedDeg * kmPerDegree / math.Sqrt(12) / slowest
		set := m.Summary.ClockSet.U()
		f.u = append(f.u, math.Sqrt(m.Summary.Clock.OffsetU*m.Summary.Clock.OffsetU+square*square+set*set))
	}
	return f, nil
}

const deg = math.Pi / 180 // radians in a degree

// place is where a site lies, in km east and north of the middle, by the azimuthal
// equidistant projection of a sphere.
func (f *front) place(lat, lon float64) (x, y float64) {
	sinφ, cosφ := math.Sincos(lat * deg)
	sin0, cos0 := math.Sincos(f.lat * deg)
	sinλ, cosλ := math.Sincos((lon - f.lon) * deg)
	e, n, z := cosφ*sinλ, cos0*sinφ-sin0*cosφ*cosλ, sin0*sinφ+cos0*cosφ*cosλ
	h := math.Hypot(e, n)
	if h == 0 { // exactly the middle
		return 0, 0
	}
	km := math.Atan2(h, z) / deg * kmPerDegree
	return km * e / h, km * n / h
}

// A slope is a plane of times: its value in the middle, s, and its gradient, s/km.
type slope struct {
	at, atU     float64
	east, north float64
	cov         [2][2]float64
	excess      float64
}

// fit lays the plane by weighted least squares, widened where it fits worse than the
// uncertainties say.
func (f *front) fit(of func(*Member) float64) (slope, bool) {
	n := len(f.who)
	a, b := mat.NewDense(n, 3, nil), mat.NewVecDense(n, nil)
	for i, m := range f.who {
		w := 1 / f.u[i]
		a.SetRow(i, []float64{w, w * f.x[i], w * f.y[i]})
		b.SetVec(i, w*of(m))
	}
	var qr mat.QR
	qr.Factorize(a)
	if !(qr.Cond() < 1e7) {
		return slope{}, false
	}
	var beta mat.VecDense
	if err := qr.SolveVecTo(&beta, false, b); err != nil {
		return slope{}, false
	}
	var left, normal, inverse = mat.VecDense{}, mat.Dense{}, mat.Dense{}
	left.MulVec(a, &beta)
	left.SubVec(b, &left)
	normal.Mul(a.T(), a)
	if err := inverse.Inverse(&normal); err != nil {
		return slope{}, false
	}
	s := slope{at: beta.AtVec(0), east: beta.AtVec(1), north: beta.AtVec(2), excess: 1}
	if n > 3 {
		s.excess = math.Max(1, math.Sqrt(mat.Dot(&left, &left)/float64(n-3)))
	}
	k := s.excess * s.excess
	s.atU = math.Sqrt(k * inverse.At(0, 0))
	for i := range 2 {
		for j := range 2 {
			s.cov[i][j] = k * inverse.At(i+1, j+1)
		}
	}
	return s, true
}

// widest is the gradient's standard uncertainty in the direction in which it is greatest, s/km.
func (s *slope) widest() float64 {
	mean, half := (s.cov[0][0]+s.cov[1][1])/2, math.Hypot((s.cov[0][0]-s.cov[1][1])/2, s.cov[0][1])
	return math.Sqrt(mean + half)
}

// axis turns the gradient of time over the ground, s/km, into the axis' speed over it, km/s, and
// its heading, degrees. In the plane square to the axis, a step over the ground towards the
// Sun's azimuth counts by the sine of its altitude and one across in full.
func (f *front) axis(east, north float64) (speed, heading float64) {
	to, across := east*f.sinAz+north*f.cosAz, east*f.cosAz-north*f.sinAz
	kt, ka := to/f.sinAlt, across
	k2 := kt*kt + ka*ka
	vt, va := kt/k2/f.sinAlt, ka/k2
	e, n := vt*f.sinAz+va*f.cosAz, vt*f.cosAz-va*f.sinAz
	return math.Hypot(e, n), math.Mod(math.Atan2(e, n)/deg+360, 360)
}

// withU carries the gradient's covariance through axis, by differences.
func (f *front) withU(east, north float64, cov [2][2]float64) (speed, heading Figure) {
	v, h := f.axis(east, north)
	var dv, dh [2]float64
	for i := range 2 {
		step := 1e-4 * math.Hypot(east, north)
		d := [2]float64{}
		d[i] = step
		v1, h1 := f.axis(east+d[0], north+d[1])
		v0, h0 := f.axis(east-d[0], north-d[1])
		dv[i], dh[i] = (v1-v0)/(2*step), math.Remainder(h1-h0, 360)/(2*step)
	}
	of := func(g [2]float64) float64 {
		return math.Sqrt(math.Max(0, g[0]*g[0]*cov[0][0]+2*g[0]*g[1]*cov[0][1]+g[1]*g[1]*cov[1][1]))
	}
	return Figure{Value: v, U: of(dv)}, Figure{Value: h, U: of(dh)}
}

// onLine is how the axis itself moves over the ground when it is abreast of the stations.
func onLine(e *eclipse.Elements, opt eclipse.Options, f front) (speed, heading float64) {
	const half = 15 // s
	s, err := shadow.New(e, opt)
	if err != nil {
		return math.NaN(), math.NaN()
	}
	a, b := s.Section(f.middle.TT-half).Center, s.Section(f.middle.TT+half).Center
	if !a.Exists || !b.Exists {
		return math.NaN(), math.NaN()
	}
	at := front{lat: a.Site.Lat, lon: a.Site.Lon}
	x, y := at.place(b.Site.Lat, b.Site.Lon)
	return math.Hypot(x, y) / (2 * half), math.Mod(math.Atan2(x, y)/deg+360, 360)
}
