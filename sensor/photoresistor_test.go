package sensor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/testdata/references"
)

// Catalogue cells, resistance at 1 and 100 lx: a cell made of the printed exponent
// and the first point must come to the second within the exponent's last digit.
func TestCataloguePoints(t *testing.T) {
	rows := references.Table(t, "cds_catalogue_points.csv")
	require.Len(t, rows, 5)
	for _, r := range rows {
		set, name := r.Text(t, "set"), r.Text(t, "cell")
		at1, at100, gamma := 1e3*r.Number(t, "R_at_1_lx_kohm"), 1e3*r.Number(t, "R_at_100_lx_kohm"), r.Number(t, "gamma")
		cell := Photoresistor{R10Ohm: at1 * math.Pow(10, -gamma), Gamma: gamma}
		tol := 0.5e-4 * math.Ln10 * 2 // half a digit of gamma over two decades, in ln R
		if got := cell.Ohms(100); !(math.Abs(math.Log(got/at100)) <= tol) {
			t.Errorf("%s, cell %s: %.1f ohm at 100 lx, want %g", set, name, got, at100)
		}
		if got := cell.Lux(at100); !(math.Abs(math.Log(got/100)) <= tol/gamma) {
			t.Errorf("%s, cell %s: %g ohm is %.3f lx, want 100", set, name, at100, got)
		}
	}
}

func TestPhotoresistorEnds(t *testing.T) {
	cell := Photoresistor{R10Ohm: 10e3, Gamma: 0.7}
	if got := cell.Ohms(0); !math.IsInf(got, 1) {
		t.Errorf("no light: %g ohm, want +Inf", got)
	}
	// 10 klx and 100 klx of the bench circuit; 15.849 ohm is published for the latter.
	if got := cell.Ohms(100e3); !(math.Abs(got-15.849) <= 0.5e-3) {
		t.Errorf("100 klx: %.4f ohm, want 15.849", got)
	}
	cell.DarkOhm = 1e6
	if got := cell.Ohms(-1); !(math.Abs(got-1e6) <= 1e-6) {
		t.Errorf("less than no light: %g ohm, want 1 Mohm", got)
	}
	if got := cell.Lux(2e6); got != 0 {
		t.Errorf("more than dark: %g lx, want 0", got)
	}
	if got := cell.Lux(cell.Ohms(3)); !(math.Abs(got-3) <= 1e-12) {
		t.Errorf("3 lx came back as %.15f", got)
	}
}
