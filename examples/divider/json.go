package main

import (
	"io"
	"math"

	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sensor"
)

// The shape that programs rely on: keys may be added, not renamed. A Number that
// does not exist is null.
type answer struct {
	Version  int           `json:"version"`
	Sensor   sensorJSON    `json:"sensor"`
	Asked    askedJSON     `json:"asked"`
	Levels   []levelJSON   `json:"levels"`
	Loads    []loadJSON    `json:"loads"` // rising
	Best     loadJSON      `json:"best"`
	Ideal    cli.Number    `json:"ideal_load_ohm"`
	Swing    cli.Number    `json:"swing_fraction"` // of full scale, of the best load
	Enough   bool          `json:"one_is_enough"`
	Two      twoJSON       `json:"two"` // what two sensors would do
	Strain   strainJSON    `json:"strain"`
	Variants []variantJSON `json:"variants"` // sensors that differ from the one given, with the same loads
	Words    wordsJSON     `json:"words"`
}

type sensorJSON struct {
	Kind          string      `json:"kind"` // photoresistor or phototransistor
	Invented      bool        `json:"invented"`
	Wiring        *string     `json:"wiring"`
	SupplyV       cli.Number  `json:"supply_v"`
	Bits          int         `json:"bits"`
	Dead          cli.Number  `json:"dead_fraction"` // at either end of the converter's scale
	R10           *cli.Number `json:"r10_ohm"`
	Gamma         *cli.Number `json:"gamma"`
	Dark          *cli.Number `json:"dark_ohm"`             // null: endless, or a phototransistor
	MicroamperesL *cli.Number `json:"microamperes_per_lux"` // as a Number has six decimals
	SaturationV   *cli.Number `json:"saturation_v"`         // of a phototransistor
	LawEnds       *cli.Number `json:"law_ends_lx"`          // of a photoresistor
}

type askedJSON struct {
	Low     cli.Number `json:"low_lx"`
	High    cli.Number `json:"high_lx"`
	Decades cli.Number `json:"decades"`
	Series  string     `json:"series"`
	Fine    cli.Number `json:"counts_per_octave"`
	Sky     *skyJSON   `json:"sky"` // of -site and -date
}

type skyJSON struct {
	Lat  cli.Number  `json:"lat_deg"`
	Lon  cli.Number  `json:"lon_deg"`
	Date string      `json:"eclipse_date"`
	Low  *cli.Number `json:"clear_sky_low_lx"` // null where nothing is seen
	High *cli.Number `json:"clear_sky_high_lx"`
}

type levelJSON struct {
	Name   string      `json:"name"`
	Light  cli.Number  `json:"light_lx"`
	Cell   *cli.Number `json:"cell_ohm"`
	Source string      `json:"source"`
}

type loadJSON struct {
	Ohms      cli.Number    `json:"load_ohm"`
	Roles     []string      `json:"roles"` // best, common, dim, bright, yours
	Readings  []readingJSON `json:"readings"`
	Low       cli.Number    `json:"counts_per_octave_low"`  // 0: too dark
	High      cli.Number    `json:"counts_per_octave_high"` // 0: saturated
	Dark      cli.Number    `json:"too_dark_below_lx"`
	Saturates cli.Number    `json:"saturates_above_lx"`
	Density   cli.Number    `json:"filter_density"` // that brings high_lx into range
}

type readingJSON struct {
	Level  string      `json:"level"`
	Light  cli.Number  `json:"light_lx"`
	Counts cli.Number  `json:"counts"`
	Status string      `json:"status"`
	Share  *cli.Number `json:"light_fraction_per_count"` // null where the counts are a bound
}

type twoJSON struct {
	Dim      loadJSON   `json:"dim"`
	Bright   loadJSON   `json:"bright"`
	Handover cli.Number `json:"handover_lx"`
	Coarsest cli.Number `json:"counts_per_octave_coarsest"` // 0: somewhere neither reads
	Enough   bool       `json:"two_are_enough"`
}

type strainJSON struct {
	Current cli.Number `json:"greatest_current_ma"`
	Sensor  cli.Number `json:"greatest_sensor_mw"`
	Load    cli.Number `json:"greatest_load_mw"`
}

type variantJSON struct {
	What      string     `json:"what"`
	Dark      cli.Number `json:"too_dark_below_lx"`
	Saturates cli.Number `json:"saturates_above_lx"`
	One       string     `json:"one"`
	Two       string     `json:"two"`
}

