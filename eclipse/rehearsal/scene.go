package rehearsal

import (
	"context"
	"math"
	"math/rand/v2"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/limb"
)

// A stream is a purpose for which numbers are drawn. Each has a generator of its
// own, so that a plan with damage, say, has the same weather as one without.
type stream uint64

const (
	streamSun stream = iota + 1
	streamAir
	streamWeather
	streamSensor
	streamNoise
	streamTemp
	streamTempNoise
	streamDamage
	streamDraw
	streamMoon
	streamAirMass
)

// daily draws for what differs from day to day; on the eclipse's own it is newDice.
func (p Plan) daily(s stream) dice {
	const golden = 0x9e3779b97f4a7c15 // 2^64 over the golden ratio, so that seeds of neighbours do not meet
	return newDice(p.Seed+uint64(p.Day)*golden, s)
}

// A dice draws for one stream of one seed.
type dice struct{ *rand.Rand }

func newDice(seed uint64, s stream) dice { return dice{rand.New(rand.NewPCG(seed, uint64(s)))} }

// between is uniform, logBetween uniform in the logarithm.
func (d dice) between(a, b float64) float64 { return a + (b-a)*d.Float64() }
func (d dice) logBetween(a, b float64) float64 {
	return math.Exp(d.between(math.Log(a), math.Log(b)))
}

// A scene is a plan with all that was drawn for it. Times inside are seconds of
// true time from the predicted maximum, or on another day from the same time of day.
type scene struct {
	plan   Plan
	curve  *limb.Curve
	circ   eclipse.Circumstances
	site   *eclipse.Observer
	c1, c4 float64
	limb   []Colour
	light  []*limb.Curve // of each colour, past the Moon's real edge
	edge   edge          // and by how much that is not where it is thought to be
	air    air
	sky    sky
	sensor response
	floor  float64
	lean   float64 // how unevenly totality is lit
}

func newScene(p Plan, curve *limb.Curve) (*scene, error) {
	s := &scene{plan: p, curve: curve, circ: curve.Circumstances(), site: curve.Observer()}
	s.c1, s.c4 = float64(s.circ.C1.TT-s.circ.Max.TT), float64(s.circ.C4.TT-s.circ.Max.TT)
	s.circ.Max.TT = after(s.circ.Max.TT, s.day()) // from here on the origin of all times
	var err error
	d := newDice(p.Seed, streamSun)
	if s.limb, err = newLimb(d); err != nil {
		return nil, err
	}
	s.floor, s.lean = d.logBetween(1, 15), d.between(-0.4, 0.4)
	s.edge = newEdge(newDice(p.Seed, streamMoon), curve.Contacts(), func(k eclipse.Contact) float64 {
		return float64(k.TT - curve.Circumstances().Max.TT)
	})
	early, late := s.c1-p.Margin.Seconds()-p.Lag.Seconds(), s.c4+p.Margin.Seconds()
	if s.air, err = newAir(newDice(p.Seed, streamAir), s.site, s.circ, early, late); err != nil {
		return nil, err
	}
	s.sky = newSky(p.daily(streamWeather), p.Weather, early, late)
	if s.sensor, err = newResponse(newDice(p.Seed, streamSensor), p.Chain); err != nil {
		return nil, err
	}
	if p.Plain {
		s.limb, s.floor, s.lean = []Colour{{Law: curve.Options().Law, Part: 1}}, curve.Options().Floor, 0
		s.sky, s.air, s.edge, s.sensor.bend = sky{}, air{}, edge{}, 0
	}
	for _, c := range s.limb {
		light, err := limb.NewCurve(curve.Moon(), eclipse.CurveOptions{Law: c.Law})
		if err != nil {
			return nil, err
		}
		s.light = append(s.light, light)
	}
	return s, nil
}

// day is how far the log lies from the eclipse's day, s.
func (s *scene) day() float64 { return 86400 * float64(s.plan.Day) }

// after is an instant x seconds later than t.
func after[T ~float64](t T, x float64) T { return t + T(x) }

// since is an instant of true UTC as seconds from the predicted maximum.
func (s *scene) since(utc time.Time) float64 {
	return float64(s.site.Scale().TT(utc) - s.circ.Max.TT)
}

// utc is its inverse, to the millisecond.
func (s *scene) utc(x float64) time.Time {
	return s.site.Scale().UTC(after(s.circ.Max.TT, x)).Round(time.Millisecond)
}

// flux is the visible part of the Sun's light.
func (s *scene) flux(x float64) float64 {
	if s.plan.Day != 0 {
		return 1
	}
	x -= s.edge.late(x)
	var free float64
	for i, c := range s.limb {
		free += c.Part * s.light[i].Flux(after(s.circ.Max.TT, x))
	}
	return free
}

