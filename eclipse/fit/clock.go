package fit

import (
	"context"
	"errors"
	"math"
	"time"

	"gonum.org/v1/gonum/floats"

	"example.org/noonfall/sensor"
)

// A Sample is one line of a log: when it says it was taken, and how much light.
type Sample struct {
	// Time is the logger's own stamp with its zone applied, as UTC.
	Time time.Time
	// Value is lux, or any reading that grows with light: counts will do.
	Value float64
	// Status tells a bound from a number; only sensor.OK samples are numbers.
	Status sensor.Status
}

// Options tunes a clock fit. The zero value is the recommended setting.
type Options struct {
	// Search bounds the offset either way. Zero means 15 h: any clock left on
	// local time.
	Search time.Duration
	// NoLimbTerm leaves out of what is reported what the Moon's limb leaves open. It
	// serves comparison with logs that were made with the very same Moon.
	NoLimbTerm bool
	// Drift fits the clock's rate as well as its offset: for a clock that gains or loses
	// seconds in an hour. A crystal's 20 millionths cannot be told by one eclipse.
	Drift bool
	// ResponseU says that values follow a power of the light, and how well: by how much,
	// as a natural logarithm and a standard uncertainty, a response may be off that power
	// within five e-folds of light. 0.02 suits calibrated lux. Zero says that nothing is
	// known; then limb darkening is not told. The clock goes without it in either case.
	ResponseU float64
}

const defaultSearch = 15 * time.Hour

// LimbU is the standard uncertainty, in seconds, that a smooth Moon brings to a
// clock: its figure sits half a second of arc off its centre of mass, and it
// crosses the Sun at 0.35 arcsec a second (half an arcsec over that rate; the
// figure's offset is package limb's).
const LimbU = 1.4

// figureU is what the real Moon leaves open wherever one looks, s: a tenth
// of a kilometre in the figure's place over 0.7 km/s. Common practice, no source.
const figureU = 0.15

// How far the fit looks for a better shift, s: from the search's match, and
// from where a first fit has put it. Common practice, no source.
const (
	matchReach = 600.0
	fineReach  = 150.0
	longest    = 60.0 // s that one reading may stand for
	relay      = 10.0 // by which inner contacts may move in a window that was laid closely around them
	manySteps  = 6    // of the grid either way
	fewSteps   = 3
)

// Clock finds by how much the log's stamps are ahead of UTC, from the light
// alone. The response of the sensor, slow changes of the sky, cloud, residual
// light and limb darkening are nuisances that it estimates along the way. What
// delays the light in the logger (the sensor's lag, the averaging window) is
// part of the offset, for light cannot tell it from the clock.
//
// The samples may come in any order. The error is a *Refusal where the data
// cannot tell; its Reason is a sentinel for errors.Is.
func Clock(ctx context.Context, samples []Sample, c Curve, opt Options) (*Result, error) {
	l, err := newLight(c)
	if err != nil {
		return nil, err
	}
	reach := opt.Search
	if reach == 0 {
		reach = defaultSearch
	}
	r, err := l.clock(ctx, samples, math.Abs(reach.Seconds()), false, opt)
	no := (*Refusal)(nil)
	if !errors.As(err, &no) || !no.Reason.mayFall() {
		return r, err
	}
	// A sensor whose readings fall as the light grows shows the eclipse upside down.
	if r, turned := l.clock(ctx, samples, math.Abs(reach.Seconds()), true, opt); turned == nil && r.Evidence > fallingMore*demanded(r.Offset, r.CloudFraction, r.Response.Exponent, 0) {
		return r, nil
	} else if !errors.As(turned, new(*Refusal)) && turned != nil {
		return nil, turned
	}
	return nil, err
}

// fallingMore is by how much more evidence a sensor upside down needs, which nobody has
// said it is. Common practice, no source.
const fallingMore = 4

// clock fits the samples as they are, or turned round.
func (l *light) clock(ctx context.Context, samples []Sample, reach float64, falling bool, opt Options) (*Result, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	s := newSeries(samples, l.curve.Observer().Scale(), l.max, falling)
	if err := l.usable(&s, len(samples)); err != nil {
		return nil, err
	}
	p, shift, err := l.locate(ctx, &s, reach)
	if err == nil {
		p, shift, err = l.contest(ctx, &s, p, shift)
	}
	if err != nil {
		return nil, l.explain(&s, err)
	}
	r, err := p.report(&s, shift, opt)
	if err != nil {
		return nil, l.explain(&s, err)
	}
	if r, err = l.moved(ctx, samples, &s, p, r, opt); err != nil {
		return nil, err
	}
	r.Response.Falling = falling
	for _, half := range r.Segments {
		half.Clock.Response.Falling = falling
	}
	return r, nil
}

// A lens is how closely the readings of a window are looked at.
type lens struct {
	sharp float64 // s either side of an inner contact that are read at full cadence
	grow  float64 // of the seconds beyond those, that one reading may stand for
	faint bool    // faint readings as well, which the problem's soften reads
}

// The first fit around a match wants to be within a minute, those that follow all there is.
var (
	coarse = lens{sharp: 5, grow: 0.2}
	fine   = lens{sharp: 25, grow: 0.1, faint: true}
)

