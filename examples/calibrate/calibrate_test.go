package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/examples/internal/golden"
	"example.org/noonfall/sensor"
)

func calibrate(t *testing.T, args ...string) (string, error) {
	t.Helper()
	var b bytes.Buffer
	err := run(context.Background(), &b, args)
	return b.String(), err
}

func answered(t *testing.T, args ...string) map[string]any {
	t.Helper()
	out, err := calibrate(t, append([]string{"-json"}, args...)...)
	require.NoError(t, err)
	var a map[string]any
	require.NoError(t, json.Unmarshal([]byte(out), &a))
	return a
}

// Goldens guard words and layout, and show how far off the demo is; numbers are
// tested below and in package station.
func TestGolden(t *testing.T) {
	for _, tt := range []struct {
		file string
		args []string
	}{{"demo.txt", nil}, {"demo.json", []string{"-json"}}} {
		got, err := calibrate(t, tt.args...)
		require.NoError(t, err)
		if path := filepath.Join("testdata", tt.file); filepath.Ext(path) == ".json" {
			golden.JSON(t, path, got, 1e-4)
		} else {
			golden.Page(t, path, got)
		}
		if lines := strings.Split(got, "\n"); tt.args == nil {
			for _, l := range lines {
				if len(l) > 105 {
					t.Errorf("a line of %d columns: %s", len(l), l)
				}
			}
			if len(lines) > 80 {
				t.Errorf("%d lines are more than a page and a half", len(lines))
			}
		}
	}
}

// What the demo's data hide is found, within what is stated.
func TestDemoAgainstItsTruth(t *testing.T) {
	s, err := tell(context.Background(), demoSettings())
	require.NoError(t, err)
	require.NotNil(t, s.fit())
	f := s.fit()
	for _, r := range []struct {
		name         string
		got, want, u float64
	}{
		{"exponent by the lamp", -s.lamp.Slope, s.truth.LampExponent, s.lamp.SlopeU},
		{"exponent by the morning", -f.Slope, s.truth.MorningExponent, f.SlopeU},
		{"exponent by both, in the lamp's light", -s.both.Slope, s.truth.LampExponent, s.both.SlopeU},
		{"exponent by both, in the morning's", -s.both.Slope, s.truth.MorningExponent, s.both.SlopeU},
		{"extinction", f.Extinction, s.truth.Extinction, f.ExtinctionU},
		{"zero of the tape", s.lamp.ZeroM, s.truth.TapeM, s.lamp.ZeroU},
		{"ln light at 30 klx", math.Log(s.best.LuxAt(s.truth.Ohms30k)), math.Log(30e3), s.best.LuxLnU(30e3)},
	} {
		if !(math.Abs(r.got-r.want) <= 2*r.u) {
			t.Errorf("%s: %.4f, truth %.4f, u %.4f", r.name, r.got, r.want, r.u)
		}
	}
	if !s.agree || s.both.SlopeU >= f.SlopeU {
		t.Errorf("agree %t; the exponent's u is %.4f by both, %.4f by the morning", s.agree, s.both.SlopeU, f.SlopeU)
	}
}

func demoSettings() settings {
	return settings{Common: cli.Scenario(), candelaU: demoCandelaU, given: map[string]bool{}}
}

