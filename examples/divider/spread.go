package main

import (
	"errors"

	"example.org/noonfall/sensor"
)

// A variant is another sensor of the same type with the loads that were chosen.
type variant struct {
	what        string
	one         sensor.Load
	dim, bright sensor.Load // of the pair
}

// Two cells of one type, or two phototransistors of one bin, differ by a factor of
// two (from memory, see package sensor); an exponent read off a catalogue's line by 0.05.
const (
	factor = 2
	aside  = 0.05
)

// vary tries the chosen load with sensors that are not quite what was said.
func (s *story) vary() error {
	for _, v := range []struct {
		what, kind string
		change     func(*settings)
	}{
		{"half the ohms at 10 lx", "photoresistor", func(o *settings) { o.r10 /= factor }},
		{"twice the ohms at 10 lx", "photoresistor", func(o *settings) { o.r10 *= factor }},
		{"exponent less by 0.05", "photoresistor", func(o *settings) { o.gamma -= aside }},
		{"exponent greater by 0.05", "photoresistor", func(o *settings) { o.gamma += aside }},
		{"half the current", "phototransistor", func(o *settings) { o.amps /= factor }},
		{"twice the current", "phototransistor", func(o *settings) { o.amps *= factor }},
	} {
		if v.kind != s.sensor {
			continue
		}
		other := s.settings
		v.change(&other)
		c := other.chain()
		load := func(ohms float64) (sensor.Load, error) { return c.Try(ohms, s.low, s.high, s.options()) }
		one, err := load(s.best.Ohms)
		dim, errDim := load(s.pair.Dim.Ohms)
		bright, errBright := load(s.pair.Bright.Ohms)
		err = errors.Join(err, errDim, errBright)
		var part *sensor.PartError
		if errors.Is(err, sensor.ErrBlind) || errors.As(err, &part) {
			continue // there is no such sensor, or it sees nothing
		}
		if err != nil {
			return err
		}
		s.spread = append(s.spread, variant{what: v.what, one: one, dim: dim, bright: bright})
	}
	return nil
}

// keeps says which ends of the light are read, and whether all between them is.
func (v variant) keeps() (one, two string) {
	one = ends(v.one.CountsPerOctaveLeast > 0, v.one.CountsPerOctaveGreatest > 0, true)
	two = ends(v.dim.CountsPerOctaveLeast > 0, v.bright.CountsPerOctaveGreatest > 0, v.bright.DarkLux <= v.dim.SaturatesLux)
	return one, two
}

func ends(dark, bright, between bool) string {
	switch {
	case !dark && !bright:
		return "loses both ends"
	case !dark:
		return "loses the dark end"
	case !bright:
		return "loses the bright end"
	case !between:
		return "has a gap"
	}
	return "keeps all"
}
