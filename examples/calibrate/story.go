package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"time"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/logfile"
	"example.org/noonfall/sensor"
)

// A story is all that the page, the JSON and the pictures tell.
type story struct {
	opt     settings
	station *station.Station
	part    *station.Part // nil where there is no chain: readings are taken as they are
	lamp    *lampStory
	morning *station.Morning
	// both is nil unless lamp and morning were calibrated; agree says whether they may
	// be taken together.
	both  *sensor.Calibration
	agree bool
	// best is what is recommended, and chain has it in.
	best  *sensor.Calibration
	chain *sensor.Chain
	truth *truth // of the demo
}

// A lampStory is a calibration by a lamp.
type lampStory struct {
	file   string
	points []sensor.LampPoint
	sensor.LampCalibration
	absolute bool // its candela is known
	fitZero  bool
	fitRoom  bool
}

// fit is the morning's, or nil.
func (s *story) fit() *station.MorningFit {
	if s.morning == nil {
		return nil
	}
	return s.morning.Fit
}

// tell reads and calibrates what there is.
func tell(ctx context.Context, o settings) (*story, error) {
	s := &story{opt: o}
	source := ownFile
	if o.demo() {
		source, s.opt.lamp, s.opt.morning, s.opt.station = demo().Open, demoLamp, demoMorning, demoStation
		s.opt.candela, s.opt.candelaU = demoCandela, demoCandelaU
		var err error
		if s.truth, err = readTruth(); err != nil {
			return nil, err
		}
	}
	if err := s.describe(source); err != nil {
		return nil, err
	}
	if err := s.underLamp(source); err != nil {
		return nil, err
	}
	if err := s.underSun(ctx, source); err != nil {
		return nil, err
	}
	return s, s.conclude()
}

func ownFile(name string) (fs.File, error) { return os.Open(name) }

// describe finds the station: the one of a file, or only a place.
func (s *story) describe(open func(string) (fs.File, error)) error {
	o := &s.opt
	if o.station == "" {
		s.station = &station.Station{Version: station.Version, Code: "log", Site: station.Site{Lat: o.Site.Lat, Lon: o.Site.Lon, Height: o.Site.Height},
			Eclipse: o.Date.Format(time.DateOnly)}
	} else {
		f, err := open(o.station)
		if err != nil {
			return err
		}
		defer f.Close()
		data, err := io.ReadAll(f)
		if err != nil {
			return fmt.Errorf("%s: %w", o.station, err)
		}
		if s.station, err = station.Parse(data); err != nil {
			return fmt.Errorf("%s: %w", o.station, err)
		}
		if o.given["site"] {
			s.station.Site = station.Site{Lat: o.Site.Lat, Lon: o.Site.Lon, Height: o.Site.Height}
		}
	}
	for _, f := range []struct {
		value string
		into  *string
	}{{o.zone, &s.station.Zone}, {o.order, &s.station.Layout.Order}, {o.light, &s.station.Layout.Light}} {
		if f.value != "" {
			*f.into = f.value
		}
	}
	if s.station.Chain == nil {
		return nil
	}
	var err error
	s.part, err = station.NewPart(*s.station.Chain)
	return err
}

// unit of a reading, once it is what light alone did to the part.
func (s *story) unit() string {
	if s.part == nil {
		return "(the reading's unit)"
	}
	return s.part.Unit()
}

// underLamp reads the lamp's sheet and calibrates by it.
func (s *story) underLamp(open func(string) (fs.File, error)) error {
	o := &s.opt
	if o.lamp == "" {
		return nil
	}
	f, err := open(o.lamp)
	if err != nil {
		return err
	}
	defer f.Close()
	rows, err := readLamp(f)
	if err != nil {
		return fmt.Errorf("%s: %w", o.lamp, err)
	}
	l := &lampStory{file: filepath.Base(o.lamp), absolute: o.candela > 0, fitZero: !o.given["zero"], fitRoom: !o.given["room"]}
	for _, r := range rows {
		p, err := s.lampPoint(r)
		if err != nil {
			return fmt.Errorf("%s: line %d: %w", o.lamp, r.line, err)
		}
		l.points = append(l.points, p)
	}
	lamp := sensor.Lamp{Candela: 1, ZeroM: o.zero, BackgroundLux: o.room}
	if l.absolute {
		lamp.Candela, lamp.CandelaLnU = o.candela, o.candelaU
	}
	l.LampCalibration, err = sensor.CalibrateLamp(lamp, l.points, sensor.LampOptions{FitZero: l.fitZero, FitBackground: l.fitRoom})
	if err != nil {
		return fmt.Errorf("%s: %w", o.lamp, err)
	}
	s.lamp = l
	return nil
}

