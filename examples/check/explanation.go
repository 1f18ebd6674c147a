package main

import (
	"math"

	"example.org/noonfall/eclipse"
)

// An explanation is a mistake, or another choice, that people make with such numbers. It
// puts the claim as it should have been put; false where it is not about it.
type explanation struct {
	what   string
	fitted int  // numbers in it that were read off the claims themselves
	free   int  // those of them that may have any value
	whole  bool // it cannot hold for one quantity and not for another
	put    func(c *claim, j *judge) bool
}

// explanations are the usual ones whose size is known beforehand.
var explanations = []explanation{
	{whole: true, what: "the longitude has the other sign (west positive)", put: func(c *claim, _ *judge) bool {
		c.site.Lon = -math.Remainder(c.site.Lon, 360)
		return c.site.Lon != 0
	}},
	{whole: true, what: "the latitude has the other sign", put: func(c *claim, _ *judge) bool { c.site.Lat = -c.site.Lat; return c.site.Lat != 0 }},
	{whole: true, what: "latitude and longitude are exchanged", put: func(c *claim, _ *judge) bool {
		c.site.Lat, c.site.Lon = math.Remainder(c.site.Lon, 360), c.site.Lat
		return c.site.Validate() == nil
	}},
	{what: "instants called UTC are UT (TT - Delta T)", put: func(c *claim, _ *judge) bool {
		was := c.ut
		c.ut = true
		return c.value.kind == anInstant && !was
	}},
	{what: "instants called UT are UTC", put: func(c *claim, _ *judge) bool {
		was := c.ut
		c.ut = false
		return c.value.kind == anInstant && was
	}},
	{what: "magnitude stands for obscuration, or the other way round", put: func(c *claim, _ *judge) bool {
		return c.instead(map[string]string{"magnitude": "obscuration", "obscuration": "magnitude"})
	}},
	{what: "magnitude stands for the ratio of the diameters, or the other way round", put: func(c *claim, _ *judge) bool {
		return c.instead(map[string]string{"magnitude": "diameter_ratio", "diameter_ratio": "magnitude"})
	}},
	{what: "magnitude inside the path is the covered part of the diameter, not the ratio", put: (*claim).covered},
	{what: "angles are reckoned from the opposite side, 180 deg away", put: func(c *claim, _ *judge) bool {
		c.value.v += 180
		return c.quantity.unit == "deg"
	}},
	{whole: true, what: "k1 and k2 are not what the claims were made with, but the elements' own are", put: func(c *claim, _ *judge) bool {
		stated := c.k1 != 0 || c.k2 != 0
		c.k1, c.k2 = 0, 0
		return stated
	}},
	// The Moon's radii: the IAU's of 1982 for all phases, and those of one bulletin series
	// for each (package ephemeris has their sources).
	{whole: true, what: "the Moon has a radius of 0.2725076 Earth radii throughout", put: radii(0.2725076, 0.2725076)},
	{whole: true, what: "the Moon has a radius of 0.272281 Earth radii throughout", put: radii(0.272281, 0.272281)},
	{whole: true, what: "the Moon has radii of 0.2725076 (c1, c4) and 0.272281 (c2, c3) Earth radii", put: radii(0.2725076, 0.272281)},
	{whole: true, what: "the Moon has radii of 0.272488 (c1, c4) and 0.272281 (c2, c3) Earth radii", put: radii(0.272488, 0.272281)},
	{whole: true, what: "delta_t_s is not what the claims were made with, but this library's own is", put: func(c *claim, _ *judge) bool {
		was := c.deltaTOf
		c.deltaTOf, c.deltaT = false, 0
		return was
	}},
}

// instead asks another quantity for the one claimed.
func (c *claim) instead(other map[string]string) bool {
	name, ok := other[c.quantity.name]
	if ok {
		c.quantity = quantities[name]
	}
	return ok
}

// covered takes a magnitude inside the path for the part of the Sun's diameter that is
// covered, (s + m - separation)/2s as outside it, and makes a ratio of it.
func (c *claim) covered(j *judge) bool {
	local, err := j.circumstances(c)
	if err != nil || c.quantity.name != "magnitude" || local.Geometry == eclipse.None || local.Geometry == eclipse.Partial {
		return false
	}
	a := j.observer.Aspect(local.Max.TT)
	c.value.v += a.Ratio - (1+a.Ratio-a.Separation/a.SunRadius)/2
	return true
}

// radii asks with other lunar radii. A claim's own elements take them as the catalogue's
// do: they state which they were made with.
func radii(k1, k2 float64) func(*claim, *judge) bool {
	return func(c *claim, _ *judge) bool {
		same := c.k1 == k1 && c.k2 == k2
		c.k1, c.k2 = k1, k2
		return !same
	}
}

// both joins two explanations of the same claims.
func both(a, b explanation) explanation {
	return explanation{what: a.what + ", and " + b.what, fitted: a.fitted + b.fitted, free: a.free + b.free, whole: a.whole || b.whole, put: func(c *claim, j *judge) bool {
		return a.put(c, j) && b.put(c, j)
	}}
}
