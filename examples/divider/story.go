package main

import (
	"errors"
	"math"
	"slices"

	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sensor"
)

// A story is the library's answer, before it is put into words.
type story struct {
	settings
	chain  sensor.Chain
	design sensor.Design
	best   candidate
	common []candidate // what people take, best or not
	own    *candidate  // -load
	table  []candidate // by ohms
	pair   pair
	spread []variant
}

// A candidate is a load that was tried.
type candidate struct {
	sensor.Load
	readings []reading
	ends     float64  // counts at SaturatesLux
	roles    []string // what it is in the story, if it is anything
}

// A pair is two sensors and the light at which they change over.
type pair struct {
	*sensor.Pair
	dim, bright candidate
}

// commonOhms are the loads of circuits that are passed on: common practice, no source.
var commonOhms = []float64{1000, 10000}

// ask asks the library.
func ask(o settings) (*story, error) {
	s := &story{settings: o, chain: o.chain()}
	var err error
	if s.design, err = s.chain.Design(o.low, o.high, o.options()); err != nil {
		return nil, err
	}
	if s.best, err = s.look(s.design.One); err != nil {
		return nil, err
	}
	if err := errors.Join(s.two(), s.vary()); err != nil {
		return nil, err
	}
	for _, ohms := range commonOhms {
		if err := s.tryInto(&s.common, ohms); err != nil {
			return nil, err
		}
	}
	if o.given["load"] {
		own, err := s.try(o.load)
		if errors.Is(err, sensor.ErrBlind) {
			return nil, cli.Usagef("-load %g: %w", o.load, err)
		}
		if err != nil {
			return nil, err
		}
		s.own = &own
	}
	return s, s.tabulate()
}

// try asks for one load.
func (s *story) try(ohms float64) (candidate, error) {
	l, err := s.chain.Try(ohms, s.low, s.high, s.options())
	if err != nil {
		return candidate{}, err
	}
	return s.look(l)
}

// tryInto adds a load to a list, unless no light at all can be read with it.
func (s *story) tryInto(list *[]candidate, ohms float64) error {
	c, err := s.try(ohms)
	if errors.Is(err, sensor.ErrBlind) {
		return nil
	}
	if err == nil {
		*list = append(*list, c)
	}
	return err
}

// look reads the levels with a load.
func (s *story) look(l sensor.Load) (candidate, error) {
	conv, err := l.Chain.Compile()
	if err != nil {
		return candidate{}, err
	}
	return candidate{Load: l, readings: readings(conv), ends: conv.Counts(l.SaturatesLux)}, nil
}

// two asks for the pair, also where one sensor is enough.
func (s *story) two() error {
	two, err := s.chain.Pair(s.low, s.high, s.options())
	if err != nil {
		return err
	}
	dim, errDim := s.look(two.Dim)
	bright, errBright := s.look(two.Bright)
	s.pair = pair{Pair: two, dim: dim, bright: bright}
	return errors.Join(errDim, errBright)
}

// worse is the worse end of a load, counts per octave.
func worse(l sensor.Load) float64 { return math.Min(l.CountsPerOctaveLeast, l.CountsPerOctaveGreatest) }

// ofLight is one count as a part of the light, 0 where there is no number.
func ofLight(perOctave float64) float64 {
	if perOctave == 0 { // exactly: a bound
		return 0
	}
	return math.Ln2 / perOctave
}

// tabulate tries loads in coarse steps over three decades around the best, its
// neighbours, and those that have a role.
func (s *story) tabulate() error {
	best := s.best.Ohms
	ohms := slices.Collect(sensor.E3.Range(math.Max(1, best/32), math.Min(1e9, 32*best)))
	ohms = append(ohms, s.neighbours()...)
	roles := map[float64][]string{}
	role := func(ohms float64, name string) { roles[ohms] = append(roles[ohms], name) }
	role(best, "best")
	for _, v := range commonOhms {
		role(v, "common")
	}
	role(s.pair.Dim.Ohms, "dim")
	role(s.pair.Bright.Ohms, "bright")
	if s.own != nil {
		role(s.own.Ohms, "yours")
	}
	for v := range roles {
		ohms = append(ohms, v)
	}
	slices.Sort(ohms)
	for _, v := range slices.Compact(ohms) {
		before := len(s.table)
		if err := s.tryInto(&s.table, v); err != nil {
			return err
		}
		if len(s.table) > before {
			s.table[before].roles = roles[v]
		}
	}
	return nil
}

// neighbours are the best load and those sold on either side of it.
func (s *story) neighbours() []float64 {
	const aside = 1e-6 // far less than a step of any series
	out := []float64{s.best.Ohms}
	for _, v := range []float64{s.series.Down(s.best.Ohms * (1 - aside)), s.series.Up(s.best.Ohms * (1 + aside))} {
		if v >= 1 && v <= 1e9 {
			out = append(out, v)
		}
	}
	return out
}
