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
// 1972 it is taken as UT1. Past the last announced leap second the last value is
// held, and [Scale.UTCHeld] says so: a contact in 2090 is better printed in UT.
//
// # Delta T
//
// Inside the observed table, 1900 to 2026, Delta T is interpolated by a cubic
// (standard uncertainty 0.3 s in 1900, 0.015 s now). Before it stand the
// polynomials of F. Espenak & J. Meeus, NASA/TP-2006-214141; after it a cubic
// that starts with the observed value and trend and reaches their expression in
// 2150. The published forecast of 2006 ran 6 s ahead of the Earth by 2026, so
// the uncertainty of any forecast is stated with it: it grows with the 3/2 power
// of the years since the table's end (P. J. Huber, in the form used by the same
// publication, from memory) and includes half the distance between the forecast
// and the bare trend.
//
// # Sources
//
// IERS Bulletin C and leap second list; US Naval Observatory and Astronomical
// Almanac for observed Delta T; IERS finals2000A; Espenak & Meeus 2006; IAU 2000
// Resolution B1.8 and IAU 2006 precession for sidereal time.
package timescale
