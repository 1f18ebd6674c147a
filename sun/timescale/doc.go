// Package timescale relates the clocks of an eclipse: UTC, which people and
// loggers keep; TT, which Sun and Moon keep; UT1, which the turning Earth keeps.
//
//	TT  = UTC + (TAI-UTC) + 32.184 s    exact from 1972
//	UT1 = TT - Delta T                  measured to 2026, a forecast after
//
// The Moon's shadow moves in TT, the ground beneath it in UT1, and the log is
// stamped in UTC. A [Scale] converts between the three; its zero value is the one
// to use:
//
//	var s timescale.Scale
//	t := s.TT(time.Date(2027, 8, 2, 10, 0, 0, 0, time.UTC))
//	fmt.Println(s.DeltaT(t).Seconds) // about 69 s
//	fmt.Println(s.UT1(t).Time())     // what almanacs print as "UT"
//	gmst := timescale.MeanSidereal(s.UT1(t), t)
//
// # Civil time
//
// From 1972 civil time is UTC, with the leap seconds of IERS Bulletin C. Before
// 1972, when TAI-UTC was no whole number and radio clocks kept to UT1 within a few
// tenths of a second, it is taken as UT1, and [TAIMinusUTC] has no answer. Past the
// last announced leap second the last value is held, and [Scale.UTCHeld] says so: a
// contact in 2090 is better printed in UT. [Scale.UTCU] says how far the civil
// clocks of that day may stand from the label, a minute; the doubt of the instant
// itself is that of Delta T, which comes on top.
//
// # Delta T
//
// Inside the observed table, 1900 to 2026, Delta T is interpolated by a cubic
// (standard uncertainty 0.3 s in 1900, 0.015 s now; since 1973 the days of
// eclipses are rows of the table). Before it stand the polynomials of F. Espenak
// & J. Meeus, NASA/TP-2006-214141, led to the table's first value over its last
// ten years. After it a cubic starts with the observed value and trend and
// reaches their expression in 2150.
//
// The expression of 2006 ran 6 s ahead of the Earth by 2026, so a forecast states
// its uncertainty: half the distance between the forecast and the bare trend, and
// a part that grows with the 3/2 power of the years since the table's end (P. J.
// Huber, as used by the same publication, from memory). It comes to 0.05 s in
// August 2027, 10 s in 2050 and 70 s in 2100.
//
// Whoever wants to meet other people's figures takes their Delta T: a bulletin's
// number by [FixedDeltaT], the bare expressions of 2006, in which catalogues of
// future eclipses were computed, by [EspenakMeeus2006].
//
// # Accuracy
//
// Measured by the tests: mean and apparent sidereal time within 4e-6 degrees of the
// IAU 2006/2000A routines over 1901 to 2100; Delta T within 0.001 s (rms) of the
// 136 days of the IERS series kept in testdata/references, most of them rows. On
// 30 days between half-yearly rows, before those became rows too, it was 0.015 s.
// A reading to the microsecond survives the way to TT and back.
//
// # Limits
//
// Nothing is fetched: leap seconds and Delta T are those that this version of the
// library knows, and both grow old (Scale.UTCHeld, DeltaT.SecondsU). A time.Time has
// no 23:59:60. Before 1972 the radio clocks of a country stood off UT1 by tenths of a
// second, which is in no uncertainty here. The pole's own wandering, nine metres on the
// ground (from memory), is left out, and so is TDB, which is never 2 ms from TT.
//
// # Sources
//
// IERS Bulletin C and leap second list; US Naval Observatory and Astronomical
// Almanac for observed Delta T; IERS finals2000A; Espenak & Meeus 2006; IAU 2000
// Resolution B1.8 and IAU 2006 precession for sidereal time.
package timescale
