// Package sensor turns the counts of a light sensor into lux, and lux into
// counts, and says how sure that is.
//
// # The divider
//
// A microcontroller measures volts. A photoresistor has ohms: ten thousand in a
// lamp-lit room, tens in the Sun. Solder it in series with an ordinary resistor,
// the load, between supply and ground, and the two share the supply in proportion
// to their ohms. The converter (ADC) looks at the point between them, the tap:
//
//	     cell-on-top                   cell-at-bottom
//
//	supply ----- cell ----+       supply ----- load ----+
//	                      |                             |
//	                      +-- ADC                       +-- ADC
//	                      |                             |
//	ground ----- load ----+       ground ----- cell ----+
//
//	V/supply = load/(load + cell)    V/supply = cell/(load + cell)
//	cell = load (supply/V - 1)       cell = load V/(supply - V)
//
// On top the counts rise with light, at the bottom they fall; nothing else
// differs. A few consequences decide whether an eclipse can be recorded:
//
//   - The tap moves most where the cell's ohms equal the load's. With a load R the
//     reading is fine for a decade or two of light around cell = R and poor elsewhere.
//   - Between a least and a greatest resistance the swing is widest with the load at
//     their geometric mean, sqrt(least greatest).
//   - The load of 1 kohm that circuits commonly show is for indoors: with a cell of
//     10 kohm at 10 lx a single count of 4096 is 2 % of full Sun, inside most
//     converters' dead zone. 47 to 100 ohm, or a diffuser in front, suits the Sun, and a
//     large load suits totality: five decades want two sensors.
//   - A small load in full Sun carries current: Steps gives it. The cell and the load
//     warm by volts times amperes; a cell bears about 0.1 W (from memory).
//
// A converter that measures against the supply itself ("ratiometric") sees the
// share and not the volts, and a tired battery does no harm. One with a reference of
// its own needs both voltages, and their uncertainties enter. The converter's input
// has a resistance to ground that lies across the lower half: 1 Mohm across 1 kohm
// makes the cell look 0.1 % too large. Give InputOhm and it is allowed for.
//
// # From ohms or amperes to lux
//
// A photoresistor follows a power of the light, with a dark resistance beside it:
//
//	1/R = 1/dark + (E / 10 lx)^gamma / R10
//
// On paper with two logarithmic scales that is a straight line of slope -gamma. A
// phototransistor's current is proportional to light, beside a dark current,
// V = (dark + S E) load, until the voltage across the load has used up the supply. A
// digital sensor gives lux, with a ceiling. A converter whose scale is bent has a CodeTable of
// measured points.
//
// Lux is light on a flat surface: a beam from 60 degrees off its axis makes half of what it
// makes straight on. A lens sees less than that half. Give its AngularResponse, and
// LuxFrom undoes it for light from one direction, as the Sun's; for a sky no
// single factor does.
//
// # Use
//
//	chain := sensor.Chain{
//		ADC: sensor.ADC{Bits: 12, Ratiometric: true},
//		Divider: &sensor.Divider{Wiring: sensor.CellOnTop, SupplyV: 3.3, LoadOhm: 100,
//			Cell: sensor.Photoresistor{R10Ohm: 10e3, Gamma: 0.7}},
//	}
//	c, err := chain.Compile() // checks once; a zero Chain is refused
//	r := c.Lux(822)           // 1000 lx, its uncertainties, and a status
//	low, high := r.Interval(1.96)
//
// # Parts that are sold
//
// Series are the preferred numbers of resistors, E3 to E192 (IEC 60063:2015): the nearest
// by ratio, the next up and down, and a walk from one value to another. Chain.Design picks
// the load from one: the load whose worse end of the light has most counts per octave (a
// doubling), which for a divider is sqrt(least greatest) again. It says where the sensor
// saturates, which filter brings full Sun into range, and whether two sensors are needed
// and where they hand over. Five decades span 2^16.6: of a phototransistor's 12 bits, less
// the dead zones, not even two suffice. Chain.Pair is two sensors also where one is enough.
// Chain.Try says the same of a load that you have; Load.Behind what a filter would do for
// it, and Load.Strain what it and the sensor must bear.
//
// # Calibrating a cell
//
// Calibrate draws the straight line on logarithmic paper through two or more points
// of known light, with uncertainties in the light and in the reading. Each point
// weighs by its effective variance, u(ln value)^2 + slope^2 u(ln lux)^2, and the weights
// move with the slope until it rests. Photoresistor puts the result into a Chain
// with the correlation of its parameters: without that, light far from 10 lx would
// seem worse known than it is, or better. The line reproduces GUM's example H.3; over
// 4000 made-up calibrations its parameters scatter as their uncertainties say, within 9 %
// in variance. A shared error of the meter is stated once, in LuxLnU. The least squares
// have eleven digits of NIST's reference sets, of the hardest seven.
//
// Combine makes one calibration of two, as of a lamp's and a clear morning's: each counts by its
// covariance, once Loosened has given it the doubt of lights that it was not made in. Held is a
// part that is known to be linear.
//
// With FitDark the dark resistance or current is found too. Cover the sensor for one point
// (lux 0), or go down into twilight; where the points cannot tell it from the
// exponent that is ErrNoDark. A phototransistor's slope is 1: hold it there.
//
// Who has no meter has a lamp and a tape: CalibrateLamp knows the light by the inverse
// square, and can fit where the tape's zero should have been and the room's own
// light. Both bend the line as the exponent does, so the lamp must go far: over 0.2 to
// 4.5 m all four come out as sure as they say; over 1 to 2 m they are refused.
//
// # Two sensors, one series
//
// FitJoin takes the ratio of two sensors from the light that both can read, with its
// uncertainty and whether it tilts; Join.Merge averages there by uncertainty, and takes
// one in and lets the other go so smoothly that the handover leaves no step. The zero Join
// trusts both calibrations. A number always beats a bound.
//
// # Numbers and bounds
//
// A count in a dead zone of the converter, at an end code, beyond the light that
// the cell's law is good for, or within a count of darkness is no number; neither is one
// within three standard uncertainties of what darkness, or any amount of light, would
// give, as far as these are common to all readings. Its Reading is a bound: TooDark
// means at most Lux, Saturated at least Lux. Range gives both bounds. A reading of NaN
// is Missing.
//
// # Uncertainty
//
// LuxU is a combined standard uncertainty after JCGM 100:2008 (GUM), first order.
// It has two parts that must not be mixed. RandomU is noise and rounding, new with
// every reading: means and fits beat it down. CommonU is what load, cell, supply,
// reference, offset and gain leave open, the same for a whole log: a load that is 5 %
// off moves all of a log's lux by 7 % and an eclipse's minimum by no second.
//
// A printed tolerance a is a rectangular distribution, a/sqrt 3. Fields in ...LnU are
// standard uncertainties of a natural logarithm, about relative ones: 0.1 is 10 %. A
// cause that acts in two places (a supply that is the reference too, an exponent
// fitted together with R10) is added up before it is squared.
//
// # Accuracy
//
// The derivatives agree with differences of the whole chain to 1e-6, by a witness
// that reproduces GUM's example H.2; counts agree with Ohm's law resistor by
// resistor to 1e-9; lux and counts come back from each other to 1e-9, less the
// digits that cancel within some counts of darkness. One reading with everything set
// takes about 40 ns (BenchmarkConvert) and allocates nothing.
//
// The propagation is of the first order. 100,000 draws of every cause through Ohm's law
// (JCGM 101:2008; TestMonteCarlo) scatter by 0.99 to 1.05 of LuxU wherever that is at most
// a quarter of Lux. Beyond, LuxU is still that of the first order and mostly too small: by 1.25
// at 0.4 of Lux, by 2.5 at 0.8, as of a cell and a load out of the bag, and in the last counts
// before the end of the scale. The spread is then lopsided, with its longer tail on the
// bright side, and Interval is what to print: factors for what is common, a sum for
// noise. Interval(1.96) holds 92 to 97 % of the draws, and 90 % at the very limit of darkness.
//
// # Limits
//
// Photoresistors remember light for minutes and drift up to 1 % a kelvin in dim
// light; their law holds between about 1 and 1000 lx and is an extrapolation in full
// Sun; two cells of one type differ by a factor of two (all from memory). None of that
// is in LuxU unless you put it into R10LnU and GammaU: an exponent off by 0.05 of 0.65
// is a factor of two at 100,000 lx. Calibrate your own cell. Lux is defined for a
// cosine receiver and the eye's colours: behind a lens only light from one direction can
// be put right (AngularResponse), and a leak of infrared is in no field. Sampling
// itself wants a source under about 10 kohm (from memory): a larger load
// needs a capacitor at the tap, and then the light's fastest second suffers.
//
// # Wiring
//
// All of this is for a few volts from a battery. Take the supply off before you
// solder or change a part. Never let the tap exceed the input's rated voltage. Fuse a
// battery that can deliver more than the wiring bears, and mind it in the heat of the
// Sun. Keep away from the mains: what is connected to them, or fixed to a building, is
// for qualified people under your local codes.
//
// # Sources
//
// JCGM 100:2008, Guide to the expression of uncertainty in measurement: 4.2.3, 4.3.7,
// 5.1.2, 5.2.2, F.2.2.1, examples H.1 to H.3; JCGM 101:2008, its Monte Carlo supplement.
// IEC 60063:2015. Errors in both variables: J. Orear, Am. J. Phys. 50 (1982) 912; D. York,
// Can. J. Phys. 44 (1966) 1079; D. York et al., Am. J. Phys. 72 (2004) 367 (the three from
// memory). W. R. Bennett, Bell Syst. Tech. J. 27 (1948) 446, for rounding as noise. The
// divider is Ohm's law; figures for parts are catalogue words from memory where they say
// so.
package sensor
