package canon

import (
	"math"
	"math/rand/v2"

	"example.org/noonfall/sun"
)

// underAxis returns a place near where the line from Sun to Moon meets the
// Earth at an hour, if it does.
func (s *sky) underAxis(hours, deltaT float64) (sun.Site, bool) {
	sunAt, moonAt, turn := s.at(hours)
	d := moonAt.minus(sunAt)
	d = d.times(1 / d.length())
	along := moonAt.dot(d)
	q := along*along - moonAt.dot(moonAt) + 6378.137*6378.137
	if q < 0 {
		return sun.Site{}, false
	}
	return s.below(moonAt.minus(d.times(along+math.Sqrt(q))), turn, deltaT), true
}

// below is the site, on a sphere, in whose zenith a vector points.
func (s *sky) below(p vector, turn, deltaT float64) sun.Site {
	return sun.Site{
		Lat: math.Atan2(p[2], math.Hypot(p[0], p[1])) / deg,
		Lon: math.Remainder(math.Atan2(p[1], p[0])/deg-turn+1.00273781191135448*deltaT/240, 360),
	}
}

// atHorizon returns a place that has the Sun on the horizon, give or take a few
// degrees, and the shadow's axis as close as that allows or somewhat beside.
func (s *sky) atHorizon(hours, deltaT float64, r *rand.Rand) sun.Site {
	sunAt, moonAt, turn := s.at(hours)
	d := sunAt.times(1 / sunAt.length())
	across := moonAt.minus(d.times(moonAt.dot(d))) // from the Earth's centre to the axis, nearly
	across = across.times(1 / across.length())
	beside := d.cross(across)
	sinβ, cosβ := math.Sincos(r.NormFloat64() / 4)
	sina, cosa := math.Sincos(3 * deg * r.NormFloat64())
	var p vector
	for i := range p {
		p[i] = cosa*(cosβ*across[i]+sinβ*beside[i]) + sina*d[i]
	}
	return s.below(p, turn, deltaT)
}

// What the draws are for; they take turns.
var placeNames = [...]string{
	"anywhere", "path", "edge of path", "edge of penumbra", "beyond 80 degrees", "pole", "antimeridian", "mountain", "horizon",
	"midnight", "noon",
}

// place draws an observer for one eclipse.
func (s *sky) place(kind int, r *rand.Rand) direct {
	d := direct{sky: s, deltaT: 20 + 100*r.Float64()}
	d.site = sun.Site{Lat: math.Asin(2*r.Float64()-1) / deg, Lon: -180 + 360*r.Float64(), Height: 5000 * r.Float64() * r.Float64()}
	hour := 5*r.Float64() - 2.5
	switch placeNames[kind] {
	case "path":
		d.onPath(hour, r.NormFloat64()/2)
	case "edge of path":
		d.onPath(hour, 0)
		d.toEdge(direct.inside, 2, 2000, r)
	case "edge of penumbra":
		d.onPath(hour, 0)
		d.toEdge(direct.outside, 80, 20000, r)
	case "beyond 80 degrees":
		d.site.Lat = math.Copysign(90-10*r.Float64(), d.site.Lat)
	case "pole":
		d.site.Lat = math.Copysign(90, d.site.Lat)
	case "antimeridian":
		d.onPath(hour, 10*r.NormFloat64())
		d.site.Lon = []float64{-180, 180, 180 - 1e-9, -180 + 1e-9, 179.99, -179.99}[r.IntN(6)]
	case "mountain":
		d.onPath(hour, r.NormFloat64()/2)
		d.site.Height = 9000 - 1000*r.Float64()
	case "horizon":
		height := d.site.Height
		d.site = s.atHorizon(hour, d.deltaT, r)
		d.site.Height = height
	case "midnight":
		d.turned(hour, 180, -1.5*r.Float64())
	case "noon":
		d.turned(hour, 0, 1.5*r.Float64())
	}
	return d
}

// turned moves an observer to where the Sun culminates on the horizon at an hour:
// below the pole with an hour angle of 180 degrees, in the dark half of the year
// with 0; and then some degrees on towards the pole, so that it only just dips
// below the horizon, or only just shows.
func (d *direct) turned(hours, hourAngle, degrees float64) {
	sunAt, _, turn := d.at(hours)
	δ := math.Atan2(sunAt[2], math.Hypot(sunAt[0], sunAt[1])) / deg
	α := math.Atan2(sunAt[1], sunAt[0]) / deg
	if hourAngle == 0 {
		d.site.Lat = math.Copysign(90-math.Abs(δ)+degrees, -δ)
	} else {
		d.site.Lat = math.Copysign(90-math.Abs(δ)+degrees, δ)
	}
	d.site.Lat = math.Max(-90, math.Min(90, d.site.Lat))
	d.site.Lon = math.Remainder(α+hourAngle-turn+1.00273781191135448*d.deltaT/240, 360)
}

// onPath moves an observer below the axis, or some degrees north of it, where the
// axis meets the Earth.
func (d *direct) onPath(hour, north float64) {
	if under, ok := d.underAxis(hour, d.deltaT); ok {
		d.site.Lat, d.site.Lon = math.Max(-90, math.Min(90, under.Lat+north)), under.Lon
	}
}

// toEdge moves an observer who is inside a shadow along the meridian to its edge,
// and then some metres at random to either side.
func (d *direct) toEdge(shadow func(direct, float64) float64, degrees, metres float64, r *rand.Rand) {
	depth := func(lat float64) float64 {
		there := *d
		there.site.Lat = lat
		f := func(h float64) float64 { return shadow(there, h) }
		best, least := 0.0, math.Inf(1)
		for h := -reach; h <= reach; h += 0.1 {
			if v := f(h); v < least {
				best, least = h, v
			}
		}
		return f(golden(f, best-0.1, best+0.1))
	}
	lat := d.site.Lat
	out := lat - math.Copysign(degrees, lat)
	if depth(lat) >= 0 || depth(out) <= 0 {
		return
	}
	edge := bisect(depth, lat, out)
	const smallest = 10.0 // m
	away := smallest * math.Pow(metres/smallest, r.Float64())
	d.site.Lat = math.Max(-90, math.Min(90, edge+math.Copysign(away/111e3, 2*r.Float64()-1)))
}