// What is printed can be pasted: into a station's file, where it reads counts as the
// unrounded law does.
func TestChainCanBePasted(t *testing.T) {
	page, err := calibrate(t)
	require.NoError(t, err)
	_, rest, ok := strings.Cut(page, "go run ./examples/reduce -station FILE\n")
	require.True(t, ok)
	chain, _, ok := strings.Cut(rest, "\n\n")
	require.True(t, ok)
	pasted, err := station.Parse([]byte(`{"version":1,"code":"YARD-12","site":{"lat_deg":36,"lon_deg":-5.6},"eclipse":"2027-08-02",` + "\n" + chain + "\n}"))
	require.NoError(t, err)
	conv, err := pasted.Chain.Compile()
	require.NoError(t, err)
	s, err := tell(context.Background(), demoSettings())
	require.NoError(t, err)
	for _, counts := range []float64{150, 1000, 3000, 3500} {
		k, status := s.part.Value(counts)
		got, want := conv.Lux(counts), s.best.LuxAt(k.Value)
		if u := s.best.LuxLnU(want); status != sensor.OK || !(math.Abs(math.Log(got.Lux/want)) <= 0.01*u) || !(math.Abs(got.LuxU/got.Lux/u-1) <= 0.05) {
			t.Errorf("%g counts read as %.1f lx, u %.1f %%; the law says %.1f, u %.1f %%", counts, got.Lux, 100*got.LuxU/got.Lux, want, 100*u)
		}
	}
}

// file writes one of the demo's files, or other text, to disk.
func file(t *testing.T, name, text string) string {
	t.Helper()
	if text == "" {
		b, err := fs.ReadFile(demo(), name)
		require.NoError(t, err)
		text = string(b)
	}
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return path
}

// The demo's files as one's own give the demo's answer.
func TestOwnFiles(t *testing.T) {
	about, sheet, log := file(t, demoStation, ""), file(t, demoLamp, ""), file(t, demoMorning, "")
	want := answered(t)
	got := answered(t, "-station", about, "-lamp", sheet, "-candela", "64", "-morning", log, "-date", "2027-07-20")
	want["invented"] = false
	if !golden.Same(want, got, 1e-4) {
		t.Errorf("%v\nis not\n%v", got, want)
	}
	lampAlone := answered(t, "-station", about, "-lamp", sheet)
	if lampAlone["chain"] != nil || lampAlone["morning"] != nil || lampAlone["lamp"].(map[string]any)["ln_value"] != nil {
		t.Errorf("a lamp of unknown candela has a height: %v", lampAlone)
	}
	if !golden.Same(lampAlone["lamp"].(map[string]any)["slope"], want["lamp"].(map[string]any)["slope"], 1e-4) {
		t.Errorf("the candela moves the exponent: %v", lampAlone["lamp"])
	}
	sunAlone := answered(t, "-station", about, "-morning", log)
	if sunAlone["chain"] == nil || !golden.Same(sunAlone["morning"], want["morning"], 1e-4) {
		t.Errorf("the morning alone: %v", sunAlone)
	}
	// Without the candela the morning gives the height, and both the exponent.
	noCandela := answered(t, "-station", about, "-lamp", sheet, "-morning", log)
	if c, ok := noCandela["both"].(map[string]any); !ok || c["agree"] != true {
		t.Errorf("a lamp of unknown candela and the morning: %v", noCandela["both"])
	}
	// Without a chain the counts are taken as they are, at a place.
	bare := answered(t, "-morning", log, "-site", "36,-5.6,10")
	if bare["chain"] != nil || bare["morning"].(map[string]any)["verdict"] == "" {
		t.Errorf("without a station: %v", bare)
	}
	stated := answered(t, "-station", about, "-lamp", sheet, "-candela", "64", "-zero", "0.022", "-room", "1.6")
	if l := stated["lamp"].(map[string]any); l["zero_m"] != 0.022 || l["u_zero_m"] != 0.0 || l["freedom"] != 9.0 {
		t.Errorf("zero and room as stated: %v", l)
	}
}

