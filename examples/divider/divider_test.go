package main

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/golden"
	"example.org/noonfall/sensor"
	"example.org/noonfall/testdata/references"
)

func told(t *testing.T, args ...string) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, run(context.Background(), &b, args))
	return b.String()
}

func answered(t *testing.T, args ...string) answer {
	t.Helper()
	var a answer
	require.NoError(t, json.Unmarshal([]byte(told(t, append([]string{"-json"}, args...)...)), &a))
	return a
}

// Goldens guard words and layout; the numbers are tested below and in package sensor.
func TestGolden(t *testing.T) {
	for _, tt := range []struct {
		file string
		args []string
	}{
		{"one.txt", nil},
		{"two.txt", []string{"-r10", "10000", "-gamma", "0.7", "-dark", "0", "-cell", "bottom", "-load", "1500"}},
		{"phototransistor.txt", []string{"-sensor", "phototransistor"}},
		{"narrow.txt", []string{"-low", "1000", "-high", "20000", "-sensor", "phototransistor", "-bits", "16", "-supply", "5"}},
		{"one.json", []string{"-json"}},
	} {
		t.Run(tt.file, func(t *testing.T) {
			got, path := told(t, tt.args...), filepath.Join("testdata", tt.file)
			if filepath.Ext(path) == ".json" {
				golden.JSON(t, path, got, 1e-5)
				return
			}
			golden.Page(t, path, got)
		})
	}
}

// Ohm's law resistor by resistor, without the library.
func ohmsLaw(load, lux float64) float64 {
	cell := 1 / (math.Pow(lux/10, 0.6)/30e3 + 1/5e6)
	return 4096 * load / (load + cell)
}

func TestCountsAreOhmsLaw(t *testing.T) {
	a := answered(t, "-load", "1234")
	checked := 0
	for _, l := range a.Loads {
		for _, r := range l.Readings {
			if want := ohmsLaw(float64(l.Ohms), float64(r.Light)); !(math.Abs(float64(r.Counts)-want) <= 1e-5) {
				t.Errorf("%g ohm, %g lx: %g counts, want %g", l.Ohms, r.Light, r.Counts, want)
			}
			checked++
		}
	}
	if checked < 4*10 || a.Best.Ohms != 3300 {
		t.Errorf("%d counts, best %g ohm", checked, a.Best.Ohms)
	}
}

// The best of E12 by a walk: the worse end's octave, by Ohm's law around it.
func TestBestIsBest(t *testing.T) {
	octave := func(load, lux float64) float64 {
		const step = 1e-4 // octaves
		return (ohmsLaw(load, lux*math.Exp2(step/2)) - ohmsLaw(load, lux*math.Exp2(-step/2))) / step
	}
	best, most := 0.0, 0.0
	for ohms := range sensor.E12.Range(10, 1e6) {
		if ohmsLaw(ohms, 1) < 0.02*4096 || ohmsLaw(ohms, 133.3e3) > 0.98*4096 {
			continue // in a dead zone
		}
		if worst := math.Min(octave(ohms, 1), octave(ohms, 133.3e3)); worst > most {
			best, most = ohms, worst
		}
	}
	a := answered(t)
	got := math.Min(float64(a.Best.Low), float64(a.Best.High))
	if float64(a.Best.Ohms) != best || !(math.Abs(got-most) <= 1e-3*most) {
		t.Errorf("%g ohm with %g counts per octave, by a walk %g with %g", a.Best.Ohms, got, best, most)
	}
}

// What people take loses totality with 1 kohm and the Sun with 10 kohm.
func TestCommonLoadsLoseAnEnd(t *testing.T) {
	status := map[string]string{}
	for _, l := range answered(t).Loads {
		for _, r := range l.Readings {
			status[strconv.FormatFloat(float64(l.Ohms), 'g', -1, 64)+" "+r.Level] = r.Status
		}
	}
	for key, want := range map[string]string{
		"1000 totality": "too dark", "1000 full Sun": "ok", "10000 totality": "ok", "10000 full Sun": "saturated", "3300 totality": "ok", "3300 full Sun": "ok",
	} {
		if status[key] != want {
			t.Errorf("%s: %q, want %q", key, status[key], want)
		}
	}
}

// Both wirings see the same light with the same load; counts are mirrored.
func TestWiringsMirror(t *testing.T) {
	top, bottom := answered(t), answered(t, "-cell", "bottom")
	for i, l := range top.Loads {
		m := bottom.Loads[i]
		for k, r := range l.Readings {
			if sum := float64(r.Counts + m.Readings[k].Counts); l.Ohms != m.Ohms || !(math.Abs(sum-4096) <= 1) {
				t.Errorf("%g and %g ohm: %g and %g counts", l.Ohms, m.Ohms, r.Counts, m.Readings[k].Counts)
			}
		}
		if !(math.Abs(float64(l.Low-m.Low)) <= 1e-3 && math.Abs(float64(l.High-m.High)) <= 1e-3) {
			t.Errorf("%g ohm: %g and %g counts per octave, mirrored %g and %g", l.Ohms, l.Low, l.High, m.Low, m.High)
		}
	}
}

