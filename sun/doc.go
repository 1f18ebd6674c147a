// Package sun says where the Sun stands over a site, and how much light a clear
// sky sends down from it.
//
// A [Site] is a place on the Earth, east positive. [Apparent] gives the Sun's
// apparent place among the stars, referred to the true equator and equinox of
// date; an [Observer] turns it into the local frame:
//
//	o, err := sun.NewObserver(sun.Site{Lat: 36, Lon: -5.6, Height: 10}, timescale.Scale{})
//	h := o.Position(timescale.Scale{}.TT(utc))  // altitude and azimuth, degrees
//	light := sun.Sky{}.Illuminance(h.Alt, h.Distance) // lx; wants the true altitude
//	h.Alt += sun.StandardAir().Refraction(h.Alt) // as the eye sees it
//
// # A day
//
// A logger runs for a day, and asks thousands of times. [Observer.Day] prepares a
// civil day in the caller's own zone, from midnight to midnight, in some 30 us:
//
//	day, err := o.Day(time.Date(2027, 8, 2, 0, 0, 0, 0, madrid)) // a *time.Location
//	h = day.Position(t)                        // as above, fifty times as fast
//	dawn, ok := day.Passage(sun.CivilTwilight).Rise()
//	p := day.Passage(sun.Sunrise - sun.Dip(120)) // from a cliff
//	noons := day.Transits()
//
// A [Passage] has the day's crossings of a level, in order: usually one up and one
// down, but there are days with two sunrises and days with none. Then its Course
// says which: above all day (polar day) or below (polar night), and its Margin by
// how much, for real air may lift the Sun by 0.2 degrees more or less than the
// almanacs assume. The Sun passes the meridian all the same.
//
// # Frames and signs
//
// Longitudes are positive to the east. Azimuth runs from north through east.
// Altitudes are those of the Sun's centre without refraction, but with parallax,
// unless a name says otherwise. Degrees everywhere outside.
//
// # Method
//
// Longitude, latitude and distance of the Earth are the shortened VSOP87 series
// of I. Reda & A. Andreas, Solar Position Algorithm for Solar Radiation
// Applications, NREL/TP-560-34302 (rev. January 2008), with IAU 1980 nutation;
// sidereal time is that of IAU 2006. Parallax is taken out as a vector on the
// WGS84 ellipsoid.
//
//	H        = sidereal time + east longitude - right ascension
//	true     = geocentric - parallax (8.8 arcsec at the horizon)
//	apparent = true + refraction (34 arcmin at the horizon)
//
// # Accuracy
//
// Measured by the tests of this package: against the 7,684 instants of DE431
// reduced by the IAU standard routines (1901 to 2100, in eclipse/canon's
// testdata) the apparent place is at most 0.67 arcsec off, the distance 2.5e-6 au.
// Against the published topocentric rows of JPL Horizons the altitude is at most
// 0.00007 degrees off, the azimuth 0.00013; the report's worked example is met in
// its printed digits. A prepared day departs from that by 4e-9 degrees at most,
// sites from pole to pole and Suns through the zenith included.
//
// Rise, set, transit and civil twilight are within the rounding of the US Naval
// Observatory's tables (174 events, to the minute, 35 s with their own slack), but
// for three at which the polar Sun skims the horizon and 0.01 degrees are a minute
// of time. Sunrise is by convention at an altitude of -50 arcmin; what real air
// does to it is a matter of minutes. Every event is at its level to 1e-6 degrees.
//
// # The clear sky
//
// [Sky] is a mean of many clear days: direct sun and sky by the IES recommended
// practice of 1984, with the air mass of Kasten and Young 1989. Below the horizon
// the natural levels that are widely tabulated (400 lx at sunrise, 3.4 lx at the
// end of civil twilight, starlight from 18 degrees down) carry it on, logarithm
// against altitude. The two meet where the Sun's centre appears on the horizon,
// at 0.574 degrees under it, with the practice's 800 lx: continuous, but steep,
// since the practice's sky grows with the root of sin h.
//
// [Sky.Illuminance] gives the light on the flat and facing the Sun, [Sky.On] on
// any [Surface].
//
// It is there to say what to expect and to take the Sun's own course out of a
// log, not to calibrate by at one instant: a clear sky may be a third off, and by
// the practice's own words an instant may differ by a factor of two.
//
// # Limits
//
// What Delta T leaves open comes on top of all positions: 15 arcsec of hour angle for
// each second. Outside 1901 to 2100 the series have not been compared with anything
// here; their authors give 0.0003 degrees for the years -2000 to 6000.
//
// Refraction near the horizon is the weakest part of any apparent altitude: real air
// differs from the formula by minutes of arc. The formula is used down to a true
// altitude of -1 degree; from there refraction fades to the nadir, so that there is no
// step. [Air.TrueAltitude] undoes it. The horizon has no hills, and a site's height does
// not lower it: see [Dip].
//
// # Sources
//
// Reda & Andreas 2008 (above); J. Meeus, Astronomical Algorithms, 2nd ed. 1998;
// Saemundsson 1986 for refraction; Explanatory Supplement to the Astronomical
// Almanac 1992 for rise and set; Kasten & Young, Applied Optics 28 (1989) 4735;
// J. Illum. Eng. Soc. 13 (1984) 381; Liu & Jordan, Solar Energy 4 (1960) 1, for
// tilted surfaces; WGS84 (NIMA TR8350.2).
package sun
