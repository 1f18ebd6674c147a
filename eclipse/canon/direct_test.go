package canon

import (
	"math"
	"testing"

	"example.org/noonfall/sun"
	"example.org/noonfall/testdata/references"
)

const deg = math.Pi / 180

// The direct way to an eclipse, which knows nothing of shadows, planes or
// polynomials: put the site on the turning Earth, look at Sun and Moon from
// there, and see when their discs touch. It shares the positions with the
// catalogue and nothing else.

// A vector is in km on the true equator and equinox of date.
type vector [3]float64

func (a vector) minus(b vector) vector { return vector{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

func (a vector) times(f float64) vector { return vector{a[0] * f, a[1] * f, a[2] * f} }

func (a vector) dot(b vector) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func (a vector) cross(b vector) vector {
	return vector{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func (a vector) length() float64 { return math.Sqrt(a.dot(a)) }

// angle between two vectors, radians, by the formula that keeps its digits near zero.
func (a vector) angle(b vector) float64 { return math.Atan2(a.cross(b).length(), a.dot(b)) }

func spherical(ra, dec, km float64) vector {
	sinα, cosα := math.Sincos(ra * deg)
	sinδ, cosδ := math.Sincos(dec * deg)
	return vector{km * cosδ * cosα, km * cosδ * sinα, km * sinδ}
}

// A sky holds half-hourly positions of one eclipse from 4 h before T0: Sun x,
// y, z, Moon x, y, z, and sidereal time without jumps, degrees.
type sky struct {
	date string
	rows [17][7]float64
}

func skies(t testing.TB) []*sky {
	var all []*sky
	for i, r := range references.File(t, "internal/gencanon/testdata/positions.csv.gz") {
		if i%17 == 0 {
			all = append(all, &sky{date: r["eclipse"]})
		}
		s := all[len(all)-1]
		sun := spherical(r.Number(t, "sun_ra_deg"), r.Number(t, "sun_dec_deg"), r.Number(t, "sun_dist_km"))
		moon := spherical(r.Number(t, "moon_ra_deg"), r.Number(t, "moon_dec_deg"), r.Number(t, "moon_dist_km"))
		turn := r.Number(t, "gast_ut1eqtt_deg")
		for i%17 > 0 && turn < s.rows[i%17-1][6] {
			turn += 360
		}
		s.rows[i%17] = [7]float64{sun[0], sun[1], sun[2], moon[0], moon[1], moon[2], turn}
	}
	return all
}

// at interpolates by Neville's scheme through the nine nearest rows.
func (s *sky) at(hours float64) (sunAt, moonAt vector, sidereal float64) {
	u := (hours + 4) * 2
	const n = 9
	first := min(max(int(math.Round(u))-n/2, 0), 17-n)
	var p [n][7]float64
	copy(p[:], s.rows[first:first+n])
	for k := 1; k < n; k++ {
		for i := range n - k {
			w := (u - float64(first+i)) / float64(k)
			for j := range p[i] {
				p[i][j] += w * (p[i+1][j] - p[i][j])
			}
		}
	}
	v := p[0]
	return vector{v[0], v[1], v[2]}, vector{v[3], v[4], v[5]}, v[6]
}

// onEarth places a site on the ellipsoid WGS 84, km; turn is its local sidereal time.
func onEarth(site sun.Site, turn float64) vector {
	const a, f = 6378.137, 1 / 298.257223563
	sinφ, cosφ := math.Sincos(site.Lat * deg)
	n := a / math.Sqrt(1-f*(2-f)*sinφ*sinφ)
	h := site.Height / 1000
	sinθ, cosθ := math.Sincos(turn * deg)
	return vector{(n + h) * cosφ * cosθ, (n + h) * cosφ * sinθ, (n*(1-f)*(1-f) + h) * sinφ}
}

// A direct is one observer of one eclipse by this method: place, and Delta T in
// seconds. Hours count from T0.
type direct struct {
	*sky
	site   sun.Site
	deltaT float64
}

// local is the site's sidereal time for that of Greenwich as if UT1 were TT, degrees.
func (d direct) local(turn float64) float64 {
	return turn + d.site.Lon - 1.00273781191135448*d.deltaT/240 // IAU 2000 Resolution B1.8
}

// bodies are Sun and Moon from the site, km, and its sidereal time, degrees.
func (d direct) bodies(hours float64) (sunAt, moonAt vector, turn float64) {
	sunAt, moonAt, turn = d.at(hours)
	turn = d.local(turn)
	here := onEarth(d.site, turn)
	return sunAt.minus(here), moonAt.minus(here), turn
}

// The radii as the catalogue's documentation has them, Earth equatorial radii.
const k1, k2 = 0.272488, 0.272281

func solar(sunAt vector) float64 {
	return math.Asin(math.Sin(959.63/3600*deg) * 149597870.7 / sunAt.length())
}

func lunar(moonAt vector, k float64) float64 { return math.Asin(k * 6378.137 / moonAt.length()) }

// outside and inside are how far the discs are from touching, radians: from
// outside with the lunar radius of the penumbra, from inside with that of the
// umbra. Negative is past touching.
func (d direct) outside(hours float64) float64 {
	s, m, _ := d.bodies(hours)
	return s.angle(m) - solar(s) - lunar(m, k1)
}

func (d direct) inside(hours float64) float64 {
	s, m, _ := d.bodies(hours)
	return s.angle(m) - math.Abs(solar(s)-lunar(m, k2))
}

// magnitude is the covered part of the Sun's diameter, unclamped, for a lunar radius.
func (d direct) magnitude(hours, k float64) float64 {
	s, m, _ := d.bodies(hours)
	return (solar(s) + lunar(m, k) - s.angle(m)) / (2 * solar(s))
}

// obscuration is the lens that two circles share over the Sun's disc, by the
// textbook's sum of two segments.
func (d direct) obscuration(hours, k float64) float64 {
	s, m, _ := d.bodies(hours)
	r, z := lunar(m, k)/solar(s), s.angle(m)/solar(s)
	switch {
	case z >= 1+r:
		return 0
	case z <= math.Abs(1-r):
		return math.Min(1, r*r)
	}
	segment := func(radius, other float64) float64 {
		half := math.Acos((z*z + radius*radius - other*other) / (2 * z * radius))
		return radius * radius * (half - math.Sin(2*half)/2)
	}
	return (segment(1, r) + segment(r, 1)) / math.Pi
}

// axisDistance is how far the site is from the line through both centres, km.
func (d direct) axisDistance(hours float64) float64 {
	s, m, _ := d.bodies(hours)
	axis := m.minus(s)
	return m.cross(axis).length() / axis.length()
}

// frame is what points up, north and east at a sidereal time; at the poles north
// and east are those of the site's meridian.
func (d direct) frame(turn float64) (up, north, east vector) {
	sinφ, cosφ := math.Sincos(d.site.Lat * deg)
	sinθ, cosθ := math.Sincos(turn * deg)
	up, east = vector{cosφ * cosθ, cosφ * sinθ, sinφ}, vector{-sinθ, cosθ, 0}
	return up, up.cross(east), east
}

// horizontal is altitude and azimuth of the Sun's centre without refraction, degrees.
func (d direct) horizontal(hours float64) (alt, az float64) {
	s, _, turn := d.bodies(hours)
	up, north, east := d.frame(turn)
	return 90 - s.angle(up)/deg, math.Atan2(s.dot(east), s.dot(north)) / deg
}

// angles are P and V of the Moon's centre from the Sun's, degrees.
func (d direct) angles(hours float64) (p, v float64) {
	s, m, turn := d.bodies(hours)
	s = s.times(1 / s.length())
	east := vector{0, 0, 1}.cross(s)
	north := s.cross(east)
	bearing := func(of vector) float64 { return math.Atan2(of.dot(east), of.dot(north)) / deg }
	up, _, _ := d.frame(turn)
	p = bearing(m.times(1 / m.length()).minus(s))
	return p, p - bearing(up)
}