// lampPoint turns a reading into what the lamp did to the part.
func (s *story) lampPoint(r lampRow) (sensor.LampPoint, error) {
	p := sensor.LampPoint{DistanceM: r.distance, DistanceU: r.distanceU, Value: r.reading, ValueLnU: r.readingU / r.reading}
	if s.part == nil {
		return p, nil
	}
	k, status := s.part.Value(r.reading)
	if status != sensor.OK {
		return p, fmt.Errorf("a reading of %g is %v by the chain, and no number: leave the line out", r.reading, status)
	}
	p.Value, p.ValueLnU = k.Value, k.ValueLnU
	if r.readingU > 0 {
		up, _ := s.part.Value(r.reading + r.readingU)
		down, _ := s.part.Value(r.reading - r.readingU)
		p.ValueLnU = math.Abs(math.Log(up.Value/down.Value)) / 2
	}
	return p, nil
}

// deciders are the flags that settle what a layout leaves open.
var deciders = map[string]string{"light": "-light", "order": "-order", "date": "-date", "columns": `"layout" in the station's file, with -station`,
	"starts": `"starts" under "layout" in the station's file, with -station`}

// underSun reads the morning's log and calibrates by it.
func (s *story) underSun(ctx context.Context, open func(string) (fs.File, error)) error {
	o := &s.opt
	if o.morning == "" {
		return nil
	}
	opt := station.MorningOptions{Surface: o.surface, Exponent: o.exponent}
	if o.given["date"] {
		opt.Day = o.Date
	}
	log := station.File{Name: o.morning, Open: func() (io.ReadCloser, error) { return open(o.morning) }}
	var err error
	s.morning, err = station.CalibrateMorning(ctx, s.station, []station.File{log}, opt)
	if l := (*logfile.LayoutError)(nil); errors.As(err, &l) && deciders[l.Decides] != "" {
		return fmt.Errorf("%w (decide with %s)", err, deciders[l.Decides])
	}
	return err
}

// disagreement is the chi-square with two degrees of freedom above which lamp and
// morning do not agree: 5 % of those that do exceed it.
const disagreement = 5.99

// conclude compares, and puts what is best into the chain.
func (s *story) conclude() error {
	f := s.fit()
	switch {
	case s.lamp != nil && f != nil:
		both, err := sensor.Combine(s.lampLaw(), f.Calibration)
		if err != nil {
			return err
		}
		s.both, s.agree, s.best = &both, both.ChiSquare <= disagreement, &both
		if !s.agree { // by day the morning's lights are those that matter
			s.best = &f.Calibration
		}
	case f != nil:
		s.best = &f.Calibration
	case s.lamp != nil && s.lamp.absolute:
		alone := s.lampLaw()
		s.best = &alone
	}
	if s.best == nil || s.part == nil {
		return nil
	}
	chain, err := s.part.Calibrated(*s.best)
	if err != nil {
		return fmt.Errorf("the calibration gives no part that there is: %w", err)
	}
	trim(&chain)
	s.chain = &chain
	return nil
}

// A lamp's calibration holds in the lamp's lights. For daylight, hundreds of times as
// bright, its exponent is no better than bendU: cells' exponents change by a few
// hundredths over five decades (common practice, no source). What a lamp of unknown candela
// knows of lux is unknownGain, of its logarithm: nothing.
const (
	bendU       = 0.02
	unknownGain = 10
)

// lampLaw is the lamp's calibration as far as it knows other lights than its own.
func (s *story) lampLaw() sensor.Calibration {
	c := s.lamp.Calibration
	if !s.lamp.absolute {
		c.R *= c.LnValueU / unknownGain
		c.LnValueU = unknownGain
	}
	lights := s.lampLights()
	return c.Loosened(bendU, math.Sqrt(least(lights)*greatest(lights)))
}

// trim rounds what the calibration put into a chain, far below its uncertainty.
func trim(c *sensor.Chain) {
	switch {
	case c.Divider != nil:
		cell := &c.Divider.Cell
		cell.R10Ohm, cell.Gamma = figures(cell.R10Ohm, 5), decimals(cell.Gamma, 5)
		cell.R10LnU, cell.GammaU, cell.R10GammaR = decimals(cell.R10LnU, 4), decimals(cell.GammaU, 5), decimals(cell.R10GammaR, 4)
	case c.Phototransistor != nil:
		t := c.Phototransistor
		t.AmperesPerLux, t.AmperesPerLuxLnU = figures(t.AmperesPerLux, 5), decimals(t.AmperesPerLuxLnU, 4)
	case c.Digital != nil:
		c.Digital.LuxPerCount, c.Digital.LuxPerCountLnU = figures(c.Digital.LuxPerCount, 5), decimals(c.Digital.LuxPerCountLnU, 4)
	}
}
