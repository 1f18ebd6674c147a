package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/testdata/references"
)

// The measured network: eight listening stations of 8 April 2024 whose clocks were set by a
// network, places known to 0.01 degrees. The shadow's speed by their stamps against the
// elements' own; the offset that they share, some 5 to 20 s slow as the collector of the
// logs found by hand from equal levels before and after maximum.
func TestMeasuredNetwork(t *testing.T) {
	ordinary(t)
	data, err := filepath.Abs("../../../shared/data/eclipse")
	require.NoError(t, err)
	sites := filepath.Join(data, "sites.csv")
	if _, err := os.Stat(sites); err != nil {
		t.Skip("the measured logs are not kept with the code")
	}
	folder := t.TempDir()
	var names []string
	for _, row := range references.File(t, sites) {
		file := row.Text(t, "file")
		if !strings.HasPrefix(file, "2024-04-08_") || !strings.Contains(file, "_counts_") {
			continue
		}
		code := strings.TrimPrefix(strings.TrimSuffix(file, ".csv"), "2024-04-08_")
		text, err := json.Marshal(map[string]any{
			"version": 1, "code": code, "eclipse": "2024-04-08", "clock_set": "network", "files": []string{file},
			"site": map[string]any{"lat_deg": json.Number(row.Text(t, "lat_deg")), "lon_deg": json.Number(row.Text(t, "lon_deg_east"))},
		})
		require.NoError(t, err)
		at := filepath.Join(folder, code)
		require.NoError(t, os.Mkdir(at, 0o777))
		require.NoError(t, os.Symlink(filepath.Join(data, file), filepath.Join(at, file)))
		require.NoError(t, os.WriteFile(filepath.Join(at, "station.json"), text, 0o600))
		names = append(names, filepath.Join(at, "station.json"))
	}
	a := answered(t, names...)
	if len(a.Stations) != 8 || len(a.Failed) != 0 {
		t.Fatalf("%d stations, %v", len(a.Stations), a.Failed)
	}
	if s := a.Shadow; !(math.Abs(float64(s.Speed-s.Predicted)) <= 2*float64(s.SpeedU) && float64(s.SpeedU) < 0.02 && math.Abs(float64(s.Heading-s.Toward)) <= 2*float64(s.HeadingU)) || s.N < 7 {
		t.Errorf("%+v", s)
	}
	if o := a.Shared; !(o.Offset > -25 && o.Offset < -5 && o.U < 4) {
		t.Errorf("%+v", o)
	}
	t.Logf("shadow %+v, shared %+v, off %+v", a.Shadow, a.Shared, a.Outliers)
}
