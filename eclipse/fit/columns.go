package fit

import "math"

// The columns of the regression, in order. Given the shift they are linear:
//
//	log reading = start + slope t + f(L) + floor h + tilt h t + laws d + mount + air + walk + error
//
// with L the logarithm of the predicted light, f the sensor's response, h the
// share of residual light in it and d what other limb-darkening laws would add.
const (
	colStart = iota // level of the walk at the first reading
	colSlope        // its slope then, an hour
	colPower        // the response: a power of the light,
	colBend         // bent
	colTwist        // and bent again: any smooth monotone response over five decades
	colFloor        // how much the residual light differs from the curve's, as a logarithm
	colTilt         // and how it changes across totality, per ten minutes
	colBlue         // limb darkening: 0 for the colour of the curve's law, 1 for blue
	colEdge         // and 1 for a law that goes on differently at the very limb
	colEast         // lean of the sensor beyond what the mount already has, radians
	colNorth
	colAir   // extinction beyond the clear sky's
	colSlant // power of the sine of the altitude: the sensor's own answer to slanting light
	columns
)

// responsePriors say what is known of the coefficients before a log is read.
// The response of a part in a divider runs from a power of 0.7 in the dark to
// almost none in full Sun, which a bend of one covers over five decades;
// across a totality of five minutes it may change
// by a factor of two or three, the shadow's edge being nearer on one side. A
// sensor laid out by hand leans by some degrees. All are common practice, no
// source; a log overrules them within minutes of readings.
var responsePriors = [columns]prior{
	colStart: {0, math.Inf(1)},
	colSlope: {0, math.Inf(1)},
	colPower: {0.9, 0.7},
	colBend:  {0, 0.7},
	colTwist: {0, 0.3},
	colFloor: {0, floorSD},
	colTilt:  {0, 2.5},
	colBlue:  {0, 1},
	colEdge:  {0, 1},
	colEast:  {0, leanSD},
	colNorth: {0, leanSD},
	colAir:   {0, 0.15},
	colSlant: {0, 0.15},
}

const leanSD = 0.12 // radians, seven degrees

// bendScale scales the bend of the response: natural logarithms in which the light
// is counted for it.
const bendScale = 5

// fill writes the columns for a shift in seconds.
func (p *problem) fill(shift float64) {
	l := p.light
	full := l.clear.at(0)
	for k := range p.rows {
		r, s, row := &p.readings[k], &p.stance[k], &p.rows[k]
		t := r.t - shift
		flux := l.flux(t)
		rel, share, blue, edge := l.lit(l.clear.at(t)+s.change, flux, p.floor)
		rel -= full
		bend := rel / bendScale
		lit := 1 - share
		*row = row0(r, p.readings[0].t)
		row[colPower] = rel
		row[colBend] = bend * bend
		row[colTwist] = bend * bend * bend
		row[colFloor] = share
		row[colTilt] = share * t / 600
		row[colBlue], row[colEdge] = blue*lit, edge*lit
		row[colEast], row[colNorth], row[colAir], row[colSlant] = s.east*lit, s.north*lit, s.air*lit, s.slant*lit
	}
}

// lit is the logarithm of the light that is left of a clear one, given as its
// logarithm, the share of residual light in it, and what other laws would add.
func (l *light) lit(clear, flux, floor float64) (log, share, blue, edge float64) {
	if !(flux > 0) {
		return math.Log(floor), 1, 0, 0
	}
	log = clear
	if flux < 1 {
		logFlux := math.Log(flux)
		blue, edge = l.laws.at(logFlux)
		log += logFlux
	}
	more := floor * math.Exp(-log)
	share = more / (1 + more)
	if more > 1e-3 {
		return log + math.Log1p(more), share, blue, edge
	}
	return log + more*(1-more/2), share, blue, edge // to 4e-10
}

// blank writes the same columns for a day without an eclipse.
func (p *problem) blank(shift float64) {
	full := p.light.clear.at(0)
	for k := range p.rows {
		r, s, row := &p.readings[k], &p.stance[k], &p.rows[k]
		rel := p.light.clear.at(r.t-shift) + s.change - full
		bend := rel / bendScale
		*row = row0(r, p.readings[0].t)
		row[colPower] = rel
		row[colBend] = bend * bend
		row[colTwist] = bend * bend * bend
		row[colEast], row[colNorth], row[colAir], row[colSlant] = s.east, s.north, s.air, s.slant
	}
}

// row0 is a row of a sky without light: level, slope and the log itself.
func row0(r *reading, first float64) (out row) {
	out[colStart] = 1
	out[colSlope] = (r.t - first) / 3600
	out[columns] = r.y
	return out
}
