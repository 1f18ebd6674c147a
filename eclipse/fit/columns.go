package fit

import "math"

// The columns of the regression, in order. Given the shift they are linear:
//
//	log reading = start + slope t + f(L) + floor h + tilt h t + law d + walk + error
//
// with L the logarithm of the predicted light, f the sensor's response, h the
// share of residual light in it and d what another limb-darkening law would add.
const (
	colStart = iota // level of the walk at the first reading
	colSlope        // its slope then, an hour
	colPower        // the response: a power of the light,
	colBend         // bent
	colTwist        // and bent again: any smooth monotone response over five decades
	colFloor        // how much the residual light differs from the curve's, as a logarithm
	colTilt         // and how it changes across totality, per ten minutes
	colLaw          // limb darkening, 0 for the curve's law and 1 for the other
	columns
)

// responsePriors say what is known of the coefficients before a log is read.
// The response of a part in a divider runs from a power of 0.7 in the dark to
// almost none in full Sun, which a bend of one covers over five decades;
// the residual light itself is searched on a ladder, and its column serves for
// what lies between the rungs; across a totality of five minutes it may change
// by a factor of two or three, the shadow's edge being nearer on one side. All are common
// practice, no source; a log overrules them within minutes of readings.
var responsePriors = [columns]prior{
	colStart: {0, math.Inf(1)},
	colSlope: {0, math.Inf(1)},
	colPower: {0.9, 0.7},
	colBend:  {0, 0.7},
	colTwist: {0, 0.3},
	colFloor: {0, 0.3},
	colTilt:  {0, 2.5},
	colLaw:   {0, 1},
}

// decades scales the bend of the response: natural logarithms in which the light
// is counted for it.
const bendScale = 5

// fill writes the columns for a shift in seconds; floor is the residual light, lx.
func (l *light) fill(cols [][]float64, readings []reading, shift, floor float64) {
	full := l.clear.at(0)
	for k, r := range readings {
		t := r.t - shift
		flux := l.flux(t)
		clear := math.Exp(l.clear.at(t))
		e := clear*flux + floor
		rel := math.Log(e) - full
		bend := rel / bendScale
		share := floor / e
		cols[colStart][k] = 1
		cols[colSlope][k] = (r.t - readings[0].t) / 3600
		cols[colPower][k] = rel
		cols[colBend][k] = bend * bend
		cols[colTwist][k] = bend * bend * bend
		cols[colFloor][k] = share
		cols[colTilt][k] = share * t / 600
		cols[colLaw][k] = l.lawDifference(t, flux) * (1 - share)
	}
}

// blank writes the same columns for a day without an eclipse.
func (l *light) blank(cols [][]float64, readings []reading, shift float64) {
	full := l.clear.at(0)
	for k, r := range readings {
		rel := l.clear.at(r.t-shift) - full
		bend := rel / bendScale
		for j := range cols {
			cols[j][k] = 0
		}
		cols[colStart][k] = 1
		cols[colSlope][k] = (r.t - readings[0].t) / 3600
		cols[colPower][k] = rel
		cols[colBend][k] = bend * bend
		cols[colTwist][k] = bend * bend * bend
	}
}
