package limb

import (
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
)

// fromAxis turns a point of the fundamental plane's sphere into a site.
func fromAxis(e *eclipse.Elements, h, x, y, z2, deltaT float64) sun.Site {
	z := math.Sqrt(z2)
	sind, cosd := math.Sincos(e.D.At(h) * deg)
	lat := math.Asin(y*cosd+z*sind) / deg
	hour := math.Atan2(x, z*cosd-y*sind) / deg
	lon := math.Remainder(hour-e.Mu.At(h)+1.00273781191135448*15/3600*deltaT, 360)
	if lon == 180 {
		lon = -180
	}
	return sun.Site{Lat: lat, Lon: lon}
}
