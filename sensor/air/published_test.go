package air

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/testdata/references"
)

// table is a published table of so many rows.
func table(t *testing.T, name string, rows int) []references.Row {
	t.Helper()
	all := references.Table(t, name)
	require.Len(t, all, rows)
	return all
}

// agree compares with a printed number: half its last digit is its tolerance.
func agree(t *testing.T, what string, got float64, r references.Row, column, source string) {
	t.Helper()
	if tol := 1.0000002 * r.Half(t, column); !(math.Abs(got-r.Number(t, column)) <= tol) { // a hair for a tie
		t.Errorf("%s: %.6f, want %s (%s)", what, got, r[column], source)
	}
}

func TestPublishedSaturation(t *testing.T) {
	for _, r := range table(t, "vapour_pressure.csv", 18) {
		temp := r.Number(t, "t_degC")
		for _, c := range []struct {
			f      Formula
			column string
		}{
			{WMOWater, "ew_magnus_wmo_hPa"}, {AlduchovEskridgeWater, "ew_alduchov_eskridge_hPa"},
			{WMOIce, "ei_magnus_wmo_hPa"}, {AlduchovEskridgeIce, "ei_alduchov_eskridge_hPa"},
		} {
			if r.Text(t, c.column) == "" {
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
			agree(t, c.f.String()+" at "+r["t_degC"], got, r, c.column, "vapour_pressure.csv")
		}
	}
}

// How good is Magnus' form? The table's two better equations are the witness.
func TestSaturationAgainstBetterEquations(t *testing.T) {
	worst := map[Formula]float64{}
	for _, r := range table(t, "vapour_pressure.csv", 18) {
		temp := r.Number(t, "t_degC")
		better := "ew_iapws_hPa"
		if r.Text(t, better) == "" {
			better = "ew_sonntag1990_hPa"
		}
		for _, f := range []Formula{WMOWater, AlduchovEskridgeWater} {
			got, err := f.Saturation(temp)
			if err != nil {
				continue // past its range
			}
			worst[f] = max(worst[f], math.Abs(got/r.Number(t, better)-1))
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
		temp, rh := r.Number(t, "t_degC"), r.Number(t, "rh_percent")
		for f, column := range map[Formula]string{WMOWater: "td_wmo_degC", AlduchovEskridgeWater: "td_alduchov_eskridge_degC"} {
			got, err := f.DewPoint(temp, rh)
			require.NoError(t, err)
			what := f.String() + " at " + r["t_degC"] + ", " + r["rh_percent"] + " %"
			agree(t, what, got, r, column, "dew_point.csv")
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
		height := r.Number(t, "geopotential_altitude_m")
		got, err := StandardPressure(height)
		require.NoError(t, err)
		agree(t, r["geopotential_altitude_m"]+" m", got, r, "p_us_standard_1976_hPa", "pressure_altitude.csv")
		back, err := PressureHeight(got)
		require.NoError(t, err)
		if !(math.Abs(back-height) <= 1e-8) {
			t.Errorf("%g m comes back as %.10g m", height, back)
		}
	}
}
