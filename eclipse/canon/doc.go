// Package canon is the catalogue of all 452 solar eclipses from 1901 to 2100, as
// Besselian elements.
//
//	c, err := canon.Load()
//	e, err := c.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
//	o, err := eclipse.NewObserver(e, site, eclipse.Options{})
//
// [Load] unpacks the embedded file once. [Catalogue.On] finds the eclipse of a
// day, one day either side included, since an eclipse near midnight has another
// date elsewhere; a day without one is a *[NoEclipseError] that names the eclipses
// before and after. [Catalogue.All] walks them in order of time.
//
// # How it is made
//
// The elements are fitted by package eclipse/ephemeris to apparent places of Sun
// and Moon from JPL's DE431, reduced by the IAU standard routines, over three and
// a half hours either side of the eclipse: degree four in x and y, three in d, l1
// and l2, two in mu, and the cones' tangents as straight lines. go generate runs
// the generator, internal/gencanon, on the positions kept beside it; the same input
// gives the same bytes, and a test compares them. The lunar radii are k1 =
// 0.272488 and k2 = 0.272281.
//
// # Accuracy
//
// The polynomials stay within a metre of the positions, which is a millisecond of
// the shadow; the tests say by how much. Contacts agree with the printed tables in
// testdata/references within 2.5 s, most of which is the older ephemerides and the
// lunar radii of those tables. The Moon is its centre of mass, and smooth.
//
// # Sources
//
// JPL DE431 (W. M. Folkner et al., IPN Progress Report 42-196, 2014, from memory);
// IAU 2006/2000A by ERFA; F. Espenak & J. Meeus, NASA/TP-2006-214141, for the counts
// and types that the tests compare.
package canon
