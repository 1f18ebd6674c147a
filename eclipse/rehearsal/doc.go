// Package rehearsal is a made-up logger: it writes the log that a real one would
// have written, and keeps the truth beside it.
//
// An eclipse cannot be repeated. So the whole chain, from the card to the result,
// is tried before the day on a log that was never measured; and since an
// uncertainty is worth something only if the truth lies inside it as often as it
// says, a fit is tried on hundreds of logs whose truth is known.
//
//	plan := rehearsal.Plan{Elements: e, Site: site, Offset: 31.4, Weather: rehearsal.Haze, Seed: 1}
//	log, err := rehearsal.Make(ctx, plan)
//	for _, s := range log.Samples { ... } // stamps and counts as the logger has them
//	_, err = log.WriteTo(file)            // or the file itself, damage and all
//	fmt.Println(log.Truth.Offset)         // what a fit should find
//
// [Class.Draw] makes up a plan from a seed, for studies of many.
//
// # How the counts come about
//
// With x the seconds of true time from the predicted maximum, the light on the
// sensor is
//
//	E(x) = (S(x) F(x) + B(x) (1 - F(x))) exp(-tau(x))
//
// S is the sky without eclipse: sunlight of 133.3 klx above the air through an air
// mass of Kasten's older formula, on a sensor tilted by up to 20 degrees whose
// response to slanting light is no cosine, and a sky part. F is the visible part of
// the Sun's light, evaluated at each instant from the two discs. B is what is left
// in totality, 1 to 15 lx and uneven from one side to the other. tau is the
// weather: haze that wanders over half an hour to three hours by 0.5 to 5 %, and
// above it one of seven kinds ([Weather]).
//
// The counts follow E through the real parts, which differ from the described ones
// within their own tolerances and lose up to 8 % in full light, with relative
// scatter, counting noise, rounding to the logger's step, clipping at the rails
// and a wild value now and then. The clock shows
//
//	stamp = UTC + Offset + 3600 ZoneHours + DriftPPM 1e-6 x
//
// and a record is taken whenever it shows a whole multiple of the cadence, so that
// stamps are whole seconds and the instants between them are not.
//
// # No inverse crime
//
// A log made with the very model that is then fitted proves only the algebra, and
// flatters. So nothing here is what package eclipse/fit assumes, and that package
// is not told: the limb darkening is another law at another colour, or a mixture
// of two, for each log; the sky has its own formulas; the haze is a random walk
// and not a polynomial; the response bends; totality is lit unevenly; the clouds'
// lit flanks brighten the light beside their shadows. [Plan].Plain takes all that
// away again and leaves the inverse crime, with white noise: for comparison with
// what theory allows, and for nothing else.
//
// # Accuracy
//
// The light passes the Moon's real edge, as package limb has it. A Plain log follows the
// prediction's own curve to 1e-7 of the full light (measured over 40 drawn plans, every
// 7 s; the tests repeat it). Beyond that accuracy is not the point: the truth is what
// it was made to be.
//
// # Limits
//
// The Moon's edge is the prediction's too, since there is but one map of it here: what
// the map is wrong by is in no log. The clouds are statistics, not pictures: soft-edged
// shadows at random instants, decks that drift. Light from all of the sky is
// dimmed as the Sun is. The lag is a delay, not a filter. The same plan gives the
// same log, bit for bit, on machines whose compiler fuses the same multiplications
// and additions; elsewhere a count in some thousands may round the other way.
//
// All data that come out of here are invented, and the written file says so in its
// first line.
//
// # Sources
//
// F. Kasten, Arch. Met. Geoph. Biokl. B 14 (1965) 206 (air mass). S. Darula, R.
// Kittler & C. Gueymard, Solar Energy 79 (2005) 559 (sunlight above the air). G. E.
// Uhlenbeck & L. S. Ornstein, Phys. Rev. 36 (1930) 823 (the random walk with a
// memory). D. Hestroffer & C. Magnan, A&A 333 (1998) 338, and H. Neckel & D. Labs,
// Solar Physics 153 (1994) 91 (limb darkening). Ranges of extinction, tilt, cloud
// and noise are common practice, no source.
package rehearsal
