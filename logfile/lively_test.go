package logfile

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

// Without a header, light is the column that changes: by a tenth beside others that
// change, by a little where the rest stands still.
func TestLightIsWhatChanges(t *testing.T) {
	for _, tt := range []struct {
		name  string
		other func(i int) string
		light bool
	}{
		{"beside a thermometer that stands still", func(int) string { return "24.5" }, true},
		{"beside one that changes as much", func(i int) string { return fmt.Sprintf("%.1f", 24.5-0.01*float64(i)) }, false},
	} {
		var b strings.Builder
		for i := range 120 {
			fmt.Fprintf(&b, "2027-08-02 08:%02d:%02d,%d,%s\n", i/60, i%60, 3000-2*i, tt.other(i))
		}
		r := NewReader(strings.NewReader(b.String()), Options{})
		var err error
		n := 0
		for _, e := range r.Records() {
			if err = e; err == nil {
				n++
			}
		}
		if got := err == nil && n == 120; got != tt.light {
			t.Errorf("%s: %d records, %v; want light found: %v", tt.name, n, err, tt.light)
		}
	}
}

// What may be a thermometer is not taken for light, what cannot be one is.
func TestLightIsNoThermometer(t *testing.T) {
	for _, tt := range []struct {
		name    string
		a, b    func(i int) float64
		decides string
		light   int
	}{
		{"the livelier of two thermometers", func(i int) float64 { return 24.5 }, func(i int) float64 { return 30 - 0.1*float64(i) }, "light", 0},
		{"a thermometer below zero", func(i int) float64 { return 24.5 }, func(i int) float64 { return 2 - 0.05*float64(i) }, "light", 0},
		{"one that failed once", func(i int) float64 { return 24.5 }, func(i int) float64 { return 30 - 0.1*float64(i) - float64(i/119*157) }, "light", 0},
		{"counts", func(i int) float64 { return 24.5 }, func(i int) float64 { return 1000 - 8*float64(i) }, "", 3},
		{"volts", func(i int) float64 { return 24.5 - 0.01*float64(i) }, func(i int) float64 { return 3.3 - 0.02*float64(i) }, "", 3},
		{"watts with a night's offset", func(i int) float64 { return 24.5 }, func(i int) float64 { return 5*float64(i) - 2.5 }, "", 3},
		{"counts beside the number of the row", func(i int) float64 { return float64(i) }, func(i int) float64 { return 1000 - 8*float64(i) }, "", 3},
		{"the number of the row beside one that stands still", func(i int) float64 { return float64(i) }, func(i int) float64 { return 24.5 }, "light", 0},
		{"a switch beside one that stands still", func(i int) float64 { return float64(i / 60) }, func(i int) float64 { return 24.5 }, "light", 0},
	} {
		var b strings.Builder
		for i := range 120 {
			fmt.Fprintf(&b, "2027-08-02 08:%02d:%02d,%.2f,%.2f\n", i/60, i%60, tt.a(i), tt.b(i))
		}
		_, rep, err := drain(t, strings.NewReader(b.String()), Options{})
		var e *LayoutError
		if refused := errors.As(err, &e); refused != (tt.decides != "") || refused && e.Decides != tt.decides || !refused && rep.Layout.has(Light)+1 != tt.light {
			t.Errorf("%s: %v, light is column %d", tt.name, err, rep.Layout.has(Light)+1)
		}
	}
}
