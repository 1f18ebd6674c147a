// Package dips finds the passages of a ball before a lamp in the readings of a light sensor.
//
// An eclipse can be rehearsed on a table: a lamp is the Sun, a ball on a thread the Moon,
// and the logger records what it will record on the day. No lux, no calibration and no
// eclipse are needed; all that a log must show is a level, and the ball's shadows in it.
//
//	found, err := dips.Find(ctx, readings, dips.Options{})
//	for _, d := range found.Dips {
//		fmt.Println(d.Start, d.Least, d.End, d.Depth, d.Shape)
//	}
//
// # What is a passage
//
// Lamps are not steady. They warm up, age, flicker at twice the mains frequency, sag with the
// mains and drift; people come, lean across and switch things. A passage goes down and comes
// back, and that sets it apart: a step is a fall on one side only, a drift
// falls on one side and rises on the other. So three windows of equal width slide along the
// readings, and what counts is by how much the middle one lies below the lower of its two sides.
// Widths run from three readings to half an hour in ratios of 1.4, so that any duration
// meets one near its own.
//
// How much is much is asked of the log itself. Noise goes up as often as down, of whatever colour
// it is, and shadows only go down: the scatter is read from where the middle window lies above
// both its sides, at the same width and nearby. A flicker that beats slowly with the
// cadence thus raises the bar at the widths at which it beats, and at no others. A lone wild
// reading is replaced by the middle one of three before anything else.
//
// What stands out is then measured, and may be set aside with a Reason: the level beside it has
// changed (Step); both edges are as sudden as a switch (Switched); an edge is missing (Cut). A
// lamp that is off for fewer than 25 readings, or a person who walks past, makes the same readings
// as a ball, and is reported as one.
//
// # Instants and depth
//
// Start is where the ball begins to touch the lamp as seen from the sensor, End where it
// leaves it, Least the instant of least light. A form is fitted by least squares: a level
// straight in time, and an edge that goes in and one that goes out, each after the area of
// a disc that a straight edge covers,
//
//	c(x) = (acos(1-2x) - 2(1-2x) sqrt(x(1-x)))/pi    0 <= x <= 1
//
// times each other. The uncertainties hold the scatter of the readings, with its memory,
// the interval between them, a gap at an edge, how far the level beside wanders, and 5 % of
// an edge's length for a ball that is no straight edge and a lamp that is not evenly
// bright. A logger that means over its cadence, or stamps the end of it, is late or early
// by as much on top of that.
//
// Depth is the part of the light that was taken, (base - bottom)/(base - dark). Readings
// that rise as the light falls are understood as 1/light where Options.Dark is zero: 1 -
// base/bottom. For a reading that is no straight line in light neither is the light's own
// depth. A room with light of its own makes every dip shallower; cover the lamp once and
// give Options.Dark.
//
// # Accuracy
//
// Measured on a bench of the tests' own, with round balls before round, limb-darkened and lopsided
// lamps, drift on five time scales, flicker, spikes and rounding (TestPassages, TestNoFalseDip,
// TestDetectionRate; the long runs are those of NOONFALL_BENCHES=1):
//
//   - False alarms: 2 in 360 days of nine kinds of unrest, 40 of each: one from a flicker by a fifth of
//     the light that happened to wander over minutes, one from two steps that made a trough. The
//     other 280 days gave none, so that by the binomial bound they give fewer than one in 93 days.
//     Without the two the strongest chance dip of a day, with no least depth, stands out by
//     3 to 5, and the threshold is 6.
//   - Found of a hundred passages that last 5, 20 and 60 readings: 99 with a depth of 10, 5 and 3
//     times the noise of a reading. Of depths from a sixth on under 1 to 2 % of noise, at one
//     or ten a second or one in ten seconds, at thirty counts, at uneven stamps, in a lit
//     room, as a pendulum of four seconds: all but one of 13,000; with a flicker of 5 %, 98 %.
//   - Error bars: the intervals of 1.96 U hold the truth in 97 to 100 % for Start, Least and End,
//     and in 95 to 99 % for Depth, in each of fourteen kinds of bench with a thousand passages
//     each. They err on the safe side: those of the instants hold what the shapes of balls and
//     lamps, and how a logger takes its readings, leave open.
//
// Depths below MinDepth are not looked for: lamps make them by themselves.
//
// # Limits
//
// A pendulum that is before the lamp for half of the time cannot be told from a flicker. A
// flicker by a large part of the light that beats over minutes, never twice the same, can pass
// for a dip. Readings of one stamp are averaged: a log with ten readings to a stamp of whole
// seconds has one a second. A passage that is longer than a fifth of the log may not be found.
//
// # Sources
//
// The three windows and the scatter from the other side are common practice, no source; the
// area of a circle's segment is school geometry. JCGM 100:2008 (GUM) for what is added and
// squared. Nelder and Mead's simplex, Computer Journal 7 (1965) 308, searches for the form
// (gonum).
package dips
