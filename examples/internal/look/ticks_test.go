package look

import (
	"strings"
	"testing"
	"time"

	"gonum.org/v1/plot"
)

func TestDecades(t *testing.T) {
	for _, tt := range []struct {
		low, high float64
		labels    string
		ticks     int
	}{
		{0.01, 1e6, "0.01 0.1 1 10 100 1,000 10,000 100,000 1,000,000", 8*9 + 1},
		{1e-6, 1e6, "0.000001 0.0001 0.01 1 100 10,000 1,000,000", 12*9 + 1},
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

func TestTicks(t *testing.T) {
	eight := Seconds(time.Date(2027, 8, 2, 8, 0, 0, 0, time.UTC))
	for _, tt := range []struct {
		name      string
		ticks     plot.Ticker
		low, high float64
		labels    string
	}{
		{"every", Every(30), -1, 95, "0 30 60 90"},
		{"parts", Every(0.25), -0.5, 0.5, "-0.50 -0.25 0.00 0.25 0.50"},
		{"thousands", Every(1024), 0, 4096, "0 1,024 2,048 3,072 4,096"},
		{"round", Round{}, 6.8, 13.3, "7 8 9 10 11 12 13"},
		{"round about 0", Round{}, -11, 11, "-10 -5 0 5 10"},
		{"small", Round{}, -0.03, 0.05, "-0.03 -0.02 -0.01 0.00 0.01 0.02 0.03 0.04 0.05"},
		{"clock", Clock{}, eight - 60, eight + 3*3600, "08:00 08:30 09:00 09:30 10:00 10:30 11:00"},
		{"minutes", Clock{}, eight, eight + 400, "08:00 08:01 08:02 08:03 08:04 08:05 08:06"},
		{"longitude", Degrees{}, 170, 200, "170 175 180 -175 -170 -165 -160"},
		{"half degrees", Degrees{}, -1, 1, "-1 -0.5 0 0.5 1"},
	} {
		var labels []string
		for _, m := range tt.ticks.Ticks(tt.low, tt.high) {
			labels = append(labels, m.Label)
		}
		if got := strings.Join(labels, " "); got != tt.labels {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.labels)
		}
	}
}
