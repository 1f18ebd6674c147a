package main

import (
	"embed"
	"encoding/json"
	"fmt"
	"io/fs"
)

//go:generate go run ./internal/gencalibrate -out demo

//go:embed demo
var files embed.FS

// The demo's files: a station whose cell is a catalogue's, a sheet of readings
// under a lamp, a log of a clear morning, and what is behind them.
const (
	demoStation = "station.json"
	demoLamp    = "lamp.csv"
	demoMorning = "20270720.csv"
	demoTruth   = "truth.json"
)

// The demo's lamp: its packet says 806 lumens, which are 64 candela if it shines
// alike in every direction (lumens over 4 pi). No lamp does: 15 %.
const (
	demoCandela  = 64
	demoCandelaU = 0.15
)

// demo is the folder of the demo's files.
func demo() fs.FS {
	folder, err := fs.Sub(files, "demo")
	if err != nil { // a malformed path alone can cause it, and that one is fixed
		return files
	}
	return folder
}

// A truth is what the demo's data hide.
type truth struct {
	LampExponent    float64 `json:"lamp_exponent"`    // at 100 lx
	MorningExponent float64 `json:"morning_exponent"` // at 40,000 lx
	Ohms30k         float64 `json:"ohms_at_30000_lx"`
	Extinction      float64 `json:"extinction"`
	TapeM           float64 `json:"tape_zero_m"`
	RoomLux         float64 `json:"room_lx"`
}

func readTruth() (*truth, error) {
	text, err := fs.ReadFile(demo(), demoTruth)
	if err != nil {
		return nil, err
	}
	var t truth
	if err := json.Unmarshal(text, &t); err != nil {
		return nil, fmt.Errorf("%s: %w", demoTruth, err)
	}
	return &t, nil
}
