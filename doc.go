// Package noonfall is the front door of a library for people who build small
// light and temperature loggers to record a solar eclipse. It holds no code: the
// work is done in the packages beneath it, each of which can be used alone.
//
//	sun/timescale     UTC, TT, UT1, Delta T, leap seconds, sidereal time
//	sun               the Sun's place and height, refraction, light of a clear sky
//	eclipse/disc      two discs: overlap, and the light of a limb-darkened Sun
//	eclipse           contacts, depth and light at one site
//	eclipse/canon     every solar eclipse of 1901 to 2100
//	eclipse/limb      the Moon's real edge: second and third contact, last light
//	eclipse/ephemeris elements from any positions of Sun and Moon
//	sensor            counts to lux with uncertainty; the design of the load
//	sensor/dips       passages of a ball before a lamp, on the bench
//	logfile           reading logs in whatever state they are
//	eclipse/fit       how wrong the logger's clock was, told by the light
//	eclipse/cooling   how far and how late the air cooled
//	eclipse/rehearsal made-up logs together with their truth
//	eclipse/station   one logger at one site, from its files to a report
//	eclipse/campaign  many stations: pooled light, the shadow's speed, who is off
//
// Data flows one way, and each step is a plain slice or iterator of small
// structs, so that a program can enter or leave anywhere:
//
//	log file -> logfile.Record -> sensor: lux -> eclipse/fit against eclipse.Curve -> station.Report -> campaign.Result
//
// Angles are degrees, latitudes positive north, longitudes positive EAST, heights
// metres above the WGS84 ellipsoid, light lux, temperatures degrees Celsius. A
// standard uncertainty is the value's name with U at its end, in the same unit.
// A clock's offset is its stamp minus true UTC: positive means fast.
//
// The programs under examples are one tutorial for each step of the job, from
// planning the day to sharing what was measured.
//
// # Before going outdoors
//
// Never look at the Sun without a filter that meets ISO 12312-2, except during
// totality and inside the path. A predicted time, from here or anywhere, is no
// signal to remove a filter or to put it back: the Moon's mountains, the clock
// and the map make it wrong by seconds.
package noonfall
