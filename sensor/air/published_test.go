package air

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A cell is a printed number: half its last digit is its tolerance.
type cell string

func (c cell) value(t *testing.T) float64 {
	v, err := strconv.ParseFloat(string(c), 64)
	require.NoError(t, err)
	return v
}

func (c cell) half() float64 {
	_, decimals, _ := strings.Cut(string(c), ".")
	return 0.5000001 * math.Pow10(-len(decimals)) // a hair for a tie
}

// table reads a reference file into columns by heading.
func table(t *testing.T, name string, rows int) []map[string]cell {
	f, err := os.Open(filepath.Join("..", "..", "testdata", "references", name))
	require.NoError(t, err)
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Len(t, all, rows+1)
	var out []map[string]cell
	for _, r := range all[1:] {
		m := map[string]cell{}
		for i, h := range all[0] {
			m[h] = cell(r[i])
		}
		out = append(out, m)
	}
	return out
}

func agree(t *testing.T, what string, got float64, want cell, source string) {
	t.Helper()
	if !(math.Abs(got-want.value(t)) <= want.half()) {
		t.Errorf("%s: %.6f, want %s (%s)", what, got, want, source)
	}
}

func TestPublishedSaturation(t *testing.T) {
	for _, r := range table(t, "vapour_pressure.csv", 18) {
		temp := r["t_degC"].value(t)
		for _, c := range []struct {
			f      Formula
			column string
		}{
			{WMOWater, "ew_magnus_wmo_hPa"}, {AlduchovEskridgeWater, "ew_alduchov_eskridge_hPa"},
			{WMOIce, "ei_magnus_wmo_hPa"}, {AlduchovEskridgeIce, "ei_alduchov_eskridge_hPa"},
		} {
			want := r[c.column]
			if want == "" {
				continue
			}
			got, err := c.f.Saturation(temp)
			if m := magnus[c.f]; temp > m.max { // printed past the authors' range: refused, but the formula is right
				if err == nil {
					t.Errorf("%v at %g degrees was not refused", c.f, temp)
				}
				got = c.f.raw(temp)
			} else {
				require.NoError(t, err)
			}
			agree(t, c.f.String()+" at "+string(r["t_degC"]), got, want, "vapour_pressure.csv")
		}
	}
}

// How good is Magnus' form? The table's two better equations are the witness.
func TestSaturationAgainstBetterEquations(t *testing.T) {
	worst := map[Formula]float64{}
	for _, r := range table(t, "vapour_pressure.csv", 18) {
		temp := r["t_degC"].value(t)
		better := r["ew_iapws_hPa"]
		if better == "" {
			better = r["ew_sonntag1990_hPa"]
		}
		for _, f := range []Formula{WMOWater, AlduchovEskridgeWater} {
			got, err := f.Saturation(temp)
			if err != nil {
				continue // past its range
			}
			worst[f] = max(worst[f], math.Abs(got/better.value(t)-1))
		}
	}
	for f, bound := range map[Formula]float64{WMOWater: 0.0032, AlduchovEskridgeWater: 0.0035} {
		t.Logf("%v: worst %.3f %%", f, 100*worst[f])
		if !(worst[f] > 0 && worst[f] <= bound) {
			t.Errorf("%v is off by up to %.3f %%, the page says %.2f %%", f, 100*worst[f], 100*bound)
		}
	}
}

func TestPublishedDewPoints(t *testing.T) {
	for _, r := range table(t, "dew_point.csv", 63) {
		temp, rh := r["t_degC"].value(t), r["rh_percent"].value(t)
		for f, column := range map[Formula]string{WMOWater: "td_wmo_degC", AlduchovEskridgeWater: "td_alduchov_eskridge_degC"} {
			got, err := f.DewPoint(temp, rh)
			require.NoError(t, err)
			what := f.String() + " at " + string(r["t_degC"]) + ", " + string(r["rh_percent"]) + " %"
			agree(t, what, got, r[column], "dew_point.csv")
			back, err := f.Humidity(temp, got)
			require.NoError(t, err)
			if !(math.Abs(back-rh) <= 1e-10*rh) {
				t.Errorf("%s: back to %.12g %%", what, back)
			}
		}
	}
}

func TestPublishedHeights(t *testing.T) {
	for _, r := range table(t, "pressure_altitude.csv", 11) {
		height, want := r["geopotential_altitude_m"].value(t), r["p_us_standard_1976_hPa"]
		got, err := StandardPressure(height)
		require.NoError(t, err)
		agree(t, string(r["geopotential_altitude_m"])+" m", got, want, "pressure_altitude.csv")
		back, err := PressureHeight(got)
		require.NoError(t, err)
		if !(math.Abs(back-height) <= 1e-8) {
			t.Errorf("%g m comes back as %.10g m", height, back)
		}
	}
}
