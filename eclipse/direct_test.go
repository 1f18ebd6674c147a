package eclipse

import (
	"math"

	"example.org/noonfall/sun"
)

// A direct is the second method: the textbook's three dimensions with nothing
// prepared, no derivative, and vectors instead of small angles. Hours from T0,
// Earth radii, radians.
type direct struct {
	e      *Elements
	site   sun.Site
	deltaT float64
}

type vector [3]float64

func (a vector) dot(b vector) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a vector) cross(b vector) vector {
	return vector{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}
func (a vector) length() float64 { return math.Sqrt(a.dot(a)) }
func (a vector) angle(b vector) float64 {
	return math.Atan2(a.cross(b).length(), a.dot(b))
}
func (a vector) times(f float64) vector { return vector{a[0] * f, a[1] * f, a[2] * f} }
func (a vector) minus(b vector) vector  { return vector{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

// frame gives the declination and local hour angle of the axis.
func (d direct) frame(t float64) (δ, H float64) {
	return d.e.D.At(t) * deg, (d.e.Mu.At(t) + d.site.Lon - 1.00273781191135448*15/3600*d.deltaT) * deg
}

// place is the observer: J. Meeus, Astronomical Algorithms, chapter 11, with the
// ellipsoid WGS84, then the Explanatory Supplement's xi, eta, zeta.
func (d direct) place(t float64) vector {
	const b = 1 - 1/298.257223563
	φ, h := d.site.Lat*deg, d.site.Height/6378137
	u := math.Atan2(b*math.Sin(φ), math.Cos(φ))
	rs, rc := b*math.Sin(u)+h*math.Sin(φ), math.Cos(u)+h*math.Cos(φ)
	δ, H := d.frame(t)
	return vector{
		rc * math.Sin(H),
		rs*math.Cos(δ) - rc*math.Cos(H)*math.Sin(δ),
		rs*math.Sin(δ) + rc*math.Cos(H)*math.Cos(δ),
	}
}

// bodies are Sun and Moon from the observer.
func (d direct) bodies(t float64) (s, m vector) {
	f1 := math.Atan(d.e.TanF1.At(t))
	apart := (math.Sin(959.63/3600*deg)*149597870.7/6378.137 + d.e.K1) / math.Sin(f1)
	height := (d.e.L1.At(t) - d.e.K1/math.Cos(f1)) / math.Tan(f1)
	p := d.place(t)
	x, y := d.e.X.At(t), d.e.Y.At(t)
	return vector{x, y, height + apart}.minus(p), vector{x, y, height}.minus(p)
}

// pair looks at the discs, the Moon with radius k.
func (d direct) pair(t, k float64) pair {
	s, m := d.bodies(t)
	return pair{
		separation: s.angle(m),
		sun:        math.Asin(math.Sin(959.63/3600*deg) * 149597870.7 / 6378.137 / s.length()),
		moon:       math.Asin(k / m.length()),
	}
}

// beyond is how far the observer stands outside a cone, Earth radii.
func (d direct) beyond(c cone, t float64) float64 {
	p := d.place(t)
	r := math.Hypot(d.e.X.At(t)-p[0], d.e.Y.At(t)-p[1])
	if c == umbra {
		return r - math.Abs(d.e.L2.At(t)-p[2]*d.e.TanF2.At(t))
	}
	return r - (d.e.L1.At(t) - p[2]*d.e.TanF1.At(t))
}

// pole and zenith are directions in the fundamental frame.
func (d direct) pole(t float64) vector {
	δ, _ := d.frame(t)
	return vector{0, math.Cos(δ), math.Sin(δ)}
}

func (d direct) zenith(t float64) vector {
	δ, H := d.frame(t)
	φ := d.site.Lat * deg
	return vector{
		math.Cos(φ) * math.Sin(H),
		math.Sin(φ)*math.Cos(δ) - math.Cos(φ)*math.Cos(H)*math.Sin(δ),
		math.Sin(φ)*math.Sin(δ) + math.Cos(φ)*math.Cos(H)*math.Cos(δ),
	}
}

// altitude and azimuth of the Sun, degrees.
func (d direct) altitude(t float64) float64 {
	s, _ := d.bodies(t)
	return 90 - s.angle(d.zenith(t))/deg
}

func (d direct) azimuth(t float64) float64 {
	s, _ := d.bodies(t)
	z := d.zenith(t)
	δ, H := d.frame(t) // east has a meaning at the poles too: that of the site's meridian
	east := vector{math.Cos(H), math.Sin(H) * math.Sin(δ), -math.Sin(H) * math.Cos(δ)}
	return math.Atan2(s.dot(east), s.dot(z.cross(east))) / deg
}

// bearing is the position angle, at the Sun, of a direction, degrees.
func (d direct) bearing(t float64, of vector) float64 {
	s, _ := d.bodies(t)
	s = s.times(1 / s.length())
	east := d.pole(t).cross(s)
	return math.Atan2(of.dot(east), of.dot(s.cross(east))) / deg
}

// lowest finds the least value of a function between two hours, which may have
// several minima: every minute, then golden section about the best.
func lowest(f func(float64) float64, from, to float64) (at, value float64) {
	const step = 1.0 / 60
	at, value = from, f(from)
	for t := from; t <= to; t += step {
		if v := f(t); v < value {
			at, value = t, v
		}
	}
	golden := (math.Sqrt(5) - 1) / 2
	a, b := at-step, at+step
	for range 50 {
		c, d := b-golden*(b-a), a+golden*(b-a)
		if f(c) < f(d) {
			b = d
		} else {
			a = c
		}
	}
	at = (a + b) / 2
	return at, f(at)
}

// edge bisects for a change of sign between two hours.
func edge(f func(float64) float64, inside, outside float64) float64 {
	for range 60 {
		m := (inside + outside) / 2
		if f(m) < 0 {
			inside = m
		} else {
			outside = m
		}
	}
	return inside
}

// outwards is where a function first stops being negative, from an instant.
func outwards(f func(float64) float64, from, direction float64) float64 {
	t := from
	for f(t) < 0 {
		t += direction / 60
	}
	return edge(f, t-direction/60, t)
}

// phases are the instants by this method. The kind is that of the geometry.
type phases struct {
	kind                Kind
	c1, c2, max, c3, c4 float64
}

func (d direct) phases() (p phases) {
	outer := func(t float64) float64 { return d.beyond(penumbra, t) }
	inner := func(t float64) float64 { return d.beyond(umbra, t) }
	mid, depth := lowest(outer, -d.e.Span, d.e.Span)
	if depth >= 0 {
		return p
	}
	p.kind, p.c1, p.c4 = Partial, outwards(outer, mid, -1), outwards(outer, mid, 1)
	k := d.e.K1
	if at, depth := lowest(inner, mid-0.2, mid+0.2); depth < 0 {
		p.kind, p.c2, p.c3 = Annular, outwards(inner, at, -1), outwards(inner, at, 1)
		if d.e.L2.At(at) < d.place(at)[2]*d.e.TanF2.At(at) {
			p.kind = Total
		}
		k = d.e.K2
	}
	p.max, _ = lowest(func(t float64) float64 { return -d.pair(t, k).magnitude() }, mid-0.2, mid+0.2)
	return p
}
