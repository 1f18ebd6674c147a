package main

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What a fit cannot see, a person may: centimetres for metres, local time for UTC.
func TestMind(t *testing.T) {
	sheet, err := fs.ReadFile(demo(), demoLamp)
	require.NoError(t, err)
	log, err := fs.ReadFile(demo(), demoMorning)
	require.NoError(t, err)
	for _, tt := range []struct {
		name, lamp, log string
		args            []string
		want            []string
	}{
		{"the demo's own", string(sheet), string(log), nil, nil},
		{"centimetres", regexp.MustCompile(`(?m)^([0-9]+)\.([0-9]{2})([0-9])`).ReplaceAllString(string(sheet), "$1$2.$3"), string(log), nil, []string{"500 m is far"}},
		{"no zone", string(sheet), strings.ReplaceAll(string(log), "Z,", ","), nil, []string{"tell no zone"}},
		{"zone stated", string(sheet), strings.ReplaceAll(string(log), "Z,", ","), []string{"-zone", "+00:00"}, nil},
	} {
		args := append([]string{"-station", file(t, demoStation, ""), "-lamp", file(t, demoLamp, tt.lamp), "-morning", file(t, demoMorning, tt.log)}, tt.args...)
		page, err := calibrate(t, args...)
		require.NoError(t, err, tt.name)
		page = strings.ReplaceAll(page, "Mind: 12 minutes in shade", "")
		if got := strings.Count(page, "Mind: "); got != len(tt.want) {
			t.Errorf("%s: %d times Mind, want %d:\n%s", tt.name, got, len(tt.want), page)
		}
		for _, w := range tt.want {
			if !strings.Contains(page, w) {
				t.Errorf("%s lacks %q:\n%s", tt.name, w, page)
			}
		}
		a := answered(t, args...)
		if got := a["morning"].(map[string]any)["zone_assumed"]; got != (tt.name == "no zone") {
			t.Errorf("%s: zone_assumed is %v", tt.name, got)
		}
		if got := len(a["lamp"].(map[string]any)["warnings"].([]any)); (got > 0) != (tt.name == "centimetres") {
			t.Errorf("%s: %d warnings of the lamp", tt.name, got)
		}
	}
}
