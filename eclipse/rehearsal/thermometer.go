package rehearsal

import "math"

// A thermometer reads the air: a day's course, less a fall that follows the lost
// sunlight through a first-order lag, and its own scatter.
type thermometer struct {
	dice
	noon, swing float64 // degrees Celsius; half the swing of the day
	phase       float64 // of the day at maximum, radians from its warmest hour
	fall        float64 // if the Sun stayed dark, degrees Celsius
	memory      float64 // s
	keep        float64 // of the lag, from record to record
	dark        float64 // lost sunlight as the air has felt it
	drop, at    float64 // greatest fall so far and its instant, s from maximum
}

// newThermometer draws the air's answer: falls of up to 5 degrees, some 5 to 20
// minutes behind the light. What was measured is 0.3 to 7 degrees, and 10 to 15
// minutes (testdata/references/eclipse_temperature.csv).
func newThermometer(p Plan, step float64) *thermometer {
	d := newDice(p.Seed, streamTemp)
	t := &thermometer{
		dice: p.daily(streamTempNoise), noon: d.between(12, 32), swing: d.between(2, 6), phase: d.between(-1, 1),
		fall: d.between(2, 7), memory: d.between(400, 2000),
	}
	if p.Day != 0 {
		t.noon += t.between(-2, 2) // no two days are equally warm: common practice, no source
	}
	t.keep = math.Exp(-step / t.memory)
	return t
}

// read is the next record's temperature, x seconds from maximum.
func (t *thermometer) read(x, flux float64) float64 {
	t.dark = t.keep*t.dark + (1-t.keep)*(1-flux)
	if fall := t.fall * t.dark; fall > t.drop {
		t.drop, t.at = fall, x
	}
	day := t.noon + t.swing*(math.Cos(t.phase+x*2*math.Pi/86400)-1)
	return day - t.fall*t.dark + 0.03*t.NormFloat64()
}
