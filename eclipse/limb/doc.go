// Package limb is the Moon's real edge before the Sun: second and third contact as they
// will be seen, and the light of the last seconds.
//
// Printed predictions have a smooth Moon about its centre of mass. The real one has
// mountains, and its figure sits half a second of arc off that centre. Under way over
// central eclipses that moves a contact by 2.2 s (rms; 7 at worst of 800) where it is
// total and by 6.4 s (24 at worst) where it is annular, and near the limits of a path
// it decides whether there is totality at all.
//
// # Libration
//
// The Moon keeps one face to the Earth, but nods: by 8 degrees in longitude, because it
// turns evenly and runs unevenly, and by 7 in latitude, because its equator is tilted (from
// memory). [Libration] says over which place of the Moon the observer stands, as seen from
// the site, and how the axis lies on the sky. In eclipses the latitude is next to nothing,
// since Sun, Moon, the node of its orbit and that of its equator are in one line. The
// libration says which mountains make the limb: one a degree from it, before or behind, has
// lost 265 m to the ground's curvature, one six degrees away 9.5 km.
//
// # Frames and signs
//
//	            north of the Moon's axis
//	                      |         P.A. of a place on the limb: at the
//	                  . - N - .     Moon's centre, from its axis through
//	               .'     |     '.  the sky's EAST, which lies left
//	              /       |       \
//	sky's east   E - - - -+- - - - W   sky's west
//	(the Moon's   \       |       /    (the Moon's east:
//	 west)         '.     |     .'      Mare Crisium)
//	                  ' - S - '
//
// Looking up, east is left, where on a map of the Moon it is right: on the sky east is
// the Moon's WEST. [Libration.Lon] and Lat are the Moon's own, positive to its east
// and north. Everything else here is the sky's: [Profile.Height] takes a position angle
// from celestial north, [Contact].OnMoon and [Profile.All] count from the Moon's axis,
// which is inclined to celestial north by [Libration.Axis], up to 25 degrees;
// [Figure].East is the sky's. P and V of a contact are those of package eclipse: from
// the Sun's centre, which is not the Moon's, so that they differ from the place on the
// limb by some degrees.
//
// # Profile
//
// [Profile] is the height of the limb at any position angle above the Moon that the
// elements' k2 stands for, about the centre of mass. It comes out of a grid of
// librations, half a degree by three tenths, made by marching over a map of the Moon
// from this side of the limb to beyond it; see Sources.
//
// # Contacts
//
// In the plane of the Moon a point p of its limb stands before the Sun's disc, whose
// centre s moves, while
//
//	|p - s(t)| < radius of the Sun's disc
//
// from one root of that to the other. Totality is when no point does: it begins when
// the last valley closes and ends when the first opens. A ring is closed when all
// points do: from the last peak inside the Sun's edge to the first that is out.
// [Moon.Contacts] solves it for all 1800 points. Names begin with Limb where
// eclipse.Circumstances has the smooth Moon's:
//
//	o, err := eclipse.NewObserver(elements, site, eclipse.Options{})
//	m, err := limb.NewMoon(o, limb.Options{})
//	smooth := o.Circumstances()    // C2, C3, Duration: to compare with what is printed
//	c := m.Contacts()              // LimbC2, LimbC3, LimbDuration: what will be seen
//	p := m.Profile(c.LimbC2.TT)    // the limb behind it
//	curve, err := limb.NewCurve(m, eclipse.CurveOptions{})
//	left := curve.Flux(c.LimbC2.TT - 5)
//
// # Figure
//
// One circle stands best for the limbs of all librations
// (TestMeanFigureAgainstAlmanacPractice): its centre lies 1.01 km towards the sky's east
// and 0.80 km south of the centre of mass, on the Moon's axes; that is 0.54 and -0.43
// arcsec at the mean distance, where almanacs took 0.50 and -0.25. Its radius is 0.27246
// Earth radii for light; contacts ask for 0.27219 in totals, where valleys count, and for
// 0.27273 in rings, where peaks do. With that circle contacts are right in the mean but
// still 1.8 s (total) and 2.4 s (annular) off each (rms): the rest is mountains. In partial
// phases mountains do not matter: the circle gives the light of the real limb to 0.0002 of
// itself, k2 about the centre of mass to 0.003. [Profile.Figure] is the same for one limb.
// The map's origin is the centre of mass and no shift is added to it.
//
// # Light
//
// [Curve] is eclipse.Curve with the real limb, by the same methods. In the logarithm the
// two differ by 0.7 (rms) in the last five seconds before a smooth second contact,
// wherever more than a hundred-thousandth is left, by 0.11 from 20 to 60 s, and by 0.003
// beyond ten minutes; about a ring by 0.02, because k2 is smaller than the Moon.
//
// # Accuracy
//
// Measured by the tests of this package:
//
//   - Libration in longitude within 0.025 degrees of 36 printed values. By another theory,
//     the rotation elements of the Moon's globe, longitude and axis within 0.01 degrees of
//     360 values, and latitude within 0.006 but for a constant, see Limits.
//   - Duration on the central line against the limb corrections of two bulletins, made
//     from Watts' charts: 2002 (total) within 0.6 s of 14 values, 1994 (annular) within
//     2.3 s of 22, where the smooth Moon is up to 1.1 and 12.9 s off.
//   - The path of 1994 is shifted by -0.63 arcsec, printed -0.63. All limits and durations
//     together: 0.20 arcsec rms; the bulletins state 0.3 for themselves, the smooth Moon
//     misses them by 1.11.
//   - A site close to the southern limit of 2001: 2.0 and 0.9 s from the contacts computed
//     for it with those charts, where the smooth Moon is 10 s off.
//   - A limb mirrored, upside down, without its axis' angle or with the libration's sign
//     turned misses at least two of these.
//   - Grid, bytes and interpolation against marching the map: 0.07 s rms (total), 0.09 s
//     (annular).
//   - Without mountains: the contacts of package eclipse to 0.5 ms, its light to 3e-6.
//   - Contacts against looking at every instant: 3 ms, near limits and in hybrids too.
//   - Light against summing up the disc: 1e-4, and 1e-3 of what is left two seconds before
//     totality. The table of a curve adds 2e-6, and 1e-3 of what is left until five
//     seconds before, 1e-2 after.
//
// What is left is the map's own resolution. A sample is 7.6 km wide. On the way from
// samples of 15 km contacts moved by 0.26 s rms (total; 0.16 s of it one way, totality
// longer with the finer map by a third of a second) and by 1.27 s (annular, 1.13 s of it
// one way: peaks come out higher, rings later and shorter). That much again must be
// allowed for, and the 0.9 s by which the rings of 1994 come out long at each end say the
// same. So, away from the limits: half a second for totals; for rings one to two seconds,
// and rather a later begin and an earlier end than computed. Near the limits the Sun's
// edge slides along the limb instead of closing on it, and the doubt grows as the speed
// falls: where the phase lasts half as long as on the central line it is double, where a
// third, treble, and a graze of some seconds may as well not take place.
// [Contact].TimeU does that sum; it is 0.3 s (total) and 1.3 s (annular) in the median.
//
// # Limits
//
// Three more things move a contact. The Sun's radius: 0.3 arcsec, by which measurements
// differ, are 0.5 to 1.3 s (total) or 0.6 to 1.8 s (annular), see [Options]. The site: a
// kilometre is up to two seconds. Delta T in the future. None is in TimeU. The elements
// must be those of the Moon's centre of mass, as package canon's are; some older
// publications moved it to the centre of figure, which would count twice here. The latitude
// of the libration is 0.022 degrees greater than on the map's mean-Earth axes, because
// the book's are those of inertia: 0.01 s in a contact (rms; 0.12 at worst of 1180), and
// more in a graze. Librations that no eclipse has are held at the grid's edge. Overhangs
// do not show in a limb given by its height. The Sun has neither spots nor chromosphere here.
//
// Whatever is computed: a contact is no signal to remove a filter or to put it back.
//
// # Cost
//
// The grid is 168 kB and unpacked once, in some milliseconds. Both contacts of a site
// take 0.1 ms and no allocation, a curve some 6 ms, and reading it 15 ns.
//
// # Sources
//
// Heights: product LDEM_4 of the data set LRO-L-LOLA-4-GDR-V1.0 of the lunar orbiter
// laser altimeter, planetary data archive; in the public domain, and so is the limb made
// from it. [Origin] has its SHA-256 and the command. Libration: J. Meeus, Astronomical
// Algorithms, 2nd ed. (1998), chapter 53, after D. H. Eckhardt, The Moon and the Planets
// 25 (1981) 3. Contacts and figure: by definition. Checks: NASA RP 1301 and NASA/TP-2001-209990,
// tables 6, on C. B. Watts, Astronomical Papers of the American Ephemeris 17 (1963).
package limb
