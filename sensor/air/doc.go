// Package air is about the air that a thermometer, a hygrometer and a barometer
// stand in: what it was before the instrument's lag, how damp it is, and how high.
//
// # The lag of a thermometer
//
// A thermometer takes time to follow. The heat that flows into it goes with the
// difference to the air, so that
//
//	tau dS/dt = air - S      S the reading, tau the time constant
//
// After a step it has shown 63.2 % of it in tau, 95 % in three tau, 99 % in 4.6. On
// a ramp it comes to be late by tau. A swing of period P is late by atan(w tau)/w, w = 2 pi/P,
// and shrunk to 1/sqrt(1 + w² tau²): of an eclipse's two hours a box with
// tau = 15 min shows 79 %, 12.7 min late. Most of a published "lag of the air" can
// be the thermometer's.
//
// The equation turned round, air = S + tau dS/dt, takes the lag out again, and the
// price is noise, since a slope is a difference of readings. Undo takes value
// and slope from a parabola by least squares through the readings within tau/2
// either way. Its uncertainty has two parts that must not be mixed: RandomU is
// noise, and means beat it down; TauPart is what an error of tau does, one unknown for
// the whole series, with a sign. It is nothing where the readings turn and largest on
// their flanks: while tau is short beside the swing the depth of a dip hardly feels it,
// and the instant of the minimum moves by nearly all of tau's error.
//
// # Damp
//
// Over a water surface in a closed space vapour gathers until as many molecules
// return as leave. That saturation pressure grows by 6 to 7 % a kelvin, after Magnus
//
//	e = A exp(B t/(C + t))             t in degrees Celsius, e in hPa
//	Td = C g/(B - g),  g = ln(e/A)     the same, solved for t: the dew point
//
// Relative humidity is the vapour pressure over that of saturation, over water
// also in frost, as meteorology has it; below zero ice takes less and WMOIce gives the
// frost point. Air that cools in an eclipse keeps its vapour and its dew point: relative
// humidity rises by itself, and dew falls if the two temperatures meet.
//
// # Height
//
// Pressure falls by a hPa in 8.3 m at sea level. With the standard atmosphere's 15 degrees
// Celsius, falling 6.5 K a km,
//
//	p = 1013.25 hPa (1 - 0.0065 H/288.15)^5.2559      H in geopotential metres
//
// A Column reduces a barometer's pressure to the sea with the air's own temperature.
//
// # Use
//
//	box := air.Thermometer{Tau: 2 * time.Minute, TauU: 20 * time.Second}
//	values, err := box.Undo(readings, air.Options{})     // values[i].C ± values[i].U()
//	dew, err := air.WMOWater.DewPoint(20, 50)            // 9.26 degrees Celsius
//	height, err := air.PressureHeight(898.75)            // 1000 m
//	sea, err := air.Column{HeightM: 430, TempC: 18}.SeaLevel(963.2)
//
// # Accuracy
//
// Every row of vapour_pressure.csv, dew_point.csv and pressure_altitude.csv under
// testdata/references comes out in all its digits. Magnus' form itself is within 0.32 % (WMO)
// and 0.33 % (Alduchov and Eskridge) of the better equations of that table over the
// formula's range, about 0.05 degrees of dew point: less than any hygrometer's error.
//
// Read is exact for straight lines between samples. Undo gives back a ramp to 1e-8
// degrees; of a swing of two hours it loses 3e-5 at tau = 2 min and 1 % at 15 min
// (TestUndoOfASwing). RandomU is the spread of 2000 made-up series to 5 %, TauPart a difference to
// 1e-6 K. Readings of 0.05 K every 4 s leave 0.034 K at tau = 2 min, and 0.3 K at the first
// and last reading.
//
// # Limits
//
// One time constant is a model: a board in a box has two, and wind changes both. A
// thermometer in the Sun reads the Sun: shade and ventilate it. Rounding to a
// coarse step is no noise when the temperature stands still. What a calibration leaves open is
// in no U. Pressure heights move with the weather by hundreds of metres; the reduction to the
// sea is meant for stations under 750 m. The better equations of saturation themselves
// are not here: where 0.3 % matters, so does the enhancement by air, 0.5 %.
//
// # Sources
//
// WMO-No. 8, Guide to instruments and methods of observation (the CIMO guide), part I:
// chapter 2 for lag, chapter 3 for the reduction to sea level, annex 4.B for vapour. D.
// Sonntag, Z. Meteorol. 40 (1990) 340. O. A. Alduchov and R. E. Eskridge, J. Appl.
// Meteorol. 35 (1996) 601. U.S. Standard Atmosphere 1976. JCGM 100:2008 (GUM), 5.1.2 and
// 5.2.2, for the uncertainties.
package air
