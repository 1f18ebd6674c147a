// Package fit finds out from the light alone how wrong a logger's clock was.
//
// During an eclipse the Sun is a clock: the light falls and rises again by a
// curve that is known to a fraction of a second. A log of readings, in whatever
// unit, laid over that curve gives the offset of its stamps:
//
//	r, err := fit.Clock(ctx, samples, curve, fit.Options{})
//	if no, ok := errors.AsType[*fit.Refusal](err); ok {
//		fmt.Println("cannot tell:", no.Reason, no.Detail)
//	} else {
//		fmt.Println(r.Offset, r.CI95) // s, positive where the clock is fast
//	}
//
// # Model
//
// With y the logarithm of a reading and L that of the predicted light,
//
//	y(t) = f(L(t - offset)) + sky(t) + error
//
// f is the sensor's response: a power of the light, bent where the log shows it.
// Further terms, each with a prior, are what may be wrong with the prediction:
// the residual light in totality, limb darkening of another colour and of another
// kind, a sensor that leans or answers slanting light in its own way, and the day's
// extinction. The sky's slow course is a level and a slope that wander (a local
// linear trend), and so does what the light model gets wrong with every e-fold of
// light. Given the offset all of it is linear: the coefficients are
// integrated out and the offset's probability is read from what is left
// (generalised least squares, whitened by a Kalman filter). Readings of a few
// counts are taken in the linear scale, with the noise that a value of the
// predicted size has. How large each kind of noise is, the log says, and it is
// integrated over: in white noise nothing else is left, and under a restless sky the
// interval is that sky's. Other shifts within ten minutes, at which a cloudy log may look
// like the eclipse as well, count by their probability; and so does, where the log hardly
// tells, that clocks are right to ten minutes or to as much beside some zone's.
//
// # Sensors
//
// Nothing has to be known of the sensor. What the sky does comes through it: one that is dull in
// full light shows a haze that comes most about maximum, so the sky's noise goes by the slope of
// the response at each reading. Samples at a rail are bounds: they count as eclipse that is seen,
// and refuse a shift that would leave them for minutes in less than half of the light that fills
// the sensor. Half an hour below it, about maximum, is enough. Rounding that nothing dithers is
// not averaged away. Readings that fall as the light grows, as over a photoresistor at the bottom
// of its divider, are found to do so and turned round (Response.Falling). Those that go by the
// logarithm of the light, as an amplifier's with a diode in its feedback, serve in a total or an
// annular eclipse and in a deep partial one under a clear sky; shallower or through haze they are
// mostly refused, for what answers to light with less than a fifth of its power may be anything:
// make light of them first. [Channels] fits two sensors of one logger.
//
// # Cloud
//
// Passing cloud is a third state that forgets itself within minutes. How much it
// moves is measured minute by minute from second differences of the residuals, so
// that a rough stretch has little to say; an isolated edge frees the level at its
// steps and beside them, the longer the slower it is. Second and third contact under
// moving cloud say nothing, nor do those of a ring under any, and minutes that lose a fifth of
// the light to cloud count as restless, however smooth they look. Weights are fixed before the
// offset is varied: weights that follow it reward hiding what does not fit.
//
// So what is taken for the edge of a cloud depends on the offset that it is looked for at, and
// the two may agree on something wrong. Where there is cloud the fit begins anew from either
// side, and the account that explains the log best is kept. The interval is widened by how much
// the log's stretches disagree among themselves about the offset, by the part of the eclipse
// under cloud, and by what of the knowledge was read through it; and how far the other accounts
// are, each by its probability, is added to it. Spans of cloud or shade are
// reported in true UTC, with their depth.
//
// # What the offset means
//
// Stamp minus true UTC at the predicted maximum. Light cannot tell the clock from
// what delays the light in the logger, the sensor's lag and half the averaging
// window: the offset includes them. Hours and quarters of a clock left on local
// time are searched, over 15 h either way, and named (Result.ZoneH). Options.Drift asks
// for the clock's rate as well, and [Segments] for the offsets before and after a clock was
// moved back, as the stamps show.
//
// A clock that is set forward, or back by less than the cadence, leaves an interval between
// two stamps that is odd beside its neighbours and may as well be a pause. Each in which a
// move of that size would matter is put to the light: what it explains to move the later stamps
// back, under the noise of a clock that was not moved and of one that was. Where that is
// overwhelming, the log is fitted so, and the offsets before and after are in Result.Segments;
// where the light cannot tell, the interval is stretched over both. Either way a warning says so.
//
// # What else the light tells
//
// The contacts, each from its own minutes ([SeenContact]); the sensor's exponent; and, where
// the caller vouches for the response, how dark the Sun's limb is ([Darkening]).
//
// # Refusals
//
// A log that cannot tell gives a [Refusal], with one of the [Reasons]: too few samples, not
// visible here, night, a lamp, a covered sensor, the log ends before it can tell, cloud
// throughout, a dip that no shift matches, and so on. An eclipse is believed where it
// explains the log better than a plain day by 12 squared deviations, or by 60 and against
// a plain day under its own noise where the clock would be wrong by hours, more of
// either under cloud, and where the sky would have to bend as none does. What leaves a
// quarter of an hour either way is no answer.
//
// # Accuracy
//
// TestCoverage counts over rehearsed logs, whose truth is made with other limb
// laws, skies and responses and a Moon whose edge is not where it is thought to be
// (package eclipse/rehearsal), how often the interval holds the truth:
//
//	                               total              annular            deep partial       shallow partial
//	clear                          98% +-0.7 s        96% +-3.8 s        96% +-22 s         96% +-122 s
//	thin cloud, restless           97% +-1.1 s        97% +-29 s         98% +-107 s        98% +-348 s
//	cirrus, patchy on every scale  99% +-2.2 s        99% +-66 s         98% +-123 s        94% +-316 s
//	a few cumulus                  98% +-0.9 s        98% +-5.5 s        98% +-43 s         98% +-198 s
//	broken cumulus                 97% +-13 s         100% +-250 s       93% +-261 s        0/500 fitted
//	cloud over maximum only        97% +-8.3 s        94% +-100 s        97% +-140 s        99% +-219 s
//	overcast, thick                98% +-2.9 s        93% +-50 s         96% +-187 s        94% +-436 s
//	a wall or tree                 97% +-0.9 s        97% +-5.1 s        96% +-35 s         97% +-234 s
//	Sun rising or setting          97% +-2.1 s        98% +-4.1 s        94% +-66 s         98% +-278 s
//
// What is wanted: 92 to 98 % under a clear sky, 92 % or more in any other, with a median
// half-width of at most three times the errors' standard deviation; it is 2.95 at most. Against
// 1.4826 times the median error it is more in seventeen classes, four to seven under broken
// cloud: a log there cannot know that it is one of the good ones. TestNulls has 26 kinds of
// log without an eclipse: one of 5200 is fitted. TestEfficiency has white noise under the
// fit's own sky, nuisances drawn from their priors: the errors are 0.85 to 1.14 times the bound of
// Cramer and Rao as Van Trees has it for what is drawn. .ci/long runs all
// three at length.
//
// A [limb.Curve] has the Moon's real edge, and is to be preferred. With a smooth one
// the median error of a total eclipse is 1.3 s, for which LimbU is added. What the real
// limb's heights leave open is added too, and named in Result.LimbU.
//
// # Limits
//
// In broken cloud, with a low Sun or in a shallow partial eclipse the interval is
// minutes wide or the log is refused. A bank of cloud whose edges lie by chance where the
// eclipse would have its own, in a total eclipse read every half minute, can move a clock by
// minutes: one such log in some hundreds.
//
// What looks like this eclipse is taken for it. Of made-up logs with a shadow as round and
// about as long as the eclipse, within ten minutes of its time, 17 in a hundred are fitted;
// of another eclipse's logs moved to within ten minutes of this one 30, of those at their own
// hour of the day 16 (TestStrangers). A sensor that leans, or answers light in a way of its own,
// makes an eclipse look like another one: under a clear sky one partial eclipse in sixteen is
// refused for it. The rate of a clock is told to half a per cent at best: half a minute in an
// hour and a half.
//
// A clock that is moved in mid-eclipse without a step back in the stamps is looked for in odd
// intervals of two seconds to ten minutes, as one move by all of what is odd. Of made-up logs in
// which it was set forward by 5 to 300 s, half of them about maximum, 98 % give an interval with
// one of the two offsets, and so do 96 % of the halves of those that are split
// (TestMovedIsCovered). Without the search three in four give neither, under a clear sky with
// totality and the move at maximum. Of 1319 logs that have pauses and whose clock was not moved
// none is split, and in 7 % the light does not rule it out (TestPausesAreNoSteps). Not found is
// a move in what is a pause besides, a second move, and a move by less than the cadence of a
// logger that writes at full minutes, which leaves no odd interval; among many pauses of its
// size a move is missed more often.
//
// # Sources
//
// A. C. Harvey, Forecasting, Structural Time Series Models and the Kalman Filter
// (1989); H. D. Patterson & R. Thompson, Biometrika 58 (1971) 545, for the noise's
// sizes; I. Arasaratnam & S. Haykin, IEEE Trans. Autom. Control 54 (2009) 1254, for
// integrating over them; H. White, Econometrica 48 (1980) 817, for the scatter that
// the log itself shows; JCGM 100:2008 (GUM) for what is combined and how.
package fit
