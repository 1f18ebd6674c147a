package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/golden"
)

func TestPictures(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "made")
	_, err := calibrate(t, "-out", folder)
	require.NoError(t, err)
	for _, name := range []string{"calibrate.txt", "calibrate.json", "law.png", "langley.png"} {
		b, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		if len(b) < 500 {
			t.Errorf("%s has %d bytes", name, len(b))
		}
		if filepath.Ext(name) == ".png" {
			golden.Dots(t, filepath.Join("testdata", name), string(b))
		}
	}
	for name, words := range map[string][]string{
		"law.svg":     {">illuminance (lx)<", ">under the lamp<", ">shade or cloud, left out<", "100,000"},
		"langley.svg": {">air mass (", "extinction 0.1", ">100<", ">50<", ">between these with 95 %<"},
	} {
		got, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		for _, w := range words {
			if !bytes.Contains(got, []byte(w)) {
				t.Errorf("%s lacks %q", name, w)
			}
		}
		if bytes.Contains(got, []byte("NaN")) || bytes.Contains(got, []byte("Inf")) {
			t.Errorf("%s has a place that is no number", name)
		}
		golden.Picture(t, filepath.Join("testdata", name), string(got))
	}
}

// One calibration alone has a picture too.
func TestPictureOfOne(t *testing.T) {
	for name, args := range map[string][]string{
		"lamp":            {"-station", file(t, demoStation, ""), "-lamp", file(t, demoLamp, ""), "-candela", "64"},
		"unknown candela": {"-lamp", file(t, demoLamp, "")},
		"sun for candela": {"-station", file(t, demoStation, ""), "-lamp", file(t, demoLamp, ""), "-morning", file(t, demoMorning, "")},
		"morning":         {"-station", file(t, demoStation, ""), "-morning", file(t, demoMorning, "")},
	} {
		folder := t.TempDir()
		_, err := calibrate(t, append(args, "-out", folder)...)
		require.NoError(t, err, name)
		svg, err := os.ReadFile(filepath.Join(folder, "law.svg"))
		require.NoError(t, err, name)
		if unit := []byte("illuminance (lx)"); bytes.Contains(svg, unit) == (name == "unknown candela") {
			t.Errorf("%s: the light is in lux: %t", name, bytes.Contains(svg, unit))
		}
		if bytes.Contains(svg, []byte("NaN")) || !bytes.Contains(svg, []byte("95 %")) {
			t.Errorf("%s: the picture has a NaN or no band", name)
		}
	}
}
