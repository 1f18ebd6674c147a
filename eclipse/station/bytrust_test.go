package station_test

import (
	"math"
	"testing"

	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/eclipse/station"
)

// Two and a half degrees west written as east: the eclipse fits there too, seven minutes
// earlier, and neither dawn nor dusk is in the log. Only a clock that is known to be right tells.
func TestTrustedClockTellsTheSign(t *testing.T) {
	for _, tt := range []struct {
		name   string
		set    station.ClockSet
		lon    float64 // as written; it is -2.46
		offset float64
		named  string
	}{
		{"sign", station.SetByNetwork, 2.46, -8, "the sign of the longitude"},
		{"sign, by phone", station.SetByPhone, 2.46, 3, "the sign of the longitude"},
		{"sign, by hand", station.SetByHand, 2.46, -8, ""},
		{"right", station.SetByNetwork, -2.46, -8, ""},
		{"right place, wrong clock", station.SetByNetwork, -2.46, 300, ""},
	} {
		rep := rehearsed(t, func(p *rehearsal.Plan, s *station.Station) {
			p.Site.Lat, p.Site.Lon, p.Offset = 36.84, -2.46, tt.offset
			s.Site, s.ClockSet = station.Site{Lat: 36.84, Lon: tt.lon}, tt.set
		})
		named := ""
		if m := rep.Misplaced; m != nil {
			named = m.What
			if m.Clock == nil || !(math.Abs(m.Clock.Offset-tt.offset) <= 3) || m.Site.Lon != -2.46 {
				t.Errorf("%s: %+v", tt.name, m)
			}
		}
		if named != tt.named {
			t.Errorf("%s: named %q, want %q; %q", tt.name, named, tt.named, rep.Warnings)
		}
	}
}
