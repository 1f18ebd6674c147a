// Package eclipse says what an eclipse of the Sun does at one place on the Earth.
//
// # Besselian elements
//
// F. W. Bessel's idea (1829) is to look at the Moon's shadow instead of at Sun and
// Moon. Lay a plane through the Earth's centre, at right angles to the shadow's
// axis, with x to the east, y to the north and z towards Moon and Sun. In it the
// shadow moves almost in a straight line, and a few polynomials in time say
// everything, once for the whole Earth:
//
//	x, y        where the axis pierces the plane, Earth equatorial radii
//	d, mu       declination of the axis and its Greenwich hour angle, degrees
//	l1, l2      radii of penumbra and umbra in the plane; l2 < 0 where it is total
//	f1, f2      half-angles of the two cones
//
// [Elements] holds them. A site has the coordinates of its place on the ellipsoid,
// turned by its hour angle H = mu + east longitude - 15.041 Delta T/3600:
//
//	xi   = rho cos phi' sin H
//	eta  = rho sin phi' cos d - rho cos phi' cos H sin d
//	zeta = rho sin phi' sin d + rho cos phi' cos H cos d
//
// and the eclipse begins there when its distance from the axis equals the
// penumbra's radius at its height: hypot(x-xi, y-eta) = l1 - zeta tan f1. Second
// and third contact are the same with l2 and f2. The cones touch Sun and Moon, so
// that nothing is approximate about this.
//
// Sun and Moon themselves come back out of the elements: both stand on the axis,
// sin f1 = (Sun's radius + k1)/(their distance), and the Moon's height over the
// plane is (l1 - k1/cos f1)/tan f1. Angular radii, the separation and the Sun's own
// altitude follow by plain geometry. In use:
//
//	o, err := eclipse.NewObserver(elements, sun.Site{Lat: 36, Lon: -5.6}, eclipse.Options{})
//	c := o.Circumstances()     // contacts, angles, depth, what the horizon leaves
//	a := o.Aspect(c.Max.TT)    // the two discs at an instant
//	curve, err := eclipse.NewCurve(o, eclipse.CurveOptions{})
//	left := curve.Flux(c.C1.TT + 1800) // part of the light left half an hour later
//	lux := curve.Lux(c.C1.TT + 1800)   // and what a light meter should say
//
// Package eclipse/canon has the elements of 1901 to 2100; [Elements] also read and
// write JSON. For many sites, [Prepare] the elements once, and go
// along a [Parallel] for rows of them.
//
// # Definitions
//
// Magnitude is the covered part of the Sun's diameter, (s + m - separation)/2s
// from the topocentric angular radii s and m and the separation of the centres;
// where the eclipse is central at the site it is the ratio of the diameters, m/s.
// Obscuration is the covered part of the Sun's area, two plane discs of those
// radii. Maximum is the instant at which (s + m - separation)/2s is greatest; the
// least separation and the least distance from the axis are other instants, up to
// fourteen seconds away in shallow eclipses.
//
// The almanacs use two lunar radii: k1 for the penumbra, k2, a little smaller, for
// the umbra, so that totality ends when the deepest valleys let light through.
// First and fourth contact are k1's, second and third k2's. Magnitude and
// obscuration need one disc: k2 serves throughout where the eclipse is central at
// the site and k1 elsewhere, the other radius of the pair being converted. To take
// l1 and l2 as printed, one radius in each, gives the discs of no one Moon, and an
// obscuration up to 0.0014 off.
//
// P is a position angle on the Sun's limb from north through east and V the same
// from the zenith; both point from the Sun's centre to the touching point, at
// maximum to the Moon's centre. Altitudes are those of the Sun's centre without
// refraction. Which Sun counts as up is the caller's choice ([Horizon]).
// [Observer.CentralLine] gives the distance to the central line.
//
// Times are Terrestrial Time inside; each [Contact] gives UTC, and UT = TT -
// Delta T as the almanacs print it.
//
// # Light
//
// A [Curve] is the part of the Sun's limb-darkened light that is left, and the
// illuminance that goes with it: direct light and sky light are dimmed alike, and a
// floor of a few lux, scattered in from outside the shadow, remains. Near a contact
// the light goes with the 3/2 power of time; the curve has a knot there and is read
// in the square root of the time from it.
//
// # Accuracy
//
// Contacts, grazes from a centimetre inside the limit included, agree within 0.1 ms
// with a second method that knows no derivative, maximum within 0.03 s, which is
// what that method can tell (circumstances_test.go, graze_test.go). With a bulletin's
// own elements and Delta T its printed contacts are met within 0.06 s (NASA RP 1398,
// 39 instants), with the almanac service's within 0.3 s (published_test.go). The
// curve's table is within 1e-7 of the light, and within 1e-4 of what is left of it
// wherever that is more than the floor (curve_test.go). What remains is the world:
// the Moon's mountains (seconds; package eclipse/limb), Delta T in the future, the
// site's own coordinates (a kilometre is up to two seconds).
//
// # Limits
//
// The polynomials hold for Elements.Span hours either side of T0 and are not looked
// at beyond. The horizon is that of the sea at eye level: no hills, and no dip for a
// site's height. Of a Sun that comes and goes more than once within an eclipse, Rise
// and Set are the last.
//
// # Sources
//
// Explanatory Supplement to the Astronomical Almanac (1992), chapter 8; J. Meeus,
// Elements of Solar Eclipses 1951-2200 (1989), introduction; J. Meeus, Astronomical
// Algorithms (1998), chapters 11 and 54; all from memory. Definitions as the
// bulletins cited in testdata/references print them.
package eclipse