// What the sky decides is an answer.
func TestRefusalsAreAnswers(t *testing.T) {
	about := file(t, demoStation, "")
	whole, err := fs.ReadFile(demo(), demoMorning)
	require.NoError(t, err)
	lines := strings.Split(string(whole), "\n")
	cloudy := append([]string{}, lines[:2]...)
	for i, l := range lines[2:] {
		if at, _, ok := strings.Cut(l, ","); ok {
			cloudy = append(cloudy, at+","+fmt.Sprint(2500+900*math.Sin(float64(i)/17)+float64(i)/5))
		}
	}
	for reason, log := range map[string]string{
		station.ShortClimb:    file(t, demoMorning, strings.Join(lines[:300], "\n")),
		station.SunTooLow:     file(t, demoMorning, strings.Join(lines[:60], "\n")),
		station.CloudyMorning: file(t, demoMorning, strings.Join(cloudy, "\n")),
	} {
		a := answered(t, "-station", about, "-morning", log)
		m := a["morning"].(map[string]any)
		if m["verdict"] != "refused" || m["reason"] != reason || m["detail"] == "" || a["chain"] != nil {
			t.Errorf("%v, want refused for %q", m, reason)
		}
		page, err := calibrate(t, "-station", about, "-morning", log, "-out", t.TempDir())
		require.NoError(t, err)
		if !strings.Contains(page, "No verdict: "+reason) || !strings.Contains(page, "CAUTIONS") {
			t.Errorf("the page does not refuse for %q:\n%s", reason, page)
		}
	}
}

// What cannot be read is an error that names the file or the flag, and a remedy.
func TestErrors(t *testing.T) {
	about, log := file(t, demoStation, ""), file(t, demoMorning, "")
	for _, tt := range []struct {
		name   string
		args   []string
		status int
		want   []string
	}{
		{"flag", []string{"-nosuchflag"}, 2, []string{"-nosuchflag"}},
		{"stray", []string{"log.csv"}, 2, []string{"log.csv", "-morning"}},
		{"station alone", []string{"-station", about}, 2, []string{"-lamp", "-morning"}},
		{"candela without lamp", []string{"-candela", "5"}, 2, []string{"-candela", "-lamp"}},
		{"zone without log", []string{"-zone", "+02:00"}, 2, []string{"-zone", "-morning"}},
		{"candela", []string{"-lamp", "x.csv", "-candela", "-5"}, 2, []string{"-candela"}},
		{"candela NaN", []string{"-lamp", "x.csv", "-candela", "NaN"}, 2, []string{"-candela"}},
		{"candela zero", []string{"-lamp", "x.csv", "-candela", "0"}, 2, []string{"-candela"}},
		{"lux of no scale", []string{"-lamp", "x.csv", "-room", "1.5"}, 2, []string{"-room", "-candela"}},
		{"exponent", []string{"-morning", log, "-exponent", "0"}, 2, []string{"-exponent"}},
		{"tilt", []string{"-morning", log, "-tilt", "30"}, 2, []string{"-tilt", "TILT,AZIMUTH"}},
		{"tilt range", []string{"-morning", log, "-tilt", "300,0"}, 2, []string{"-tilt", "Tilt"}},
		{"zone", []string{"-morning", log, "-zone", "Mars/Olympus"}, 2, []string{"-zone"}},
		{"order", []string{"-morning", log, "-order", "yyy"}, 2, []string{"-order"}},
		{"site", []string{"-morning", log, "-site", "91,0"}, 2, []string{"-site"}},
		{"no lamp", []string{"-lamp", "nowhere.csv"}, 1, []string{"nowhere.csv"}},
		{"no log", []string{"-morning", "nowhere.csv"}, 1, []string{"nowhere.csv"}},
		{"no station", []string{"-morning", log, "-station", "nowhere.json"}, 1, []string{"nowhere.json"}},
		{"bad station", []string{"-morning", log, "-station", file(t, "s.json", "{}")}, 1, []string{"s.json", "version"}},
		{"day or month", []string{"-morning", file(t, "d.csv", "time,light\n02/08/2027 08:00,5\n02/08/2027 08:01,6\n02/08/2027 08:02,6\n")}, 1, []string{"d.csv", "-order"}},
		{"empty sheet", []string{"-lamp", file(t, "e.csv", "# nothing\n")}, 1, []string{"e.csv", "distance_m"}},
		{"no column", []string{"-lamp", file(t, "c.csv", "distance,reading\n1,2\n")}, 1, []string{"c.csv", "distance_m"}},
		{"decimal comma", []string{"-lamp", file(t, "k.csv", "distance_m,reading\n0,5,200\n")}, 1, []string{"k.csv", "line 2", "point"}},
		{"words", []string{"-lamp", file(t, "w.csv", "distance_m,reading\n0.5,bright\n")}, 1, []string{"w.csv", "line 2", "reading", "bright"}},
		{"below zero", []string{"-lamp", file(t, "z.csv", "distance_m,reading\n-0.5,7\n")}, 1, []string{"z.csv", "line 2", "distance_m"}},
		{"NaN", []string{"-lamp", file(t, "n.csv", "distance_m,reading\n0.5,NaN\n")}, 1, []string{"n.csv", "line 2", "reading"}},
		{"open quote", []string{"-lamp", file(t, "q.csv", "distance_m,reading\n\"0.5,7\n")}, 1, []string{"q.csv", "line 2"}},
		{"few", []string{"-lamp", file(t, "f.csv", "distance_m,reading\n0.5,700\n1,2000\n")}, 1, []string{"f.csv", "too few"}},
		{"stood still", []string{"-lamp", file(t, "m.csv", "distance_m,reading\n1,700\n1.01,705\n1.02,711\n1.03,715\n1.04,722\n1.05,731\n")}, 1, []string{"m.csv", "moved too little"}},
		{"saturated", []string{"-station", about, "-lamp", file(t, "s.csv", "distance_m,reading\n0.1,4095\n")}, 1, []string{"s.csv", "line 2", "saturated", "leave the line out"}},
	} {
		_, err := calibrate(t, tt.args...)
		if err == nil || cli.Status(err) != tt.status {
			t.Errorf("%s: status %d (%v), want %d", tt.name, cli.Status(err), err, tt.status)
			continue
		}
		for _, want := range tt.want {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%s: %q lacks %q", tt.name, err, want)
			}
		}
	}
}

