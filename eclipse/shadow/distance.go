package shadow

import (
	"math"

	"example.org/noonfall/sun"
)

// distance along the ground, km, from the straight line through the Earth between
// two sites on the ellipsoid. The arc belongs to a sphere of mean radius, which is
// good to a millionth up to 500 km and to a thousandth to the antipodes.
func distance(a, b sun.Site) float64 {
	za, ra := a.Geocentric()
	zb, rb := b.Geocentric()
	sin, cos := math.Sincos((b.Lon - a.Lon) * deg)
	chord := radiusKm * math.Hypot(math.Hypot(rb*cos-ra, rb*sin), zb-za)
	const mean = 6371.0088 // km, mean radius of WGS84 (H. Moritz, J. Geod. 74 (2000) 128)
	return 2 * mean * math.Asin(min(1, chord/(2*mean)))
}
