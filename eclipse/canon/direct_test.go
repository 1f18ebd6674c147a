package canon

import (
	"compress/gzip"
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

const deg = math.Pi / 180

// The direct way to an eclipse, which knows nothing of shadows, planes or
// polynomials: put the site on the turning Earth, look at Sun and Moon from
// there, and see when their discs touch. It shares the positions with the
// catalogue and nothing else.

// A vector is in km on the true equator and equinox of date.
type vector [3]float64

func (a vector) minus(b vector) vector { return vector{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

func (a vector) length() float64 { return math.Sqrt(a[0]*a[0] + a[1]*a[1] + a[2]*a[2]) }

// angle between two vectors, radians, by the formula that keeps its digits near zero.
func (a vector) angle(b vector) float64 {
	cross := vector{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
	return math.Atan2(cross.length(), a[0]*b[0]+a[1]*b[1]+a[2]*b[2])
}

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
	f, err := os.Open("internal/gencanon/testdata/positions.csv.gz")
	require.NoError(t, err)
	defer f.Close()
	z, err := gzip.NewReader(f)
	require.NoError(t, err)
	records, err := csv.NewReader(z).ReadAll()
	require.NoError(t, err)
	var all []*sky
	for i, r := range records[1:] {
		if i%17 == 0 {
			all = append(all, &sky{date: r[0]})
		}
		s := all[len(all)-1]
		var v [7]float64
		for j := range v {
			v[j], err = strconv.ParseFloat(r[6+j], 64)
			require.NoError(t, err)
		}
		sun, moon := spherical(v[0], v[1], v[2]), spherical(v[3], v[4], v[5])
		turn := v[6]
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

// apart returns how far the discs are from touching, radians: from outside with
// the lunar radius of the penumbra, from inside with that of the umbra.
// Negative is past touching.
func (s *sky) apart(site sun.Site, deltaT, hours float64) (outside, inside float64) {
	sunAt, moonAt, turn := s.at(hours)
	here := onEarth(site, turn+site.Lon-1.00273781191135448*deltaT/240)
	sunAt, moonAt = sunAt.minus(here), moonAt.minus(here)
	separation := sunAt.angle(moonAt)
	solar := math.Asin(math.Sin(959.63/3600*deg) * 149597870.7 / sunAt.length())
	outside = separation - solar - math.Asin(0.272488*6378.137/moonAt.length())
	inside = separation - math.Abs(solar-math.Asin(0.272281*6378.137/moonAt.length()))
	return outside, inside
}

// contacts returns the hours at which a function crosses zero around its least
// value, by scan, golden section and bisection: slow and without cunning. ok
// says whether it goes below zero; least is the value.
func contacts(f func(float64) float64) (begin, end, least float64, ok bool) {
	const reach = 3.9
	best := -reach
	for h := -reach; h <= reach; h += 1.0 / 30 {
		if f(h) < f(best) {
			best = h
		}
	}
	a, b := best-1.0/30, best+1.0/30
	golden := (math.Sqrt(5) - 1) / 2
	for range 60 {
		p, q := b-golden*(b-a), a+golden*(b-a)
		if f(p) < f(q) {
			b = q
		} else {
			a = p
		}
	}
	mid := (a + b) / 2
	least = f(mid)
	if least >= 0 {
		return 0, 0, least, false
	}
	bisect := func(in, out float64) float64 {
		for range 60 {
			m := (in + out) / 2
			if f(m) < 0 {
				in = m
			} else {
				out = m
			}
		}
		return (in + out) / 2
	}
	return bisect(mid, -reach), bisect(mid, reach), least, true
}

// underAxis returns a place near where the line from Sun to Moon meets the
// Earth at an hour, if it does.
func (s *sky) underAxis(hours, deltaT float64) (sun.Site, bool) {
	sunAt, moonAt, turn := s.at(hours)
	d := moonAt.minus(sunAt)
	l := d.length()
	for i := range d {
		d[i] /= l
	}
	along := moonAt[0]*d[0] + moonAt[1]*d[1] + moonAt[2]*d[2]
	q := along*along - moonAt.length()*moonAt.length() + 6378.137*6378.137
	if q < 0 {
		return sun.Site{}, false
	}
	k := -along - math.Sqrt(q)
	p := vector{moonAt[0] + k*d[0], moonAt[1] + k*d[1], moonAt[2] + k*d[2]}
	return sun.Site{
		Lat: math.Atan2(p[2], math.Hypot(p[0], p[1])) / deg,
		Lon: math.Remainder(math.Atan2(p[1], p[0])/deg-turn+1.00273781191135448*deltaT/240, 360),
	}, true
}

// The catalogue's contacts against direct ones, at seeded sites: half anywhere on
// the Earth, half within a degree or so of the axis' track.
func TestContactsAgainstDirectComputation(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	all := skies(t)
	var elements []*eclipse.Elements
	for e := range loaded(t).All() {
		elements = append(elements, e)
	}
	var worst struct{ outer, inner, graze float64 }
	var n struct{ sites, none, contacts, inner, total, annular, grazes int }
	for n.sites < 600 {
		i := r.IntN(len(all))
		deltaT := 20 + 100*r.Float64()
		site := sun.Site{Lat: math.Asin(2*r.Float64()-1) / deg, Lon: -180 + 360*r.Float64()}
		if n.sites%2 == 0 {
			under, ok := all[i].underAxis(5*r.Float64()-2.5, deltaT)
			if !ok {
				continue
			}
			site.Lat = math.Max(-90, math.Min(90, under.Lat+r.NormFloat64()/2))
			site.Lon = under.Lon
		}
		site.Height = 5000 * r.Float64() * r.Float64()
		n.sites++

		o, err := eclipse.NewObserver(elements[i], site, eclipse.Options{Scale: timescale.FixedDeltaT(deltaT)})
		require.NoError(t, err)
		c := o.Circumstances()
		outside := func(h float64) float64 { v, _ := all[i].apart(site, deltaT, h); return v }
		inside := func(h float64) float64 { _, v := all[i].apart(site, deltaT, h); return v }
		for _, pair := range []struct {
			name       string
			f          func(float64) float64
			first, end eclipse.Contact
			worst      *float64
		}{
			{"C1, C4", outside, c.C1, c.C4, &worst.outer},
			{"C2, C3", inside, c.C2, c.C3, &worst.inner},
		} {
			begin, end, least, ok := contacts(pair.f)
			if ok != pair.first.Exists || ok != pair.end.Exists {
				t.Errorf("%s at %+v, Delta T %.3f: %s exist: %v and %v, directly %v (deepest %.2g rad)",
					elements[i].Date, site, deltaT, pair.name, pair.first.Exists, pair.end.Exists, ok, least)
				continue
			}
			if !ok {
				continue
			}
			n.contacts += 2
			if pair.name == "C2, C3" {
				n.inner++
			}
			δ := math.Max(math.Abs(hours(pair.first, elements[i])-begin), math.Abs(hours(pair.end, elements[i])-end)) * 3600
			tol, into := 0.01, pair.worst
			if least > -5e-6 { // within an arcsecond of no contact at all
				tol, into = 0.02, &worst.graze
				n.grazes++
			}
			*into = math.Max(*into, δ)
			if !(δ <= tol) {
				t.Errorf("%s at %+v, Delta T %.3f: %s off by %.4f s, want at most %g (deepest %.2g rad)",
					elements[i].Date, site, deltaT, pair.name, δ, tol, least)
			}
		}
		switch c.Geometry {
		case eclipse.None:
			n.none++
		case eclipse.Total:
			n.total++
		case eclipse.Annular:
			n.annular++
		}
	}
	t.Logf("%+v; worst, s: %+v", n, worst)
	if n.total < 50 || n.annular < 50 || n.none < 50 {
		t.Errorf("the draw is one-sided: %+v", n)
	}
}

func hours(c eclipse.Contact, e *eclipse.Elements) float64 { return float64(c.TT-e.T0) / 3600 }
