package axis

import (
	"strings"
	"testing"
)

func TestDecades(t *testing.T) {
	for _, tt := range []struct {
		low, high float64
		labels    string
		ticks     int
	}{
		{0.01, 1e6, "0.01 0.1 1 10 100 1000 10000 100000 1000000", 8*9 + 1},
		{0.02, 3, "0.02 0.05 0.1 0.2 0.5 1 2", 8 + 9 + 3},
		{20, 120, "20 30 40 50 60 80 100", 9},
		{2.5, 2.9, "", 0},
	} {
		var labels []string
		ticks := Decades{}.Ticks(tt.low, tt.high)
		for _, m := range ticks {
			if m.Label != "" {
				labels = append(labels, m.Label)
			}
			if !(m.Value >= tt.low && m.Value <= tt.high) {
				t.Errorf("%g to %g: a mark at %g", tt.low, tt.high, m.Value)
			}
		}
		if got := strings.Join(labels, " "); got != tt.labels || len(ticks) != tt.ticks {
			t.Errorf("%g to %g: %q and %d marks, want %q and %d", tt.low, tt.high, got, len(ticks), tt.labels, tt.ticks)
		}
	}
}
