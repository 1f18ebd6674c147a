// Package sun says where the Sun stands over a site, and how much light a clear
// sky sends down from it.
//
// A [Site] is a place on the Earth, east positive. [Apparent] gives the Sun's
// apparent place among the stars, referred to the true equator and equinox of
// date; an [Observer] turns it into the local frame:
//
//	o, err := sun.NewObserver(sun.Site{Lat: 36, Lon: -5.6, Height: 10}, timescale.Scale{})
//	h := o.Position(timescale.Scale{}.TT(utc))  // altitude and azimuth, degrees
//	h.Alt += sun.StandardAir().Refraction(h.Alt) // as the eye sees it
//	light := sun.Sky{}.Illuminance(h.Alt, h.Distance)
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
// # Accuracy
//
// Against the 7,684 instants of DE431 reduced by the IAU standard routines
// (1901 to 2100, in eclipse/canon's testdata) the apparent place is within one
// second of arc; altitude and azimuth are within 0.0003 degrees of the
// report's worked example and of the published topocentric rows in
// testdata/references. What Delta T leaves open comes on top: 15 arcsec of hour
// angle for each second.
//
// # The clear sky
//
// [Sky] is a mean of many clear days after the daylight practice of 1984, led
// through twilight by the natural levels that are widely tabulated. It is there
// to say what to expect and to take the Sun's own course out of a log, not to
// calibrate by at one instant.
package sun
