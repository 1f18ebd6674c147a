package station_test

import (
	"math"
	"strings"
	"testing"

	"example.org/noonfall/eclipse/station"
)

func TestClockSet(t *testing.T) {
	for _, tt := range []struct {
		set     string
		trusted bool
		most    float64 // s
		fault   string
	}{
		{`"network"`, true, 1, ""},
		{`"satellite"`, true, 1, ""},
		{`"radio"`, false, 1, ""},
		{`"phone"`, false, 5, ""},
		{`"hand"`, false, 120, ""},
		{`""`, false, math.Inf(1), ""},
		{`"by me"`, false, math.Inf(1), `clock_set is "by me", want one of network, satellite, radio, phone, hand`},
	} {
		s, err := station.Parse([]byte(`{"version": 1, "code": "A", "site": {"lat_deg": 1, "lon_deg": 2}, "eclipse": "2027-08-02", "clock_set": ` + tt.set + `}`))
		if tt.fault != "" {
			if err == nil || !strings.Contains(err.Error(), tt.fault) {
				t.Errorf("%s: %v, want %s", tt.set, err, tt.fault)
			}
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		if s.ClockSet.Trusted() != tt.trusted || !(s.ClockSet.U() <= tt.most) {
			t.Errorf("%s: trusted %v, u %g s", tt.set, s.ClockSet.Trusted(), s.ClockSet.U())
		}
	}
}
