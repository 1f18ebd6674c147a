// Package rehearsal is a made-up logger: it writes the log that a real one would
// have written, and keeps the truth beside it.
//
// An eclipse cannot be repeated, so the whole chain is tried on a log that was
// never measured, before the day; and a fit's uncertainty is only worth
// something if the truth lies inside it as often as it says, which takes
// hundreds of logs whose truth is known.
//
//	log, err := rehearsal.Make(ctx, rehearsal.Plan{Elements: e, Site: site, Offset: 31.4, Seed: 1})
//	for _, s := range log.Samples { ... }   // stamps as the logger writes them
//	log.Truth.Offset                         // what the fit should find
//
// # No inverse crime
//
// A log made with the very model that is then fitted proves only the algebra. So
// nothing here is what package eclipse/fit assumes: the Sun's limb darkens by
// another law, drawn anew for each log; the sky has its own air mass formula,
// extinction, sky light and slow haze, on a sensor that is tilted and sees low
// light badly; totality is lit unevenly from both sides; the response bends; and
// cloud comes in six kinds of weather ([Weather]) that the fit is not told.
//
// # Limits
//
// The Moon is smooth. The clouds are statistics, not pictures: shadows with soft
// edges, decks that drift, restless haze. Everything follows from the seed: the
// same plan gives the same log on every machine of the same arithmetic.
//
// All data that come out of here are invented, and the written log says so.
package rehearsal
