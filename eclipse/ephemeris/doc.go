// Package ephemeris makes Besselian elements from the places of Sun and Moon.
//
// # The idea
//
// An ephemeris says where Sun and Moon are; an eclipse is about their shadow.
// Take the vector from the Moon to the Sun: the shadow's axis lies along it.
// Turn everything so that this axis points at you and lay a plane, the
// fundamental plane, through the Earth's centre at right angles to it, x to the
// east and y to the north. Then the Moon's own x and y are those of the axis,
// its z is the height of the cones' source, and two right-angled triangles give
// the cones. With S the Sun's radius and G the distance of Sun and Moon, all in
// Earth radii,
//
//	sin f1 = (S + k1)/G          l1 = z tan f1 + k1 sec f1
//	sin f2 = (S - k2)/G          l2 = z tan f2 - k2 sec f2
//	d, a   = declination and right ascension of the axis
//	mu     = sidereal time at Greenwich - a
//
// [Cast] does this for one instant. Over an eclipse's seven hours each of these
// quantities is nearly straight, so that a polynomial of low degree in hours
// says all: [Reduce] draws them by least squares, in Chebyshev polynomials so
// that the equations stay well-conditioned, and [Compare] says in metres how
// far elements stray from positions.
//
// # Use
//
//	var src ephemeris.LowPrecision                        // or a Table, or your own Source
//	day := timescale.FromJulianDate(2519679.5, 0)         // some day near new Moon
//	r, err := ephemeris.Find(src, day, ephemeris.Options{})
//	if err != nil { ... }                                 // ErrNoEclipse: the shadow misses
//	fmt.Println(r.Elements.Date, r.Residual.Largest())
//	o, err := eclipse.NewObserver(r.Elements, site, eclipse.Options{})
//
// [Eclipses] walks through all eclipses between two instants:
//
//	for r, err := range ephemeris.Eclipses(ctx, src, from, to, ephemeris.Options{}) { ... }
//
// To use positions of your own, fill a [Table] or write the two methods of a [Source].
//
// # Frames and signs
//
// Right ascensions, declinations and sidereal time are apparent, on the true
// equator and equinox of date, in degrees; distances are light paths in km.
// Time is TT. Sidereal time is what it would be if UT1 were TT; whoever applies
// the elements at a site takes off the Earth's turn in Delta T. So no forecast
// of the Earth's rotation enters here. A catalogue that uses mean sidereal time
// (the Five Millennium Canon does) differs in mu by the equation of the
// equinoxes, up to 0.005 degrees.
//
// # Accuracy
//
// Reduction: over the 452 eclipses of 1901-2100 and 3.5 h either side the
// polynomials of degree 6 in x and y, 3 in d, l1 and l2, 2 in mu and 1 in the
// tangents stay within 0.05 m of the positions in the place of the axis, 0.04 m
// in direction and 0.05 m in the radii (TestReduceFollowsPositions), a
// thousandth of a second. The almanacs' cubics with constant tangents miss by
// up to 1.4 m.
//
// [Table]: a row left out of half-hourly rows comes back within 2e-9 degrees and 0.2 m.
//
// [LowPrecision] against JPL DE431, over the same 452 eclipses and 1000 sites a
// piece all over the Earth (TestLowPrecisionStudy):
//
//	                                    rms      95 %      worst
//	greatest eclipse, s                12.6      24        34
//	gamma                               0.00036   0.0007    0.0012
//	greatest magnitude                  0.0004    0.0009    0.0023
//	C1, maximum, C4 at a site, s       13.5      27       104
//	C2, C3 at a site, s                13.5      27       106
//	C1, C4 where magnitude < 0.1, s    20        39       463
//	magnitude at a site                 0.0008    0.0016    0.004
//
// The worst are where gamma decides, a grazing penumbra or the edge of a path,
// which lies 2 km (rms) and up to 8 km elsewhere. The Moon is off by 3.1 arcsec
// in right ascension and 1.5 in declination, the Sun by 4.6 and 1.4 (rms).
//
// No eclipse is missed, none invented, and none is of another type
// (TestEclipsesAreThoseOfTheCatalogue); over 1000-2999 the 4772 eclipses are
// those of a published series for new Moons (TestEclipsesAgainstChapter54).
//
// LowPrecision says so in Elements.TimeU, 13.5 s, which grows away from 2000 as
// the theory's Moon falls behind the real one: in 1715 it is 21 s, in 1000 three
// minutes. Elements pass it on to Circumstances.TimeU, which adds Delta T's: the
// uncertainty of each contact's UTC. In 1715 that is 4 s, in 1000 one minute; in
// 2100 it is 71 s, and for times to come the larger doubt.
//
// # Limits
//
// The Moon is a sphere about its centre of mass; light is not bent by the Sun or by air.
// LowPrecision runs from 1000 to 3000. Dates are Gregorian at any time: Elements.Date of
// Halley's eclipse is 1715-05-03, where London wrote April 22. Places in wrong units are
// refused, places of a wrong frame cannot be.
//
// # Sources
//
// Explanatory Supplement to the Astronomical Almanac (1992), section 8.3. J.
// Meeus, Astronomical Algorithms (2nd ed., 1998), chapters 22, 25, 47 and 54.
// J.-P. Berrut and L. N. Trefethen, Barycentric Lagrange Interpolation, SIAM
// Review 46 (2004). NASA/TP-2006-214141 for the lunar radii.
package ephemeris
