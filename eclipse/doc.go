// Package eclipse says what an eclipse of the Sun does at one place on the Earth.
//
// # Besselian elements
//
// F. W. Bessel's idea is to look at the Moon's shadow instead of at Sun and Moon.
// Lay a plane through the Earth's centre, at right angles to the shadow's axis,
// with x to the east, y to the north and z towards Moon and Sun. In it the shadow
// moves almost in a straight line, and a few polynomials in time say everything:
//
//	x, y        where the axis pierces the plane, Earth equatorial radii
//	d, mu       declination of the axis and its Greenwich hour angle, degrees
//	l1, l2      radii of penumbra and umbra in the plane; l2 < 0 where it is total
//	f1, f2      half-angles of the two cones
//
// [Elements] holds them. An [Observer] is a site in that frame, (xi, eta, zeta);
// the eclipse begins when its distance from the axis equals the penumbra's radius
// at its height, and so on:
//
//	e, _ := catalogue.On(day)                     // package eclipse/canon
//	o, err := eclipse.NewObserver(e, sun.Site{Lat: 36, Lon: -5.6}, eclipse.Options{})
//	c := o.Circumstances()                        // contacts, angles, depth
//	a := o.Aspect(c.Max.TT)                       // the two discs at an instant
//	curve, err := eclipse.NewCurve(o, eclipse.CurveOptions{})
//	left := curve.Flux(c.Max.TT)                  // light left, as a fraction
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
// the site and k1 elsewhere, the other radius of the pair being converted.
//
// P is a position angle on the Sun's limb from north through east and V the same
// from the zenith; both point from the Sun's centre to the touching point, at
// maximum to the Moon's centre. Altitudes are those of the Sun's centre without
// refraction. Which Sun counts as up is the caller's choice ([Horizon]).
//
// Times are Terrestrial Time inside; each [Contact] gives UTC, and UT = TT -
// Delta T as the almanacs print it.
//
// # Accuracy
//
// With a bulletin's own elements and Delta T its contacts are met within 0.06 s
// (NASA RP 1398, 39 instants), with the almanac service's within 0.3 s. The
// catalogue in eclipse/canon adds less than 0.01 s. What remains is the world:
// the Moon's mountains (seconds; package eclipse/limb), Delta T in the future,
// the site's own coordinates (a kilometre is up to two seconds).
//
// # Sources
//
// Explanatory Supplement to the Astronomical Almanac (1992), chapter 8; J. Meeus,
// Elements of Solar Eclipses 1951-2200 (1989), introduction, both from memory;
// definitions as the bulletins cited in testdata/references print them.
package eclipse
