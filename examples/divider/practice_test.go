package main

import (
	"strings"
	"testing"
)

// A load that reads none of what was asked has lost all of it and not both ends: in the
// dark a larger load helps, in the light a filter does.
func TestAllOfItLost(t *testing.T) {
	for args, want := range map[string]string{
		"-low 1 -high 2":          "All of 1 to 2 lx is too dark for this load: a larger one helps.",
		"-low 50000 -high 100000": "A filter of optical density 0.4 before the sensor would bring 100000 lx into range",
		"-low 1e-6 -high 1e6":     "it loses both ends, and no filter mends that",
		"-low 100 -high 200":      "That is no finer than one.",
	} {
		page := strings.Join(strings.Fields(told(t, strings.Fields(args)...)), " ")
		if !strings.Contains(page, want) {
			t.Errorf("%s: the page lacks %q", args, want)
		}
		if strings.Contains(args, "-low 1 ") && strings.Contains(page, "loses both ends, and no filter") {
			t.Errorf("%s: what a larger load would mend is told to be beyond help", args)
		}
	}
	if page := told(t, "-load", "10"); !strings.Contains(page, "gives 1 count:") {
		t.Error("10 ohm have no single count of totality")
	}
}
