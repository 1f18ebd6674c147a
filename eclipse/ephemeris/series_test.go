package ephemeris

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestFitRecoversItsPolynomial(t *testing.T) {
	want := []float64{0.3, -0.55, 2e-4, 9e-6, -1e-7} // the size of an eclipse's x
	f := fitter{span: 3.5}
	var values []float64
	for i := -7; i <= 7; i++ {
		h := float64(i) / 2
		f.hours = append(f.hours, h)
		values = append(values, want[0]+h*(want[1]+h*(want[2]+h*(want[3]+h*want[4]))))
	}
	got, err := f.fit(4, values)
	require.NoError(t, err)
	require.Len(t, got, len(want))
	for i := range want {
		if !(math.Abs(got[i]-want[i]) <= 1e-15*math.Pow(2, float64(i))) { // a few bits of the values
			t.Errorf("coefficient %d = %.17g, want %.17g", i, got[i], want[i])
		}
	}
	if !(f.worst >= 1 && f.worst < 3) {
		t.Errorf("condition number %v, want 1 to 3 as the comment says", f.worst)
	}
}

func TestFitRefusesDegenerateSamples(t *testing.T) {
	f := fitter{span: 3.5, hours: []float64{1, 1, 1, 1, 1, 1}}
	if _, err := f.fit(3, make([]float64, 6)); !errors.Is(err, errIllConditioned) {
		t.Errorf("six samples at one instant: error %v, want %v", err, errIllConditioned)
	}
	f = fitter{span: 3.5, hours: []float64{-1, 0, 1}}
	if _, err := f.fit(3, make([]float64, 3)); err == nil {
		t.Error("three samples for a cubic were accepted")
	}
}

func TestChebyshevAndPowersAgree(t *testing.T) {
	// T4(u) = 8u^4 - 8u^2 + 1, T3(u) = 4u^3 - 3u (Abramowitz and Stegun 1964,
	// table 22.3)
	got := powers([]float64{0, 0, 0, 1, 1}, 1)
	for i, want := range []float64{1, -3, -8, 4, 8} {
		if got[i] != want { // small integers are exact
			t.Errorf("coefficient %d = %v, want %v", i, got[i], want)
		}
	}
	row := chebyshev(0.3, 5)
	if !(math.Abs(row[4]-(8*0.0081-8*0.09+1)) <= 1e-15 && math.Abs(row[3]-(4*0.027-0.9)) <= 1e-15) {
		t.Errorf("T3, T4 of 0.3 = %v, %v", row[3], row[4])
	}
}