// window cuts the readings around the eclipse at a shift, a few seconds each
// near the inner contacts, where a second changes the light by a tenth, and
// longer elsewhere.
func (l *light) window(s *series, shift float64, through lens) (*problem, error) {
	width := func(stamp float64) float64 {
		t := stamp - shift
		near := min(math.Abs(t-l.c2), math.Abs(t-l.c3))
		if math.IsNaN(near) {
			near = math.Abs(t) + 120
		}
		return max(0.5, min(longest, through.grow*(near-through.sharp)))
	}
	all := binned(s.between(shift+l.c1-aside, shift+l.c4+aside), through.faint, width)
	readings := all[:0]
	var inside float64
	bright := 0
	before := math.NaN()
	for _, r := range all {
		gap := r.t - before // readings is all's own memory: look back before it is written to
		before = r.t
		if l.clear.at(r.t-shift) < logLeastClear {
			continue
		}
		readings = append(readings, r)
		if r.faint {
			continue
		}
		bright++
		if t := r.t - shift; gap > 0 && t > l.c1 && t < l.c4 {
			inside += math.Min(gap, 5*searchBin)
		}
	}
	full, whole := s.full.between(shift+l.c1, shift+l.c4), l.c4-l.c1
	if bright < leastSamples || inside < leastRead*whole || inside+full.seconds() < leastInside*whole {
		return nil, refuse(NoOverlap, "%.0f min of the eclipse's %.0f min hold usable light", inside/60, whole/60)
	}
	p := newProblem(l, readings)
	p.laid, p.full = shift, full
	p.stand(shift)
	return p, nil
}

// Parts of first to fourth contact that must hold usable light, or more than the sensor can
// tell, and usable light itself. Common practice, no source.
const (
	leastInside = 0.15
	leastRead   = 0.05
)

// near fits around one match: once with a restless sky and coarse readings, to
// be within a minute, and again with a window laid for the shift found.
func (l *light) near(ctx context.Context, s *series, shift float64) (*problem, float64, error) {
	p, err := l.window(s, shift, coarse)
	if err != nil {
		return nil, 0, err
	}
	p.setFloor(l.darkest(p.readings))
	p.mistrust(shift)
	p.use(openTemper())
	// Shift first, by the steep flanks, then the floor, and only what neither
	// explains is a jump: freed earlier, the flanks of totality would be jumps.
	for reach := matchReach; reach > fineReach/2; reach /= 2 {
		shift, _ = p.lowest(shift, reach, manySteps)
		p.refloor(shift, 2, 4)
	}
	p.settleJumps(shift)
	shift, _ = p.lowest(shift, fineReach, manySteps)
	for range 3 {
		next, err := l.window(s, shift, fine)
		if err != nil {
			return nil, 0, err
		}
		next.follow(p)
		if shift, err = next.refine(ctx, shift); err != nil {
			return nil, 0, err
		}
		p = next
		at, found := p.elsewhere(shift)
		if !found && !p.misplaced(shift) {
			break
		}
		shift = at
	}
	return p, shift, nil
}

// follow begins with what another window's problem found.
func (p *problem) follow(q *problem) {
	copy(p.reg.beta.Data, q.reg.beta.Data)
	p.setFloor(q.floor)
}

// misplaced says that the window was laid closely around contacts that are elsewhere.
func (p *problem) misplaced(shift float64) bool {
	return math.Abs(shift-p.laid) > relay && p.light.close()
}

// refine finds the shift and the noise.
func (p *problem) refine(ctx context.Context, shift float64) (float64, error) {
	p.open(shift)
	return p.alternate(ctx, shift)
}

// open begins at a shift with an open temper.
func (p *problem) open(shift float64) {
	p.feel(shift)
	p.soften(shift)
	p.mistrust(shift)
	p.use(openTemper())
}

// alternate goes from the shift to the noise and back until both settle.
func (p *problem) alternate(ctx context.Context, shift float64) (float64, error) {
	const (
		rounds   = 4
		shiftTol = 0.1 // s; the report looks once more
		sizeTol  = 0.3 // natural logarithm
	)
	for round := range rounds {
		if err := ctx.Err(); err != nil {
			return 0, err
		}
		was, before := shift, p.temper
		steps := manySteps
		if round > 0 { // near the bottom of one valley
			steps = fewSteps
		}
		shift, _ = p.lowest(shift, fineReach/float64(int(1)<<round), steps)
		p.hush(shift, round)
		if math.Abs(shift-was) < shiftTol && floats.Distance(p.temper[:], before[:], math.Inf(1)) < sizeTol {
			break
		}
	}
	return shift, nil
}

// hush finds the noise that suits a shift: jumps, residual light, how the sensor
// leans, where it is rough, and the sizes, which may move less with every round.
func (p *problem) hush(shift float64, round int) {
	const firstSizes = 4.0 // natural logarithm
	p.settleJumps(shift)
	p.refloor(shift, 1.25, 3)
	p.deviance(shift)
	p.lean(shift)
	p.deviance(shift)
	p.soften(shift)
	p.feel(shift)
	p.deviance(shift)
	p.mistrust(shift)
	residual := p.residual()
	p.rough = p.roughness(residual)
	p.veiled = p.veil(residual)
	p.loosen(shift, residual)
	if round == 0 { // an open temper is for finding the shift
		p.use(stillTemper())
	}
	p.settle(firstSizes / float64(int(1)<<round))
}

// openTemper is the temper to begin with: a level that moves easily, so that no
// single cloud pulls the shift away before it is known for one.
func openTemper() temper {
	w := stillTemper()
	w[calmSize] += 4
	return w
}
