package logfile

import (
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
