package station

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sensor"
)

// A log of counts, through a chain that knows its cell only from a catalogue, to a
// chain that knows it.
func TestCalibrateMorning(t *testing.T) {
	s := newSham(1)
	s.gain, s.slope, s.step, s.bend, s.level = math.Log(60), -0.72, 0, 0, -0.15 // ohms
	const load = 68.0
	var log strings.Builder
	log.WriteString("time,light\n")
	for _, q := range s.samples() {
		fmt.Fprintf(&log, "%s,%.0f\n", q.Time.Format(time.RFC3339), 4096*load/(load+q.Value)) // Ohm's law
	}
	files := fstest.MapFS{"a.csv": {Data: []byte(log.String())}, "empty.csv": {}}
	rough := sensor.Chain{ADC: sensor.ADC{Bits: 12, Ratiometric: true}, Divider: &sensor.Divider{Wiring: sensor.CellOnTop, SupplyV: 3.3, LoadOhm: load, LoadTolerance: 0.05,
		Cell: sensor.Photoresistor{R10Ohm: 10e3, Gamma: 0.6, R10LnU: 0.5, GammaU: 0.1}}}
	about := &Station{Version: 1, Code: "YARD-07", Site: Site{Lat: s.site.Lat, Lon: s.site.Lon}, Eclipse: "2027-08-02", Chain: &rough}
	m, err := CalibrateMorning(context.Background(), about, FilesIn(files, "a.csv"), MorningOptions{})
	require.NoError(t, err)
	require.Nil(t, m.Refusal)
	if !(math.Abs(m.Fit.Slope-s.slope) <= 2*m.Fit.SlopeU) || m.Files[0].Bytes.Sum() != int64(log.Len()) {
		t.Errorf("slope %.3f, u %.3f, want %.3f; %d of %d bytes", m.Fit.Slope, m.Fit.SlopeU, s.slope, m.Files[0].Bytes.Sum(), log.Len())
	}
	part, err := NewPart(rough)
	require.NoError(t, err)
	chain, err := part.Calibrated(m.Fit.Calibration)
	require.NoError(t, err)
	conv, err := chain.Compile()
	require.NoError(t, err)
	for _, lux := range []float64{15e3, 40e3, 90e3} {
		got := conv.Lux(4096 * load / (load + math.Exp(s.ln(lux))))
		if !(math.Abs(got.Lux-lux) <= 2*got.LuxU && got.LuxU <= 0.3*got.Lux && got.LuxU >= 0.18*got.Lux) {
			t.Errorf("%.0f lx reads as %.0f, u %.0f", lux, got.Lux, got.LuxU)
		}
	}
	if m, err = CalibrateMorning(context.Background(), about, FilesIn(files, "empty.csv"), MorningOptions{}); err != nil || m.Refusal == nil || m.Refusal.Reason != SunTooLow {
		t.Errorf("an empty file: %+v, %v", m, err)
	}
	if _, err := CalibrateMorning(context.Background(), about, FilesIn(files, "nowhere.csv"), MorningOptions{}); err == nil || !strings.Contains(err.Error(), "nowhere.csv") {
		t.Errorf("a missing file: %v", err)
	}
}

// A digital sensor is linear by its chain: its scale is what is fitted.
func TestCalibrateMorningOfADigitalSensor(t *testing.T) {
	s := newSham(2)
	s.gain, s.slope, s.step, s.bend, s.level = math.Log(24000), 1, 1, 0, 0.15 // 0.8 counts a lux
	var log strings.Builder
	log.WriteString("time,lux\n")
	for _, q := range s.samples() {
		fmt.Fprintf(&log, "%s,%.0f\n", q.Time.Format(time.RFC3339), q.Value)
	}
	chain := sensor.Chain{Digital: &sensor.Digital{LuxPerCount: 1, MaxCounts: 188000}}
	about := &Station{Version: 1, Code: "YARD-08", Site: Site{Lat: s.site.Lat, Lon: s.site.Lon}, Eclipse: "2027-08-02", Chain: &chain}
	m, err := CalibrateMorning(context.Background(), about, FilesIn(fstest.MapFS{"a.csv": {Data: []byte(log.String())}}, "a.csv"), MorningOptions{})
	require.NoError(t, err)
	require.Nil(t, m.Refusal)
	if m.Fit.Slope != 1 || m.Fit.SlopeU != 0 {
		t.Errorf("exponent %v, u %v, want 1 exactly", m.Fit.Slope, m.Fit.SlopeU)
	}
	part, err := NewPart(chain)
	require.NoError(t, err)
	got, err := part.Calibrated(m.Fit.Calibration)
	require.NoError(t, err)
	if d := got.Digital; !(math.Abs(math.Log(d.LuxPerCount/1.25)) <= 2*d.LuxPerCountLnU && d.LuxPerCountLnU >= 0.19 && d.LuxPerCountLnU <= 0.25) {
		t.Errorf("%.3f lx a count, u %.0f %%, want 1.25", d.LuxPerCount, 100*d.LuxPerCountLnU)
	}
}
