// Gendemo makes the demo station's files, its description, its log and the truth
// behind the log, and those of the school network in the same way. It is run by go generate in the demo folder:
//
//	go run ./internal/gendemo -out data
//
// The output is the same, byte for byte, every time. All of it is invented.
package main

import (
	"bytes"
	"context"
	"time"

	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sensor"
)

func main() { cli.Main("gendemo", run) }

var run = cli.Generator("gendemo", makeFiles)

const logName = "20270802.csv"

// yard is the station as its owners describe it. Every number is invented; the
// cell's are those of a common one.
func yard() station.Station {
	return station.Station{
		Version: station.Version,
		Code:    "YARD-07",
		Site:    station.Site{Lat: 36.0, Lon: -5.6, Height: 10},
		Eclipse: "2027-08-02",
		Files:   []string{logName},
		Chain: &sensor.Chain{
			ADC: sensor.ADC{Bits: 12, ReferenceV: 3.3, Ratiometric: true, DeadLow: 0.003, DeadHigh: 0.005, NoiseCounts: 0.7, Averaged: 32, LogStepCounts: 0.1},
			Divider: &sensor.Divider{
				Wiring: sensor.CellOnTop, SupplyV: 3.3, LoadOhm: 220, LoadTolerance: 0.05,
				Cell: sensor.Photoresistor{R10Ohm: 12e3, Gamma: 0.65, R10LnU: 0.2, GammaU: 0.03},
			},
		},
		ClockSet: station.SetByHand,
		ClockNotes: []station.ClockNote{ // of a clock that is 41.7 s fast at maximum
			{Stamp: "2027-08-02T06:30:42", UTC: "2027-08-02T06:30:00Z", U: 0.5},
			{Stamp: "2027-08-02T11:15:42", UTC: "2027-08-02T11:15:00Z", U: 0.5},
		},
		Remarks: "Invented data: a made-up logger in a made-up school yard; nothing was measured. " +
			"Photoresistor under a table-tennis ball, thermometer in the shade of the box, clock set by hand a week before.",
	}
}

// morning is what befalls it. The seed is one under which the power fails in the
// partial phase and not in totality.
func morning(s station.Station) (rehearsal.Plan, error) {
	day, err := s.Day()
	if err != nil {
		return rehearsal.Plan{}, err
	}
	catalogue, err := canon.Load()
	if err != nil {
		return rehearsal.Plan{}, err
	}
	e, err := catalogue.On(day)
	return rehearsal.Plan{
		Elements: e, Site: s.Site.Sun(), Chain: s.Chain, Cadence: 2 * time.Second,
		Offset: 41.7, DriftPPM: 11, Weather: rehearsal.Haze,
		Damage: rehearsal.Damage{PowerCycles: 1, TornLines: 1},
		Seed:   20271036,
	}, err
}

// makeFiles gives every file by its name in the output folder.
func makeFiles(ctx context.Context) (map[string][]byte, error) {
	s := yard()
	if err := s.Validate(); err != nil {
		return nil, err
	}
	plan, err := morning(s)
	if err != nil {
		return nil, err
	}
	log, err := rehearsal.Make(ctx, plan)
	if err != nil {
		return nil, err
	}
	var text bytes.Buffer
	if _, err := log.WriteTo(&text); err != nil {
		return nil, err
	}
	about, err := cli.JSON(s)
	if err != nil {
		return nil, err
	}
	truth, err := cli.JSON(log.Truth)
	if err != nil {
		return nil, err
	}
	files, err := makeNetwork(ctx)
	if err != nil {
		return nil, err
	}
	files["station/station.json"], files["station/"+logName], files["truth.json"] = about, text.Bytes(), truth
	return files, nil
}
