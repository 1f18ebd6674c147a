package sensor

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.org/noonfall/testdata/references"
)

// Every printed member, in its own decade and in the least and the greatest.
func TestSeriesPrinted(t *testing.T) {
	printed := map[Series][]float64{}
	for _, r := range references.Table(t, "e_series.csv") {
		series, value := r.Text(t, "series"), r.Text(t, "value")
		n, err := strconv.Atoi(strings.TrimPrefix(series, "E"))
		require.NoError(t, err)
		printed[Series(n)] = append(printed[Series(n)], r.Number(t, "value"))
		for _, power := range []string{"e-12", "e-3", "e0", "e3", "e11"} {
			want, err := strconv.ParseFloat(value+power, 64)
			require.NoError(t, err)
			for name, got := range map[string]float64{"Nearest": Series(n).Nearest(want), "Up": Series(n).Up(want), "Down": Series(n).Down(want)} {
				if got != want { // to the last bit: one rounding of the printed digits
					t.Errorf("%s %s(%g) = %g", series, name, want, got)
				}
			}
		}
	}
	for _, s := range []Series{E3, E6, E12, E24, E48, E96} {
		require.Len(t, printed[s], int(s))
		if got := slices.Collect(s.Range(1, 9.99)); !slices.Equal(got, printed[s]) {
			t.Errorf("E%d: %v, want %v", s, got, printed[s])
		}
	}
}

// E192 is not in the table: it has E96 as every second member and prints 9.20
// where 10^(185/192) = 9.1947 rounds to 9.19 (IEC 60063:2015).
func TestSeriesE192(t *testing.T) {
	all := slices.Collect(E192.Range(1, 9.99))
	require.Len(t, all, 192)
	if all[185] != 9.20 || all[1] != 1.01 || all[191] != 9.88 {
		t.Errorf("members 185, 1, 191: %g, %g, %g, want 9.2, 1.01, 9.88", all[185], all[1], all[191])
	}
	for i, want := range slices.Collect(E96.Range(1, 9.99)) {
		if all[2*i] != want {
			t.Errorf("member %d: %g, want %g of E96", 2*i, all[2*i], want)
		}
	}
}

func TestSeriesBetween(t *testing.T) {
	for _, r := range []struct {
		s                    Series
		x, down, up, nearest float64
	}{ // by hand from the printed series
		{E12, 400, 390, 470, 390},
		{E12, 430, 390, 470, 470}, // above sqrt(390 470) = 428.1
		{E12, 428, 390, 470, 390},
		{E24, 95, 91, 100, 91}, // below sqrt(9100) = 95.39
		{E3, 9.9, 4.7, 10, 10},
		{E6, 0.099, 0.068, 0.1, 0.1},
		{E96, 398.107, 392, 402, 402},
		{E24, 2.6999999, 2.4, 2.7, 2.7}, // the formula has 2.6
		{E24, 8.25, 8.2, 9.1, 8.2},      // the formula has 8.3
	} {
		if d, u, n := r.s.Down(r.x), r.s.Up(r.x), r.s.Nearest(r.x); d != r.down || u != r.up || n != r.nearest {
			t.Errorf("E%d of %g: %g, %g, %g, want %g, %g, %g", r.s, r.x, d, u, n, r.down, r.up, r.nearest)
		}
	}
}

func TestSeriesOutside(t *testing.T) {
	for _, x := range []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1), 1e13, 1e-13} {
		if got := E12.Nearest(x); !math.IsNaN(got) {
			t.Errorf("nearest to %g: %g, want NaN", x, got)
		}
	}
	for _, s := range []Series{0, -3, 5, 384} {
		if s.Valid() || !math.IsNaN(s.Up(1)) || slices.Collect(s.Range(1, 10)) != nil {
			t.Errorf("E%d is taken for a series", s)
		}
	}
	for _, ends := range [][2]float64{{10, 1}, {math.NaN(), 1}, {1, math.NaN()}, {-2, -1}, {2.3, 4.6}} {
		if got := slices.Collect(E3.Range(ends[0], ends[1])); got != nil {
			t.Errorf("E3 within %v: %v, want nothing", ends, got)
		}
	}
	if got := slices.Collect(E3.Range(0, math.Inf(1))); len(got) != 24*3+1 {
		t.Errorf("%d members from end to end, want 24 decades of 3 and a last one", len(got))
	}
	for v := range E12.Range(1, 1e6) { // a walk may be left
		if v > 2 {
			break
		}
	}
}

func TestSeriesOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom([]Series{E3, E6, E12, E24, E48, E96, E192}).Draw(t, "series")
		x := math.Pow(10, rapid.Float64Range(-11.9, 11.9).Draw(t, "log10 x"))
		down, up := s.Down(x), s.Up(x)
		if !(down <= x && x <= up) {
			t.Fatalf("%g is not within %g to %g", x, down, up)
		}
		if n := s.Nearest(x); n != down && n != up {
			t.Fatalf("nearest to %g is %g, neither %g nor %g", x, n, down, up)
		}
		if next := s.Up(math.Nextafter(down, math.Inf(1))); down != x && next != up {
			t.Fatalf("%g lies between %g and %g", next, down, up)
		}
	})
}
