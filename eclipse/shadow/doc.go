// Package shadow follows the Moon's shadow over the Earth.
//
// # Two cones and an ellipsoid
//
// Sun and Moon span two cones about one axis: the penumbra, which opens towards the
// Earth, and the umbra, which narrows to a point and beyond it opens again as the
// antumbra. Besselian elements say where axis and cones cross the plane through
// the Earth's centre (package eclipse). This package asks the opposite of what an
// observer asks: not what happens at a place, but where on the ground a given thing
// happens. With xi, eta, zeta a point of the ellipsoid in the shadow's own frame,
// the axis falls on
//
//	xi = x, eta = y, zeta from the ellipsoid
//
// which is the central line; the limits are where the cone's edge moves along
// itself, the distance from the axis being greatest or least in time,
//
//	(x - xi)^2 + (y - eta)^2 = (l - zeta tan f)^2,  and its rate zero
//
// and the shadow's contacts with the Earth are where the cone touches the Earth's
// outline as seen along the axis, an ellipse.
//
//	s, err := shadow.New(elements, eclipse.Options{})
//	g := s.Global()                                    // P1..P4, U1..U4, greatest eclipse, type
//	path, err := s.Path(shadow.PathOptions{Km: 100})   // central line, limits, width, duration
//	file, err := s.GeoJSON()                           // for any map
//
// [Near] finds the central lines that come near a place. [NewGrid] gives a quantity
// over a rectangle of sites: greatest obscuration, say, over the whole Earth. Its
// default is what people see, with the Sun up; [GridOf] takes any function of a
// site's circumstances.
//
// # Definitions
//
// Lines end where the Sun's centre stands in the horizon without refraction.
// North of a path is to the left of the shadow's way. A path's width is measured at
// right angles to it. Umbra and antumbra are k2's, the penumbra k1's. An eclipse
// whose axis misses the Earth may still have a path without a central line; one
// near a pole may lack a limit. Global.Form says so in words.
//
// GeoJSON is that of RFC 7946: longitude first, rings closed and counter-clockwise,
// lines and areas cut at the antimeridian, a pole inside a ring walled in along it.
//
// # Accuracy
//
// With the Sun above ten degrees, against two published path tables: that of 2017
// with the elements it was made from, and that of 2026 with the Canon's. The latter
// was made from others, and stands half a kilometre to a kilometre aside all along;
// one shift of the axis by 0.000082 and -0.000024 Earth radii, fitted to its central
// line, takes that out.
//
//	central line                    0.23 km (2017), 0.12 km after the shift (2026)
//	limits                          0.24 km (2017), 0.36 km after the shift (2026)
//	duration on the line            0.1 s
//	width                           0.6 per cent: the tables take the Earth's radius for its
//	                                normal; by their own formula half a kilometre, the rounding
//	width on the ground, paced off  3 per cent, 15 degrees up and higher
//	66 printed contacts of shadow   0.6 s for umbra and axis, with the Canon's elements for three
//	and Earth                       of four tables; 1.1 s for the penumbra, where limit and horizon
//	                                meet at a narrow angle; places 1 km, but 28 km for P1 to P4,
//	                                which the tables put on the line to the Earth's centre
//	1401 points of central lines    package eclipse finds itself on the line, and on the limit a
//	and 2718 of limits              central phase of less than a millisecond, with some a kilometre
//	                                inside and none a kilometre outside
//	17,820 sites about all maps     inside the outline exactly where they see a central phase with
//	                                the Sun up, but for one that is within half a kilometre of it
//
// Near the ends of a path a metre across the axis is a metre over the sine of the
// Sun's height: the last row of 2017, at 2.5 degrees, is 0.78 km off, which is 34 m
// across the axis, and its elements are printed to 6 m. Types and counts of all 452
// eclipses of 1901 to 2100, and gammas, instants and places of greatest eclipse, are
// those of NASA/TP-2006-214141. A grid's values are those of its sites within 1e-7
// (GridStudy), bit for bit the same for any number of workers.
//
// # Limits
//
// The ground is the ellipsoid at height zero: a site at 2 km sees the line up to
// two kilometres aside where the Sun is low. The Moon is smooth. Delta T moves the
// whole path by 0.46 km a second of it at the equator.
//
// # Sources
//
// Explanatory Supplement to the Astronomical Almanac (1992), chapter 8; F. W.
// Bessel; J. Meeus, Elements of Solar Eclipses 1951-2200 (1989), both from memory;
// RFC 7946; NASA RP 1383, RP 1398 and TP-2006-214141 for the tables compared.
package shadow
