// Gencalibrate makes the demo of examples/calibrate: a station that knows its cell
// from a catalogue only, its readings under a lamp, its log of a clear morning, and the
// truth behind both. It is run by go generate in the example's folder:
//
//	go run ./internal/gencalibrate -out demo
//
// The output is the same, byte for byte, every time. All of it is invented.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/sensor"
)

func main() {
	out := flag.String("out", "", "folder to write to, made if absent")
	flag.Parse()
	if *out == "" || flag.NArg() != 0 {
		flag.Usage()
		os.Exit(2)
	}
	if err := run(*out); err != nil {
		fmt.Fprintln(os.Stderr, "gencalibrate:", err)
		os.Exit(1)
	}
}

func run(out string) error {
	files, err := makeFiles()
	if err != nil {
		return err
	}
	if err := os.MkdirAll(out, 0o755); err != nil {
		return err
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(out, name), text, 0o644); err != nil {
			return err
		}
	}
	return nil
}

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
func makeFiles() (map[string][]byte, error) {
	s := yard()
	if err := s.Validate(); err != nil {
		return nil, err
	}
	morning, err := newSky(s.Site.Sun()).log()
	if err != nil {
		return nil, err
	}
	about, err := indented(s)
	if err != nil {
		return nil, err
	}
	truth, err := indented(truthOf())
	if err != nil {
		return nil, err
	}
	return map[string][]byte{stationFile: about, lampFile: walk(), morningFile: morning, truthFile: truth}, nil
}

func indented(v any) ([]byte, error) {
	text, err := json.MarshalIndent(v, "", "  ")
	return append(text, '\n'), err
}