// A lamp whose law is another than daylight's is not averaged away.
func TestDisagreement(t *testing.T) {
	sheet, err := fs.ReadFile(demo(), demoLamp)
	require.NoError(t, err)
	out, err := calibrate(t, "-station", file(t, demoStation, ""), "-morning", file(t, demoMorning, ""), "-lamp", file(t, demoLamp, string(sheet)), "-candela", "400", "-candela-u", "0.05")
	require.NoError(t, err)
	if !strings.Contains(out, "They do not agree") || !strings.Contains(out, `"gamma":0.66`) {
		t.Errorf("a candela six times too large is not noticed, or not left out:\n%s", out)
	}
}

func TestMeasured(t *testing.T) {
	for _, tt := range []struct {
		v, u float64
		want string // GUM 7.2.6: two digits of the uncertainty, the value to the same place
	}{
		{0.69321, 0.00264, "0.6932 +- 0.0026"}, {12953, 1063, "13000 +- 1100"}, {11800, 980, "11800 +- 980"}, {0.2, 0.0996, "0.20 +- 0.10"},
		{-0.0312, 0.049, "-0.031 +- 0.049"}, {1.48, 0.225, "1.48 +- 0.23"}, {-0.0004, 0.5, "0.00 +- 0.50"}, {3.14159, 0, "3.142"}, {50, 99.7, "50 +- 100"}, {2.5e-6, 1e-7, "0.00000250 +- 0.00000010"},
	} {
		if got := measured(tt.v, tt.u); got != tt.want {
			t.Errorf("%g, u %g: %q, want %q", tt.v, tt.u, got, tt.want)
		}
	}
	for v, want := range map[float64]string{0.5: "0.5", 3.987: "3.99", 841.2: "841", 1980: "1,980", 113456: "113,000", 1e6: "1,000,000"} {
		if got := grouped(v); got != want {
			t.Errorf("%g: %q, want %q", v, got, want)
		}
	}
}
