// Package crystal says how far a battery clock is off after weeks in the heat or
// the cold, and when it must be set for that not to matter.
//
// # The parabola
//
// Nearly every clock that runs from a battery counts the swings of a quartz tuning
// fork, 32,768 a second. The fork runs fastest near room temperature and slower the
// farther it is from there, to either side:
//
//	rate = offset - curvature (T - turnover)² + ageing · years     in ppm
//
// One ppm is 0.0864 s a day. Typical figures are 25 degrees Celsius and 0.034 ppm/K²: a clock
// that is perfect on the desk loses 3.6 s a day at -10 degrees, and as much at 60.
// It never gains by temperature; a fast clock is fast by its offset.
//
// The seconds gained are the integral of the rate. Over a straight line of
// temperature from d0 to d1, measured from the turnover, the mean of d² is
// (d0² + d0 d1 + d1²)/3, not the square of the mean: a clock that swings between day and
// night loses more than one that is kept at their mean. Seconds are stamp minus true
// UTC, positive where the clock is fast.
//
// # Spread
//
// Offset, turnover, curvature and ageing are each one unknown number for the life
// of the fork. What they leave open after a month is thirty times what they leave after
// a day, not the root of thirty: a cause that is shared is added up over the whole history and
// squared at the end (JCGM 100:2008, 5.2.2). The thermometer's own error acts as the
// turnover's does, and joins it. SecondsU is the root mean square about Seconds,
// exact for normal errors, second order included: at the turnover the
// first order says that nothing can go wrong.
//
// # Use
//
//	fork := crystal.TuningFork()                // or your own, measured
//	clock, err := crystal.New(fork, crystal.History{Points: points})
//	d, err := clock.Drift(set, eclipse)         // d.Seconds ± d.SecondsU
//	when, err := clock.SetFrom(eclipse, crystal.Budget{Seconds: 1, SetU: 0.2})
//	if when.Verdict == crystal.By {             // else Always or Never
//		fmt.Println("set the clock after", when.At)
//	}
//
// # Accuracy
//
// The published rows of testdata/references/rtc_drift.csv come out in every digit.
// Integrals agree with a sum of small steps to 1e-6 of themselves and SecondsU with 200,000 random
// forks to 1 % (TestSpreadOfRandomForks). A deadline is sharp to a second, to 5 min where ten
// years were searched, and always on the safe side.
//
// # Limits
//
// The spread of an unknown fork is mostly its offset: 20 ppm is 1.7 s a day. Measure your
// own: set the clock, look again after a week indoors, and put the rate into OffsetPPM. The
// parabola leaves out a cubic term, the supply voltage, soldering and shock (a ppm or so
// each, from memory). A compensated clock has Curvature 0 and its printed tolerance/sqrt 3 as
// OffsetPPMU. The temperature is the crystal's, not the air's: a box in the Sun is
// 20 K warmer (from memory). A clock that stopped, or was set wrong by an hour, is no drift.
//
// # Sources
//
// JCGM 100:2008 (GUM), 4.3.7, 5.1.2 and 5.2.2. Curvature 0.034 ± 0.006 ppm/K² and turnover
// 25 ± 5 degrees Celsius from memory of tuning-fork catalogues; 20 ppm and ageing of 3 ppm
// in the first year from second-hand copies of data sheets.
package crystal
