package logfile

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Bit for bit what the standard library reads.
func TestNumbersAgainstStandardLibrary(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		v := (rng.Float64() - 0.5) * math.Pow(10, float64(rng.IntN(12)-4))
		text := strconv.FormatFloat(v, "feg"[rng.IntN(3)], rng.IntN(17), 64)
		want, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err)
		if got, ok := parseNumber([]byte(text), '.'); !ok || got != want {
			t.Fatalf("%s: %v %v, want %v", text, got, ok, want)
		}
		if got, ok := parseNumber([]byte(strings.Replace(text, ".", ",", 1)), ','); !ok || got != want {
			t.Fatalf("%s with a comma: %v %v, want %v", text, got, ok, want)
		}
	}
	for text, want := range map[string]float64{"+5": 5, " 5 ": 5, "5.": 5, ".5": 0.5, "-.5": -0.5, "-0": math.Copysign(0, -1), "007": 7, "123456789012345678901234567890": 123456789012345678901234567890, "1E3": 1000} {
		if got, ok := parseNumber([]byte(text), '.'); !ok || got != want || math.Signbit(got) != math.Signbit(want) {
			t.Errorf("%q: %v %v, want %v", text, got, ok, want)
		}
	}
	for _, bad := range []string{"", "-", ".", "nan", "NaN", "inf", "-Inf", "0x10", "1_000", "1.2.3", "12a", "1e400", "--1", "1 2", "1,5", "e5", "0x1p-2"} {
		if v, ok := parseNumber([]byte(bad), '.'); ok {
			t.Errorf("%q was read as %g", bad, v)
		}
	}
	if v, ok := parseNumber([]byte("1.5"), ','); ok {
		t.Errorf("1.5 under a decimal comma was read as %g", v)
	}
}

func TestScanStopsAtTheDelimiter(t *testing.T) {
	for _, tt := range []struct {
		in   string
		v    float64
		next int
		ok   bool
	}{
		{"12.5,3", 12.5, 4, true}, {"12.5", 12.5, 4, true}, {"-7,", -7, 2, true}, {"12 ,3", 0, 0, false}, {",3", 0, 0, false}, {"", 0, 0, false},
		{"1234567890123456,", 0, 0, false}, {"99999999999999999999999999,", 0, 0, false}, {"\"5\",", 0, 0, false},
	} {
		v, next, ok := scanNumber([]byte(tt.in), 0, '.', ',')
		if ok != tt.ok || ok && (v != tt.v || next != tt.next) {
			t.Errorf("%q: %v %d %v, want %v %d %v", tt.in, v, next, ok, tt.v, tt.next, tt.ok)
		}
	}
}
