package rehearsal

import "math"

// A thermometer reads the air: a day's course, less a fall that follows the lost
// sunlight fast and slowly, gusts that have a memory, now and then another air mass,
// and the instrument's own lag, scatter and last place. None of it has the form in
// which eclipse/cooling thinks of it.
type thermometer struct {
	dice
	noon, swing float64 // degrees Celsius; half the swing of the day
	phase       float64 // of the day at maximum, radians from its warmest hour
	skew, kink  float64 // of the second wave of the day: part of the swing, radians
	fall        float64 // if the Sun stayed dark, degrees Celsius
	steps       int     // of the air from record to record
	step        float64 // s
	memory      float64 // s
	keep        float64 // of the fast lag, from step to step
	slowKeep    float64 // of the ground's
	slow        float64 // part of the fall that is the ground's
	dark, deep  float64 // lost sunlight as the air and the ground have felt it
	level       float64 // how much the ground is level: the power of the Sun's height in what it loses, 0 to 1
	drop, at    float64 // greatest fall so far and its instant, s from maximum
	gust, calm  float64 // standard deviation, degrees Celsius; memory of the gusts, s
	wind        float64 // of now, degrees Celsius
	front       float64 // what another air mass brings, degrees Celsius
	frontAt     float64 // s from maximum
	frontTakes  float64 // s
	tau         float64 // of the thermometer, s
	shown       float64 // by it, before scatter
	begun       bool
	place       float64 // the last place, degrees Celsius
}

// newThermometer draws the air's answer: falls of up to 5 degrees, some 5 to 20
// minutes behind the light. What was measured is 0.3 to 7 degrees, and 10 to 15
// minutes (testdata/references/eclipse_temperature.csv). All else: common practice, no
// source.
func newThermometer(p Plan, cadence float64) *thermometer {
	steps := int(math.Ceil(cadence / airStep))
	step := cadence / float64(steps)
	d := newDice(p.Seed, streamTemp)
	t := &thermometer{
		dice: p.daily(streamTempNoise), noon: d.between(12, 32), swing: d.between(2, 6), phase: d.between(-1, 1),
		fall: d.between(2, 7), memory: d.between(400, 1600), steps: steps, step: step,
	}
	t.slow, t.slowKeep = d.between(0, 0.25), math.Exp(-step/d.between(3000, 9000))
	t.skew, t.kink = d.between(0, 0.25), d.between(0, 2*math.Pi)
	t.level = d.Float64()
	t.tau, t.place = d.logBetween(8, 120), []float64{0.01, 0.01, 0.0625, 0.1}[d.IntN(4)]
	if p.Day != 0 {
		t.noon += t.between(-2, 2) // no two days are equally warm
	}
	w := p.daily(streamAirMass)
	// In 24 stretches of six hours measured at one place on six days, clear to overcast, the likeliest
	// gusts are of 0.06 to 0.8 degrees and forgotten in 400 s to an hour; a calm place is stiller.
	t.gust, t.calm = w.logBetween(0.02, 0.25), w.logBetween(60, 3600)
	if p.Weather != Clear && p.Weather != Haze {
		t.gust *= 2
	}
	if w.Float64() < 0.15 {
		t.front, t.frontAt, t.frontTakes = w.between(-0.8, 0.8), w.between(-9000, 9000), w.between(120, 1500)
	}
	if p.Plain {
		t.gust, t.front, t.skew, t.slow = 0, 0, 0, 0
	}
	t.keep = math.Exp(-step / t.memory)
	t.wind = t.gust * t.NormFloat64()
	return t
}

// airStep is the longest step of the air between records, s: a record every five minutes
// has the same truth as one every second.
const airStep = 10.0

// read is the next record's temperature, x seconds from maximum; lost is the sunlight
// that the Moon takes, see loss.
func (t *thermometer) read(x float64, lost func(float64) float64) float64 {
	for i := t.steps - 1; i >= 0; i-- {
		t.advance(x-float64(i)*t.step, lost(x-(float64(i)+0.5)*t.step))
	}
	return t.place * math.Round((t.shown+0.03*t.NormFloat64())/t.place)
}

// advance moves air and thermometer by one step, to x.
func (t *thermometer) advance(x, lost float64) {
	t.dark = t.keep*t.dark + (1-t.keep)*lost
	t.deep = t.slowKeep*t.deep + (1-t.slowKeep)*lost
	fall := t.fall * ((1-t.slow)*t.dark + t.slow*t.deep)
	if fall > t.drop {
		t.drop, t.at = fall, x
	}
	keep := math.Exp(-t.step / t.calm)
	t.wind = keep*t.wind + t.gust*math.Sqrt(1-keep*keep)*t.NormFloat64()
	air := t.day(x) - fall + t.wind
	if t.front != 0 {
		air += t.front / 2 * (1 + math.Tanh((x-t.frontAt)/t.frontTakes))
	}
	if !t.begun {
		t.begun, t.shown = true, air
	}
	t.shown += (1 - math.Exp(-t.step/t.tau)) * (air - t.shown)
}

// loss is what the Moon takes of the Sun's warmth, of the whole at maximum: a high Sun
// has more to lose, and one that has set nothing. How much more is drawn, since a wall
// that faces the Sun does not ask how high it stands. Of the part that clouds keep off
// the Moon takes nothing. Their own chill is among the gusts.
func (t *thermometer) loss(flux, through, height, heightAtMax float64) float64 {
	const grazing, low = 0.03, 0.15 // sines of the height under which sunlight dies away, and of a low Sun; common practice, no source
	up := math.Max(0, math.Min(1, height/grazing))
	return (1 - flux) * through * up * math.Pow(math.Max(height, grazing)/math.Max(heightAtMax, low), t.level)
}

// day is the temperature without eclipse, wind and weather: a wave and its first overtone.
func (t *thermometer) day(x float64) float64 {
	const turn = 2 * math.Pi / 86400
	return t.noon + t.swing*(math.Cos(t.phase+x*turn)-1+t.skew*math.Cos(t.kink+2*x*turn))
}