// height is the sine of the Sun's altitude; a plain scene has no Sun in its sky, and
// a high one serves.
func (s *scene) height(x float64) float64 {
	if len(s.air.path) == 0 {
		return 1
	}
	return s.air.toSun(x)[2]
}

// lux is what falls on the sensor.
func (s *scene) lux(x float64) float64 { return s.falls(x, s.flux(x)) }

// falls is lux for a flux that is known already.
func (s *scene) falls(x, flux float64) float64 {
	if s.plan.Plain {
		return s.curve.ClearLux(after(s.circ.Max.TT, x))*flux + s.floor*(1-flux)
	}
	floor := s.floor * (1 + s.lean*math.Max(-1, math.Min(1, x/150)))
	return (s.air.light(x)*flux + floor*(1-flux)) * math.Exp(-s.sky.dims(x))
}

// clockAhead is the stamp less UTC at the origin of times.
func (s *scene) clockAhead() float64 {
	return s.plan.Offset + 3600*float64(s.plan.ZoneHours) + s.plan.DriftPPM*1e-6*s.day()
}

// run samples the scene on the logger's own clock: a record at every multiple of
// the cadence that the clock shows.
func (s *scene) run(ctx context.Context) (*Log, error) {
	p := s.plan
	rate := 1 + p.DriftPPM*1e-6
	ahead := s.clockAhead()
	margin, step := p.Margin.Seconds(), p.Cadence.Seconds()
	first := s.utc((s.c1-margin)*rate + ahead).Truncate(p.Cadence).Add(p.Cadence)
	origin := s.since(first) - ahead // of the clock's own seconds, from maximum
	n := int(((s.c4+margin)*rate-origin)/step) + 1
	noise := p.daily(streamNoise)
	thermometer := newThermometer(p, step/rate)
	through := s.sky.spread(s.c1-margin, s.c4+margin)
	lost := func(x float64) float64 {
		return thermometer.loss(s.flux(x), through.at(x), s.height(x), s.height(0))
	}
	tally := tally{scene: s, clouds: []Span{}}
	records := make([]record, n)
	lag := p.Lag.Seconds()
	for i := range records {
		if i%4096 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		x := (origin + float64(i)*step) / rate
		flux := s.flux(x - lag)
		v, wild := s.sensor.sample(s.falls(x-lag, flux), p, noise)
		records[i].Sample = Sample{
			Stamp:  first.Add(time.Duration(i) * p.Cadence),
			Counts: v,
			Temp:   thermometer.read(x, lost),
		}
		tally.see(x, wild)
	}
	out := &Log{Curve: s.curve, Plan: p, scene: s}
	out.Truth = s.truth(tally, thermometer)
	out.suffer(records, func(i int) time.Time { return s.utc((origin + float64(i)*step) / rate) })
	return out, nil
}

// truth gathers what was drawn.
func (s *scene) truth(t tally, th *thermometer) Truth {
	ahead := s.clockAhead()
	out := Truth{
		Offset: ahead + s.plan.Lag.Seconds(), Clock: ahead, DriftPPM: s.plan.DriftPPM, Max: s.circ.Max.UTC,
		Weather: s.plan.Weather, Clouds: t.clouds, Spikes: t.spikes,
		Limb: s.limb, MoonLate: s.edge.figure, C2Late: s.edge.late2, C3Late: s.edge.late3, Extinction: s.air.extinction, Tilt: s.air.tilt, Facing: s.air.facing,
		Exponent: s.sensor.exponent, Bend: s.sensor.bend, Floor: s.floor, FloorLean: s.lean,
		TempDrop: th.drop, TempLag: th.at, TempTau: th.tau,
	}
	if t.inside > 0 {
		out.Cloudy = float64(t.cloudy) / float64(t.inside)
	}
	return out
}

// A tally collects, record by record, what the truth counts.
type tally struct {
	scene                  *scene
	clouds                 []Span
	open                   bool
	spikes, inside, cloudy int
}

func (t *tally) see(x float64, wild bool) {
	if wild {
		t.spikes++
	}
	cloudy := t.scene.sky.cloudy(x)
	if x > t.scene.c1 && x < t.scene.c4 {
		t.inside++
		if cloudy {
			t.cloudy++
		}
	}
	if cloudy {
		now := t.scene.utc(x)
		if !t.open {
			t.clouds = append(t.clouds, Span{From: now})
		}
		t.clouds[len(t.clouds)-1].To = now
	}
	t.open = cloudy
}
