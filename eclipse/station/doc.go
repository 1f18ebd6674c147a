// Package station is one logger at one site on the day of one eclipse: its
// description and its files go in, a [Report] comes out.
//
// A [Station] is data, read from JSON or filled in by a program. [Reduce] joins
// the rooms of the library in the order in which the data flow:
//
//	files   package logfile      records, and what was refused
//	counts  package sensor       lux with a status, where the chain is known
//	sky     packages eclipse/canon, eclipse    the eclipse and its light at the site
//	clock   package eclipse/fit  by how much the stamps are ahead of UTC
//	air     package eclipse/cooling   how far and how late the temperature fell
//
// and says of the log what it shows of its logger, whatever the sky did ([Health]).
//
// A typical use:
//
//	folder := os.DirFS(dir)
//	s, err := station.ReadFile(folder, "station.json")
//	rep, err := station.Reduce(ctx, s, station.FilesIn(folder, s.Files...), station.Options{})
//	if rep.Refusal != nil {
//		fmt.Println(rep.Refusal)
//	} else {
//		fmt.Println(rep.Clock.Offset, rep.Clock.CI95)
//	}
//
// # The station's file
//
// A station is kept as JSON beside its logs. A key that is not in this list is refused
// with its line, and so is one that stands twice. Four must be there: version, eclipse and
// the two coordinates.
//
//	version      1, the version of this list
//	code         a short name for maps and tables, at most 40 bytes; no person's name
//	site         where the logger stands
//	  lat_deg    degrees, north positive, -90 to 90
//	  lon_deg    degrees, EAST positive, -180 to less than 360
//	  height_m   metres above the WGS84 ellipsoid, -500 to 9000; 0 if left out
//	eclipse      the day of greatest eclipse, YYYY-MM-DD, UTC; a day either side will do
//	delta_t_s    TT - UT1, seconds; left out, the library's own
//	zone         the zone of stamps that carry none: "+02:00" or a name like
//	             "Europe/Madrid"; left out, UTC
//	chain        what turns counts into lux, as package sensor has it, its calibration
//	             within: cell.r10_ohm, cell.gamma and their uncertainties, as
//	             examples/calibrate prints them. Left out, the column is taken as it is:
//	             the clock needs no lux
//	files        the logs, names in this file's folder or one beneath it, / between
//	             folders; gzip is unpacked
//	control      logs of days without eclipse at the same place, likewise
//	thermometer  its lag; left out where nothing is known
//	  tau_s      time constant, seconds, more than 0 to 21600
//	  u_tau_s    its standard uncertainty, seconds, 0 to 21600
//	layout       overrules what the reader infers from the file; all may be left out
//	  order      of dates: ymd, dmy or mdy
//	  light      the light column, by name or number from 1
//	  columns    of a file without header, a list of time date clock lat lon light light2
//	             temp pressure humidity skip
//	  delimiter  comma, semicolon, tab, bar or blank
//	  decimal    point or comma
//	  starts     when the logger was started, RFC 3339, one for each power-on, for files
//	             that count from there; "" for one that is not known
//	  tick       what such a count counts: s, ms or us
//	clock_set    how the clock was set, see below
//	clock_notes  the clock beside a better one, a list of
//	  stamp      what the logger showed, 2027-08-02T08:31:42, in the log's own zone
//	  utc        the better clock, 2027-08-02T06:31:00Z
//	  u_s        standard uncertainty of their difference, seconds, more than 0 to 3600;
//	             0.5 for two displays of whole seconds compared by eye
//	remarks      the owner's words, at most 16 kB; they go into no summary
//
// # How the clock was set, and notes of it
//
// The ways to set a clock, and the standard uncertainty that is usual when the eclipse
// comes (common practice, no source):
//
//	network      0.5 s  the logger asks a time server, shortly before or throughout
//	satellite    0.5 s  a receiver of navigation satellites on the logger
//	radio        0.5 s  a receiver of a time signal
//	phone        2 s    once, to a telephone or computer that a network sets
//	hand         60 s   once, beside some watch, days before
//	unknown      nothing can be said; so it is where the key is left out
//
// A clock that was set by a network or a satellite and that the light finds wrong by three
// standard uncertainties gets a warning.
//
// Notes of the clock stand beside the light's verdict in [Report].Noted. Through two or
// more goes a straight line, weighted by 1/u_s squared, with the clock's drift; where
// three or more scatter more than they say, their uncertainties are widened by as much
// (R. T. Birge 1932, from memory). A single note's clock wanders by 20 ppm from there to
// the maximum, and a line's by 3 ppm beyond the nearest note. The difference is given over
// the root of both squared standard uncertainties, as laboratories compare each other
// (ISO 13528, from memory); above 3 there is a warning. Notes are never used to move a
// stamp.
//
// # The air
//
// Where the log has temperatures, [Report].Cooling says how far the air fell, how late after
// maximum and how fast it follows the light, or [Report].CoolingRefusal why that is not
// told. The stamps are first put right by what the light says of the clock, and the clock's
// uncertainty is in the lag's; where the light gave no verdict they are taken as they
// are, to 30 s (common practice, no source). The lag of the thermometer is taken out as
// the key thermometer describes it, else as a minute within a factor of two. Where clouds
// took light for a twentieth of the eclipse, or that is not known, the interval of the lag is
// wider: how much light there was to lose is then uncertain from hour to hour.
//
// A day without eclipse is needed to measure a fall against. With [Options].Control, logs of
// other days at the same place and hours, that day's temperatures lend their shape; without,
// the clear sky's insolation does. The control day's light has a use of its own:
// where it is dimmer than the hours around, [Report].Shade has the span, and says whether the
// eclipse's log is dim then too, as behind a wall or a tree. Of one control day alone it may
// have been a cloud.
//
// # Refusals and errors
//
// What nature or the data decide is an answer and stands in the report: no
// eclipse that day, none visible at the site, no overlap, no usable light, cloud
// throughout. An error is a file that cannot be opened or read, a layout that
// cannot be decided, a station that contradicts itself. A gzip file that is damaged is
// read as far as it goes, with a warning.
//
// # Where and when a log was made
//
// A log tells by itself of a site, a zone or a date that is mistaken in a usual way, and the
// report names it ([Report].Misplaced, [Report].Zone); nothing is ever mended in silence.
// Two witnesses are asked.
//
// The eclipse: where the light does not fit as it is described, or only with a clock that
// is off by more than ten minutes, it is laid over the eclipse at the site with the sign of
// the longitude or of the latitude turned, with the two exchanged, in the whole hours about
// the Sun's own zone, on the eclipse's day, and over the eclipse of the log's own days. A
// clock within ten minutes, known to two, and 60 squared deviations more than the
// description has are needed, and twice as many for two mistakes at once.
//
// Dawn and dusk: where the light falls through a thirtieth of its bright reading, out of
// recorded darkness and into it, and no faster than a twilight. At the right site the Sun is
// then within eight degrees of the horizon and noon within 36 minutes of their middle; a
// site is wrong beyond 14 degrees or an hour. They need no eclipse, tell nothing within
// fifteen degrees of a pole, and the sign of the latitude only far from the equinoxes. What
// more than one mistake explains is told as such and not named. A site that dawn and dusk
// contradict is not named by the eclipse, and a fit whose clock they contradict gets a warning.
// (All limits: common practice, no source.) A site within five degrees of the one that is
// written, and an overcast eclipse, tell nothing; but where the clock was set by a network, a
// satellite, radio or telephone and the light would have it off by more than a minute or so, a
// turned or exchanged place at which it is right is named from half a degree away.
//
// # Health
//
// [Report].Health is there for any log of any day, also where the fit refuses: cadence,
// gaps, what the clock did, the range of readings with its ceiling and its floor, how they
// scatter, and whether night is dark and noon where the Sun has it. [Health].Advice is what
// to change before the day, from a table of rules, each with its limit and its source.
//
// Where the chain is not known a ceiling is a pile: five times as many readings at the
// greatest as at any of its ten neighbours. Light that turns smoothly, as at noon, is
// within a step of its top for 1/(sqrt 2 - 1) = 2.4 times as long as within the next. The
// floor is a pile at the least, and what is told from darkness is a step, or three times
// the night's scatter, above the night's middle reading. The end of civil twilight, 3.4 lx,
// rehearses totality, some 4 lx: what a logger does not tell there it will not tell on
// the day. Noise is read from the distance of a reading to the line through its two
// neighbours in the logarithm, divided by sqrt(1 + w^2 + (1 - w)^2), w and 1 - w their
// weights; the quiet quarter counts. Stamps decide where the Sun stood: a clock that is
// hours off shows in noon and night, and rules that lean on the Sun are then silent.
//
// # Calibrating by the Sun's climb
//
// A sensor whose law is not known can be calibrated by a clear morning without
// eclipse, or before first contact: the Sun climbs through air of known geometry, from
// five and a half air masses at ten degrees to little more than one at noon.
// [CalibrateMorning] reads the log and [FitMorning] takes plain samples. With m the air
// mass (Kasten & Young 1989), h the Sun's height and c the cosine of its incidence on the
// sensor, flat, tilted or facing it, the clear sky of package sun gives the light
//
//	E = E0 exp(-k m) c + s (sin h)^p sky(h),    k = k0 + k1 (t - middle)
//
// and the reading follows a power of it, in logarithms
//
//	ln reading = a + b ln(E / 10 lx) + slow(t) + scatter
//
// On a sensor that faces a beam alone this is the line of S. P. Langley: ln reading
// falls with m by the slope b k, and no log of it tells b from k. On a flat sensor sin h
// bends the line and tells them apart, the better the farther the Sun climbs. All are
// fitted together: gain a and exponent b free, extinction k0 and its drift k1, the sky's
// share s and shape p, and the sensor's lean each with a prior of what is usual; clear air
// and bright sky exclude each other, and the prior has their correlation. The minutes
// are not independent witnesses of the model: slow(t) is what it leaves out, an
// Ornstein-Uhlenbeck process of at least 1 % of the light, and what scatters a minute is
// taken from the differences of neighbours. Sizes and memories of slow(t) are averaged
// over by their likelihoods. The light is a curve of the air, so that a Kalman filter runs
// over its tangents again and again (Gauss and Newton) on means of five minutes.
//
// What cannot be told is stated as such. The gain rests on the model's own level:
// its spread, 19 % of the light, is common to all minutes and stands in LnValueU as
// (b ModelLnU)^2 whatever their number; b and k do not feel it. The gain at 10 lx is
// besides an extrapolation over three decades: use it with its correlation R, as a
// sensor.Chain does. An extinction in one colour under a sky of one form is itself no
// better than 0.03.
//
// Before that, minutes darker or brighter than a robust clear-sky curve are set aside
// as shade. Refused are, by the names of the constants: a log without a morning, an
// eclipse going on, no number, a ceiling, one value, too short a climb, cloud (too many
// minutes aside, too much scatter, a slow course or an extinction that is no clear
// sky's), and an exponent that is not three times its uncertainty. A perfectly smooth and even
// overcast is not seen, and puts the gain off by a factor of four: note what the sky was.
//
// The clock must be right: a minute is a lean of a quarter of a degree.
// [sensor.Combine] joins the result with that of a lamp, which Loosened has given the
// doubt of lights so far from its own, and [Part] puts it into a chain. Nobody looks into
// the Sun to point a sensor at it: watch the sensor's shadow.
//
// # Accuracy
//
// The clock's and the air's intervals are those of packages fit and cooling, which say how
// often they hold the truth.
//
// Mistakes. Of 320 rehearsed logs of the eclipse's hours each (TestLocateStudy), named with
// the mistake, and in brackets of those that have a verdict when described rightly:
//
//	                         the eclipse's hours    a whole day
//	sign of the longitude    67 (87) %              85 (90) %
//	sign of the latitude     67 (90) %              79 (90) %
//	exchanged                66 (90) %              79 (93) %
//	local time               65 (86) %              92 (95) %
//	a wrong date             72 (95) %              76 (95) %
//
// Rightly described ones were named falsely in 1 of 320 and 0 of 320, days without an
// eclipse in 0 of 320.
//
// Mornings. Over 240 made-up mornings whose light has two colours, another air mass, drifting
// and rippling haze, a brightened sky, and whose sensor leans, bends and has a cosine of its
// own, the 95 % intervals hold the exponent in 99 %, the extinction in 95 % and the gain
// in 97 % (TestMorningHonest); the exponent's rms error is 0.05. On a measured clear day a
// linear instrument is found to have the exponent 1.04, u 0.08, and the extinction 0.13,
// u 0.06, which a tracker beside it puts at 0.129.
//
// # Limits
//
// Files are streamed, but their records are kept until they are merged, 104 bytes each
// and twice that for a moment, then 40 bytes a sample: a day at one a second is nine
// megabytes, then four. Light cannot tell a lamp from a ceiling where it jumps there, and a
// ceiling of fewer than ten readings is not seen. A few cloudy days have their noon half
// an hour from the Sun's. The Moon has its real edge, unless
// Options.SmoothMoon is set; what that leaves open is a named term of the clock's
// uncertainty (fit.Result.LimbU).
//
// # Sources
//
// Langley's line and the air masses for it as commonly taught, no source; the
// filter and its iteration after A. H. Jazwinski, Stochastic Processes and Filtering Theory
// (1970), from memory; JCGM 100:2008 (GUM) 4.3.7 and 5.2 for what all minutes share.
package station
