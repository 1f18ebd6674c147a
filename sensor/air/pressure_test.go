package air

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestHeightAndPressureComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := rapid.Float64Range(-1000, 11000).Draw(t, "height")
		p, err := StandardPressure(h)
		require.NoError(t, err)
		back, err := PressureHeight(p)
		require.NoError(t, err)
		if !(math.Abs(back-h) <= 1e-8) {
			t.Errorf("%g m, back %g m", h, back)
		}
	})
}

func TestSaturationAndDewPointComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := Formula(rapid.IntRange(0, len(magnus)-1).Draw(t, "formula"))
		temp := rapid.Float64Range(magnus[f].min, magnus[f].max).Draw(t, "temperature")
		e, err := f.Saturation(temp)
		require.NoError(t, err)
		back, err := f.Temperature(e)
		require.NoError(t, err)
		if !(math.Abs(back-temp) <= 1e-10) {
			t.Errorf("%v: %g degrees, back %g", f, temp, back)
		}
		rh := rapid.Float64Range(1, 100).Draw(t, "humidity")
		if dew, err := f.DewPoint(temp, rh); err == nil && !(dew <= temp+1e-12) {
			t.Errorf("%v: dew point %g above the air's %g", f, dew, temp)
		}
	})
}

// In the standard atmosphere the reduction must find the standard sea: its lower
// half is just as warm as the Column's lapse says, and the logarithm of a linear
// temperature profile differs from its mean's only in the third order.
func TestSeaLevelOfTheStandardAtmosphere(t *testing.T) {
	for _, r := range []struct{ height, tol float64 }{
		{-500, 0.001}, {0, 1e-9}, {100, 1e-4}, {500, 0.002}, {1000, 0.01}, {2000, 0.1},
	} { // source of 1013.25: the definition; tolerances: 1013 (H/R T) (lapse H/T)²/12 g, doubled
		p, err := StandardPressure(r.height)
		require.NoError(t, err)
		c := Column{HeightM: r.height, TempC: 15 - 0.0065*r.height}
		got, err := c.SeaLevel(p)
		require.NoError(t, err)
		if !(math.Abs(got-1013.25) <= r.tol) {
			t.Errorf("%g m: %.5f hPa, want 1013.25 ± %g", r.height, got, r.tol)
		}
		back, err := c.Station(got)
		require.NoError(t, err)
		if !(math.Abs(back-p) <= 1e-9) {
			t.Errorf("%g m: %.10f hPa, back %.10f", r.height, p, back)
		}
	}
}

// The sensitivities that the comments state.
func TestSeaLevelSensitivities(t *testing.T) {
	at := func(c Column) float64 {
		p, err := c.SeaLevel(1013.25 * math.Exp(-c.HeightM/8434))
		require.NoError(t, err)
		return p
	}
	for _, r := range []struct {
		a, b      Column
		want, tol float64
	}{
		{Column{HeightM: 100, TempC: 15}, Column{HeightM: 100, TempC: 16}, -0.0416, 0.0003},
		{Column{HeightM: 1000, TempC: 15}, Column{HeightM: 1000, TempC: 16}, -0.41, 0.01},
		{Column{HeightM: 1000, TempC: 15}, Column{HeightM: 1000, TempC: 15, VapourHPa: 10}, -0.49, 0.01},
	} { // source: p (g H/R T²) dT by hand: 1013 34.16e-3 H/288² a kelvin, with the column's mean temperature for 288
		if got := at(r.b) - at(r.a); !(math.Abs(got-r.want) <= r.tol) {
			t.Errorf("%+v to %+v: %.4f hPa, want %g ± %g", r.a, r.b, got, r.want, r.tol)
		}
	}
}

func TestRefusals(t *testing.T) {
	nan := math.NaN()
	for _, r := range []struct {
		field string
		call  func() (float64, error)
	}{
		{"temperature", func() (float64, error) { return WMOWater.Saturation(nan) }},
		{"temperature", func() (float64, error) { return WMOIce.Saturation(0.1) }},
		{"vapour pressure", func() (float64, error) { return WMOWater.Temperature(0) }},
		{"vapour pressure", func() (float64, error) { return WMOWater.DewPoint(-40, 10) }},
		{"vapour pressure", func() (float64, error) { return WMOWater.DewPoint(20, 0) }},
		{"relative humidity", func() (float64, error) { return WMOWater.DewPoint(20, 111) }},
		{"relative humidity", func() (float64, error) { return WMOWater.Humidity(10, 20) }},
		{"height", func() (float64, error) { return StandardPressure(11001) }},
		{"pressure", func() (float64, error) { return PressureHeight(0) }},
		{"Column.HeightM", func() (float64, error) { return Column{HeightM: nan}.SeaLevel(1000) }},
		{"Column.TempC", func() (float64, error) { return Column{TempC: 400}.Station(1000) }},
		{"station pressure", func() (float64, error) { return Column{}.SeaLevel(101325) }}, // pascal
		{"sea-level pressure", func() (float64, error) { return Column{}.Station(nan) }},
	} {
		_, err := r.call()
		if e, ok := errors.AsType[*RangeError](err); !ok || e.Field != r.field {
			t.Errorf("%s: %v", r.field, err)
		}
	}
	if _, err := Formula(9).DewPoint(20, 50); !errors.Is(err, ErrFormula) {
		t.Errorf("formula 9: %v", err)
	}
	if _, err := Formula(9).Temperature(5); !errors.Is(err, ErrFormula) {
		t.Errorf("formula 9: %v", err)
	}
}
