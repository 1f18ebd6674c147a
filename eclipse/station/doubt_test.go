package station

import (
	"strings"
	"testing"

	"example.org/noonfall/eclipse/fit"
)

// A clock left on local time has its noon as far off as the fit says; an offset of hours
// with noon in its place is no clock's.
func TestDoubtByNoon(t *testing.T) {
	noon := func(minutes float64) *Sky { return &Sky{NoonOffsetMin: &minutes} }
	for _, tt := range []struct {
		name     string
		offsetS  float64
		sky      *Sky
		contains string // of the warning; empty for none
	}{
		{"a clock that is right", 3, noon(-5), ""},
		{"hills in the west", 3, noon(-35), ""},
		{"local time", 7203, noon(112), ""},
		{"a plain day read as an eclipse", -13.75 * 3600, noon(31), "14.3 h"}, // 13.75 h and 31 min
		{"the same, fast", 9.25 * 3600, noon(-29), "9.7 h"},
		{"no dawn in the log", -13.75 * 3600, &Sky{}, ""},
		{"no site", -13.75 * 3600, nil, ""},
	} {
		r := &Report{Clock: &fit.Result{Offset: tt.offsetS}}
		r.Health.Sky = tt.sky
		r.doubtByNoon()
		if got := strings.Join(r.Warnings, "\n"); (got == "") != (tt.contains == "") || !strings.Contains(got, tt.contains) {
			t.Errorf("%s: warnings %q, want %q", tt.name, got, tt.contains)
		}
	}
}
