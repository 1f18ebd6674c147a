// Gencalibrate makes the demo of examples/calibrate: a station that knows its cell
// from a catalogue only, its readings under a lamp, its log of a clear morning, and the
// truth behind both. It is run by go generate in the example's folder:
//
//	go run ./internal/gencalibrate -out demo
//
// The output is the same, byte for byte, every time. All of it is invented.
package main

import (
	"context"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sensor"
)

func main() { cli.Main("gencalibrate", run) }

var run = cli.Generator("gencalibrate", makeFiles)

// The demo's files.
const (
	stationFile = "station.json"
	lampFile    = "lamp.csv"
	morningFile = "20270720.csv"
	truthFile   = "truth.json"
)

// yard is the station as its owners describe it before they have calibrated anything:
// the cell is what a catalogue says of its kind, within a factor of two.
func yard() station.Station {
	return station.Station{
		Version: station.Version,
		Code:    "YARD-12",
		Site:    station.Site{Lat: 36.0, Lon: -5.6, Height: 10},
		Eclipse: "2027-08-02",
		Files:   []string{morningFile},
		Chain: &sensor.Chain{
			ADC: sensor.ADC{Bits: 12, ReferenceV: 3.3, Ratiometric: true, DeadLow: 0.003, DeadHigh: 0.005, NoiseCounts: 0.7, Averaged: 32, LogStepCounts: 0.1},
			Divider: &sensor.Divider{
				Wiring: sensor.CellOnTop, SupplyV: 3.3, LoadOhm: 220, LoadTolerance: 0.05,
				Cell: sensor.Photoresistor{R10Ohm: 12e3, Gamma: 0.65, R10LnU: 0.5, GammaU: 0.08},
			},
		},
		Remarks: "Invented data: a made-up logger in a made-up school yard; nothing was measured. Cell from a catalogue, not calibrated.",
	}
}

// makeFiles gives every file by its name in the output folder.
func makeFiles(context.Context) (map[string][]byte, error) {
	s := yard()
	if err := s.Validate(); err != nil {
		return nil, err
	}
	morning, err := newSky(s.Site.Sun()).log()
	if err != nil {
		return nil, err
	}
	about, err := cli.JSON(s)
	if err != nil {
		return nil, err
	}
	truth, err := cli.JSON(truthOf())
	if err != nil {
		return nil, err
	}
	return map[string][]byte{stationFile: about, lampFile: walk(), morningFile: morning, truthFile: truth}, nil
}
