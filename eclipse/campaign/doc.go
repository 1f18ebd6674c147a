// Package campaign puts many stations of one eclipse on one footing.
//
// A station's report comes down to a [station.Summary] of some kB, and a [Campaign] is a
// set of those. Sets are joined by [Campaign.Merge], and since a union knows no order, a
// thousand machines may make summaries in any order and any grouping, twice if they must,
// and a laptop comes to the same result bit for bit: all arithmetic is
// [Campaign.Pool]'s, which runs through the set in the order of its keys.
//
//	var c campaign.Campaign
//	for out := range campaign.Reduce(ctx, jobs, campaign.ReduceOptions{}) {
//		if out.Err != nil {
//			log.Print(out.Err) // that station alone
//			continue
//		}
//		err := c.Add(out.Summary)
//	}
//	r, err := c.Pool(elements, eclipse.Options{})
//
// # What the stations say together
//
// The light against obscuration ([Result].Curve): each station has one voice, its own
// median, in each narrow range of obscuration; the median and the 16 and 84 % quantiles are
// those of the stations. The light is what the readings stand for by the response that each
// log's fit found, so that the curve shows weather and what no fit takes up, not the sensors.
//
// The clocks ([Result].Shared, [Member].Own): what all stations have in common whose clock
// was set by a network or a satellite is a property of the devices, a lag or a habit of
// stamping; what is left is each one's own. The common value is the mean of those that are
// no outliers, with a spread between stations that is estimated along (DerSimonian & Laird
// 1986).
//
// The shadow's speed ([Sweep]). From stamps as they are: a stamp that the fit has put
// right would only give back the prediction. Let T be the instant of maximum and x, y the
// ground, east and north. The front of equal T is a straight line over some hundred
// kilometres,
//
//	T = T0 + gx x + gy y
//
// and its gradient g is all that times can tell. How the front lies to the shadow's way
// is geometry: in the plane square to the shadow's axis the front is square to the motion,
// and a step on the ground towards the Sun's azimuth counts in that plane by the sine of
// the Sun's altitude, a step across in full. With k the gradient in that plane, the
// shadow's velocity there is k/|k|^2, and it is carried down to the ground again in the
// same way. So the Sun's place alone turns a front into the motion of the axis. How the
// front bends over the stations' area, which a plane cannot have, is taken from the elements.
//
// The Moon's distance ([MoonDistance]), as Hipparchus had it in the second century before
// Christ from an eclipse that was total at the Hellespont and left a fifth of the Sun's
// diameter at Alexandria. The farther a station lies to one side of the shadow's way, the
// farther the Moon's centre passes from the Sun's, seen from there: by an angle that is the
// distance across over the Moon's, less the same over the Sun's. The separation is told by
// how long totality lasted, a chord of a known circle, or from how much light a calibrated
// sensor had left at maximum. The angular radii are the elements'; Hipparchus had half a
// degree.
//
// The Sun's limb darkening is the mean of the stations that tell it.
//
// # Outliers
//
// The rule is [Rule]: more than 3.5 deviations (Iglewicz & Hoaglin 1993) from the weighted
// median, where a deviation is the station's own uncertainty in quadrature with 1.4826
// times the median distance from that median. So a station that knows that it does not
// know is none. Clocks are held against the other trusted clocks, light against
// the pooled curve, the exponent of a calibrated sensor against one. An outlying clock is
// left out of the shared offset and the shadow's speed, and a station whose light speaks for
// another place than it names (its summary's Misplaced) out of that speed and the Moon's
// distance; nothing else leaves anything out.
//
// # Kept apart
//
// Two summaries of one code are two stations, numbered, and a warning names them; summaries
// of another eclipse are counted by day ([Result].Apart); a station whose clock was refused is
// in the table and carries no figure. Each figure says how many stations carry it, and
// [Result].Untold says why there is none.
//
// # Accuracy
//
// With right stamps the speed is within 1 % of the axis' own along the central line, and
// the heading within half a degree, where the stations lie within half a degree of it, but
// near sunset, where the shadow speeds up by a tenth meanwhile
// (TestSweepAgainstTheCentralLine). Over 200 sets of ten scattering clocks the 95 % intervals of
// speed, heading and shared offset hold the truth in 95 % or more (TestSweepCoverage). With
// right depths the Moon's distance comes out within a thousandth
// (TestMoonDistanceOfRightDepths).
//
// # Limits
//
// Rounded sites, 0.01 degrees unless somebody asked for more, put a second or so into every
// stamp; it is in the uncertainty. A [Campaign] keeps its summaries in memory, 4 kB each.
// The stations' light is not independent of the prediction that their fits were made with.
//
// # Sources
//
// R. DerSimonian & N. Laird, Controlled Clinical Trials 7 (1986) 177; B. Iglewicz
// & D. C. Hoaglin, How to Detect and Handle Outliers (1993); Hipparchus' method as Pappus
// hands it down, from memory.
package campaign
