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

// A row is one reading's line of the regression: the columns, then the log.
type row [columns + 1]float64

// A moving is the part of a row that goes with the shift, from colPower on.
type moving [columns - colPower]float64

// still says that a place of a row does not go with the shift: start, slope and log.
func still(j int) bool { return j < colPower || j == columns }

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

const leanSD = 0.12

// bendScale scales the bend of the response: natural logarithms in which the light
// is counted for it.
const bendScale = 5

// An instant is what the sky shows a level sensor at one reading, whatever the residual
// light: logarithms of the clear sky's lux and of the part of the Sun's light that is
// left, one over their product in lux, and what other laws would add to the latter.
type instant struct{ clear, flux, over, blue, edge float64 }

// look reads the sky for a shift in seconds, unless it has been read just before.
func (p *problem) look(shift float64) {
	if shift == p.seenAt { // exactly: every bit of the sky is the same
		return
	}
	p.seenAt = shift
	pace := 1 + p.rate
	for k, t := range p.t {
		p.light.sight((t-shift)/pace, p.plain, &p.seen[k])
	}
}

// sight reads the sky so many seconds after maximum, of a plain day or with the eclipse.
func (l *light) sight(t float64, plain bool, out *instant) {
	out.clear = l.clear.at(t)
	flux := 1.0
	if !plain {
		flux = l.flux(t)
	}
	if !(flux < 1) {
		out.flux, out.blue, out.edge = 0, 0, 0
	} else {
		out.flux = math.Log(max(0, flux))
		out.blue, out.edge = l.laws.at(out.flux)
	}
	out.over = math.Exp(-out.clear - out.flux)
}

// fill writes the columns for a shift in seconds, unless they are written.
func (p *problem) fill(shift float64) {
	if shift == p.seenAt && p.floor == p.written {
		return
	}
	p.look(shift)
	p.write(shift, 0, len(p.rows))
	p.written = p.floor
}

// write writes the columns of some readings from what is seen.
func (p *problem) write(shift float64, lo, hi int) {
	full, logFloor := p.light.clear.at(0), math.Log(p.floor)
	floor, rows := p.floor, p.rows[lo:hi]
	stances, seen, times, answers := p.stance[lo:][:len(rows)], p.seen[lo:][:len(rows)], p.t[lo:][:len(rows)], p.answers()[lo:][:len(rows)]
	for k := range rows {
		w, s, at := &rows[k], &stances[k], &seen[k]
		rel, share := lit(at.clear+s.change+at.flux, floor*at.over*s.over, logFloor)
		rel -= full
		bend := rel / bendScale
		share *= answers[k]
		lit := answers[k] - share
		// One by one, into their places: a literal is copied there.
		w[colPower], w[colBend], w[colTwist] = rel, bend*bend, bend*bend*bend
		w[colFloor], w[colTilt] = share, share*(times[k]-shift)/600
		w[colBlue], w[colEdge] = at.blue*lit, at.edge*lit
		w[colEast], w[colNorth], w[colAir], w[colSlant] = s.east*lit, s.north*lit, s.air*lit, s.slant*lit
	}
}

// lit adds the residual light to the Sun's, given as its logarithm and by how many times the
// residual light is more, and says how large its share is.
func lit(sun, more, logFloor float64) (log, share float64) {
	const alone = 40 // natural logarithm: what less outshines is nothing to a float64
	if sun < logFloor-alone {
		return logFloor, 1
	}
	share = more / (1 + more)
	if more > 1e-3 {
		return sun + math.Log1p(more), share
	}
	return sun + more*(1-more/2), share // to 4e-10
}
