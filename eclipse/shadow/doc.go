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
// With the elements that the tables were made from and the Sun above ten degrees:
//
//	central line against two published path tables    0.23 km
//	limits                                            0.36 km
//	duration on the line                              0.1 s
//	66 printed contacts of shadow and Earth           umbra 0.6 s; penumbra 1.1 s at worst, where
//	                                                  limit and horizon meet at a narrow angle
//	width against the limits' own distance            3 per cent
//	sites on 1401 points of central lines and 2718    central there, and central for 0.000 s
//	of limits, by package eclipse
//
// Nearer to the ends of a path a thousandth of the Earth's radius is a hundred
// kilometres, and tables differ from one another. Types and counts of all 452
// eclipses of 1901 to 2100, their greatest instants and gammas are those of
// NASA/TP-2006-214141. A grid's values are those of its sites within 1e-7
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
