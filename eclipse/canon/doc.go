// Package canon is the catalogue of all 452 solar eclipses from 1901 to 2100, as
// Besselian elements.
//
//	c, err := canon.Load()
//	e, err := c.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
//	o, err := eclipse.NewObserver(e, site, eclipse.Options{})
//	local := o.Circumstances()
//	fmt.Println(local.Seen, local.Max.UTC)
//
// [Load] unpacks the embedded file once. [Catalogue.On] finds the eclipse of a
// day, one day either side included, since an eclipse near midnight has another
// date elsewhere; a day without one is a *[NoEclipseError] that names the eclipses
// before and after. [Catalogue.All] walks them in order of time.
//
// # What a site sees
//
//	list, err := c.SeenFrom(site, from, to, canon.Options{})
//	for s := range list { fmt.Println(s.Elements.Date, s.Circumstances.Seen) }
//	next, err := c.Next(site, time.Now(), canon.Options{Kind: eclipse.Total})
//
// [Catalogue.SeenFrom] lists the eclipses of which a site sees anything in a span of
// time, [Catalogue.Next] and [Catalogue.Last] step from an instant; [Options] ask for a
// kind, a depth, another horizon, or for what happens below it too. An eclipse counts at
// its deepest instant with the Sun up. A [Sighting] is the eclipse with all its
// circumstances at the site; a catalogue that runs out is a *[NotSeenError].
//
// Every eclipse in reach is computed, none is sifted out beforehand. A scan of the
// aspect every two minutes, at 96 places with the poles and the belts of midnight Sun
// among them, finds none that the lists lack.
//
// # Frames and time
//
// What the numbers of an element set mean, frames, units and signs, is told by
// package eclipse. Time is TT, counted from T0, the whole hour nearest to
// greatest eclipse. The hour angle mu is what it would be if UT1 were TT, from
// apparent sidereal time; the Earth's real rotation comes in with the
// observer's time scale, so that the catalogue does not age with the forecast
// of Delta T. Elements.DeltaT is this library's own value at T0, for
// information. The lunar radii are k1 = 0.272488 and k2 = 0.272281; others by
// Elements.WithRadii.
//
// # How it is made
//
// The elements are fitted by package eclipse/ephemeris to apparent places of Sun and Moon
// from JPL's DE431, reduced by the IAU standard routines, over three and a half hours
// either side of the eclipse: degree six in x and y, three in d, l1 and l2, two in mu, and
// the cones' tangents as straight lines. go generate runs the generator, internal/gencanon,
// on the positions kept beside it; the same input gives the same bytes, and a test compares
// them. [Catalogue.Provenance] names the command and the input's SHA-256, which also stand
// at the head of the file. Coefficients are rounded to 1e-11 Earth radii and 1e-10 degrees,
// a decimal more for each power of an hour. On a processor that fuses multiplication and
// addition (amd64 does not) the last of these digits may come out one higher or lower here
// and there.
//
// # Accuracy
//
// All figures are those of the package's tests.
//
//	polynomials against the positions      0.05 m at worst, of 452 eclipses
//	contacts against a direct topocentric  0.0021 s at worst of 4242 contacts at 4000 places:
//	computation from the same positions    paths, grazes, beyond 80 degrees, both sides of 180,
//	                                       poles, to 9 km, Sun rising or setting; 0.008 s where
//	                                       all is over in 200 s; none lost, none invented
//	magnitude and obscuration, the same    7e-8
//	P and V                                0.0005 degrees; 0.006 with the centres half a second apart
//	altitude, azimuth                      3e-7 degrees
//	least separation, least distance       0.004 s, 0.001 s
//	from the axis
//	distance to the central line           0.01 km to 100 km, beyond 0.1 per cent
//	rise and set                           0.002 s; 0.6 s where the Sun turns within 0.001
//	                                       degrees of the horizon; none of 1400 there missed
//	edge of either shadow                  0.04 m
//	kinds at 60,000 places and eclipses    all as the discs themselves show
//	contacts against printed tables        0.2 s (NASA RP 1398), 0.3 s (USNO); their
//	                                       ephemerides, sidereal time and rounding
//	axis against DE405, DE200, and the     7e-6, 2e-5 and 1.3e-5 Earth radii; up to 1.3e-4
//	Canon's VSOP87/ELP2000-82              against elements made with ELP2000-85
//	types and counts of both centuries     all as in NASA/TP-2006-214141
//
// The positions themselves are good to 0.02 s, which Elements.TimeU says.
//
// # Limits
//
// The Moon is smooth, a sphere about its centre of mass; its mountains move second and
// third contact by seconds (package eclipse/limb). The polynomials hold for 3.5 h either
// side of T0, which is as long as any penumbra touches the Earth (but for half a minute in
// 1908), and mean nothing beyond. Dates outside 1901-2100 are for package
// eclipse/ephemeris.
//
// # Sources
//
// JPL DE431 (W. M. Folkner et al., IPN Progress Report 42-196, 2014, from memory);
// IAU 2006/2000A by ERFA; F. Espenak & J. Meeus, NASA/TP-2006-214141, for the counts
// and types that the tests compare.
package canon