// wordsJSON has the paragraphs of the text.
type wordsJSON struct {
	Question string   `json:"question"`
	Light    string   `json:"light"`
	Loads    string   `json:"loads"`
	Answer   []string `json:"answer"`
	Practice []string `json:"practice"`
	Sensors  []string `json:"one_or_two"`
	Doubt    string   `json:"doubt"`
	Cautions []string `json:"cautions"`
}

func (s *story) writeJSON(w io.Writer) error { return cli.WriteJSON(w, s.answer()) }

func (s *story) answer() answer {
	x, p := s.best.Strain(), s.pair
	a := answer{
		Version: 1, Sensor: s.sensorAnswer(),
		Asked: askedJSON{cli.Number(s.low), cli.Number(s.high), cli.Number(math.Log10(s.high / s.low)), (*seriesFlag)(&s.series).String(), cli.Number(s.fine), s.skyAnswer()},
		Best:  loadAnswer(s.best), Ideal: cli.Number(s.best.IdealOhm), Swing: cli.Number(s.best.Swing), Enough: s.design.Enough,
		Strain: strainJSON{cli.Number(1e3 * x.Amperes), cli.Number(1e3 * x.SensorW), cli.Number(1e3 * x.LoadW)},
		Two:    twoJSON{loadAnswer(p.dim), loadAnswer(p.bright), cli.Number(p.HandoverLux), cli.Number(p.CountsPerOctave), p.Enough},
		Levels: []levelJSON{}, Loads: []loadJSON{}, Variants: []variantJSON{},
		Words: wordsJSON{s.question(), totalities, s.legend(), s.answerWords(), s.practice(), s.oneOrTwo(), s.doubt(), s.cautions()},
	}
	for _, l := range levels {
		a.Levels = append(a.Levels, levelJSON{l.name, cli.Number(l.lux), s.cellOhms(l.lux), l.source})
	}
	for _, c := range s.table {
		a.Loads = append(a.Loads, loadAnswer(c))
	}
	for _, v := range s.spread {
		row := variantJSON{What: v.what, Dark: cli.Number(v.one.DarkLux), Saturates: cli.Number(v.one.SaturatesLux)}
		row.One, row.Two = v.keeps()
		a.Variants = append(a.Variants, row)
	}
	return a
}

func (s *story) skyAnswer() *skyJSON {
	if s.day == "" {
		return nil
	}
	a := &skyJSON{Lat: cli.Number(s.Site.Lat), Lon: cli.Number(s.Site.Lon), Date: s.day}
	if s.sky != (sky{}) {
		a.Low, a.High = new(cli.Number(s.sky.low)), new(cli.Number(s.sky.high))
	}
	return a
}

func (s *story) sensorAnswer() sensorJSON {
	a := sensorJSON{Kind: s.sensor, Invented: !s.told(), SupplyV: cli.Number(s.supply), Bits: s.bits, Dead: cli.Number(s.dead)}
	if s.chain.Phototransistor != nil {
		a.MicroamperesL, a.SaturationV = new(cli.Number(1e6*s.amps)), new(cli.Number(saturationV))
		return a
	}
	wiring := string(s.chain.Divider.Wiring)
	a.Wiring, a.R10, a.Gamma, a.LawEnds = &wiring, new(cli.Number(s.r10)), new(cli.Number(s.gamma)), new(cli.Number(lawEnds))
	if s.dark != 0 { // exactly: not set
		a.Dark = new(cli.Number(s.dark))
	}
	return a
}

// cellOhms is null for a phototransistor.
func (s *story) cellOhms(lux float64) *cli.Number {
	if s.chain.Divider == nil {
		return nil
	}
	return new(cli.Number(s.chain.Divider.Cell.Ohms(lux)))
}

func loadAnswer(c candidate) loadJSON {
	out := loadJSON{
		Ohms: cli.Number(c.Ohms), Roles: append([]string{}, c.roles...), Readings: []readingJSON{},
		Low: cli.Number(c.CountsPerOctaveLeast), High: cli.Number(c.CountsPerOctaveGreatest),
		Dark: cli.Number(c.DarkLux), Saturates: cli.Number(c.SaturatesLux), Density: cli.Number(c.SunDensity),
	}
	for _, r := range c.readings {
		row := readingJSON{Level: r.short, Light: cli.Number(r.lux), Counts: cli.Number(r.counts), Status: r.status.String()}
		if r.status == sensor.OK {
			row.Share = new(cli.Number(r.share))
		}
		out.Readings = append(out.Readings, row)
	}
	return out
}