// Each level is a row of the references, but for the last, which package sensor has.
func TestLevelsAreTheReferences(t *testing.T) {
	known := map[float64]bool{133300: true}
	for _, name := range []string{"natural_illuminance.csv", "eclipse_light_measured.csv"} {
		for _, row := range references.Table(t, name) {
			for _, cell := range row {
				if v, err := strconv.ParseFloat(cell, 64); err == nil {
					known[v] = true
				}
				if strings.Contains(cell, "(3.77 lx)") {
					known[3.77] = true
				}
			}
		}
	}
	for _, l := range levels {
		if !known[l.lux] {
			t.Errorf("%s: %g lx is in no reference", l.name, l.lux)
		}
	}
}

// The invented cell lies between those of the catalogue.
func TestInventedCellIsPlausible(t *testing.T) {
	rows := references.Table(t, "cds_catalogue_points.csv")
	cell := sensor.Photoresistor{R10Ohm: invented.r10, Gamma: invented.gamma, DarkOhm: invented.dark}
	for column, got := range map[string]float64{"R_at_1_lx_kohm": cell.Ohms(1) / 1e3, "R_at_100_lx_kohm": cell.Ohms(100) / 1e3, "gamma": invented.gamma} {
		least, most := math.Inf(1), 0.0
		for _, row := range rows {
			v := row.Number(t, column)
			least, most = math.Min(least, v), math.Max(most, v)
		}
		if !(got >= least && got <= most) {
			t.Errorf("%s: %g, the catalogue has %g to %g", column, got, least, most)
		}
	}
}

func TestOut(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new")
	text := told(t, "-out", folder)
	for name, want := range map[string]string{"divider.txt": text, "divider.json": told(t, "-json")} {
		got, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		if string(got) != want {
			t.Errorf("%s is not what was printed", name)
		}
	}
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	if len(entries) != 6 {
		t.Errorf("%d files, want text, JSON and two pictures twice", len(entries))
	}
	for _, name := range []string{"counts.png", "octaves.png"} {
		png, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		if !bytes.HasPrefix(png, []byte("\x89PNG")) {
			t.Errorf("%s is no PNG", name)
		}
	}
}

// Whatever the flags, the page and the pictures come out, and no line is too long to read.
func TestOtherCircuits(t *testing.T) {
	if testing.Short() {
		t.Skip("many pictures")
	}
	for _, args := range []string{
		"-bits 24 -dead 0", "-bits 8 -series E192", "-low 1e-6 -high 1e6", "-low 100 -high 200", "-r10 10", "-r10 1e8 -gamma 0.3", "-gamma 1.5 -dark 1000",
		"-load 1e7", "-load 100 -cell bottom", "-supply 60 -low 100000 -high 1e6", "-fine 1e6", "-sensor phototransistor -amps 1e-12", "-sensor phototransistor -amps 0.01 -bits 8",
		"-sensor phototransistor -load 3300 -bits 24 -dead 0.0001",
	} {
		folder := t.TempDir()
		for _, line := range strings.Split(told(t, append(strings.Fields(args), "-out", folder)...), "\n") {
			if len(line) > 120 || strings.HasSuffix(line, " ") || strings.Contains(line, "NaN") || strings.Contains(line, "%!") {
				t.Errorf("%s: %q", args, line)
			}
		}
		for _, name := range []string{"counts.svg", "octaves.svg"} {
			svg, err := os.ReadFile(filepath.Join(folder, name))
			require.NoError(t, err, args)
			if bytes.Contains(svg, []byte("NaN")) || bytes.Contains(svg, []byte("Inf")) {
				t.Errorf("%s: %s has what is no number", args, name)
			}
		}
	}
}

func TestFigure(t *testing.T) {
	for _, tt := range []struct {
		v      float64
		digits int
		want   string
	}{
		{133300, 4, "133300"}, {0.0123, 2, "0.012"}, {99.96, 3, "100"}, {4.1, 4, "4.1"}, {1, 3, "1"}, {995, 2, "1000"}, {0, 3, "0"}, {3e-6, 2, "0.000003"}, {100, 3, "100"},
	} {
		if got := figure(tt.v, tt.digits); got != tt.want {
			t.Errorf("%g with %d digits: %s, want %s", tt.v, tt.digits, got, tt.want)
		}
	}
}
