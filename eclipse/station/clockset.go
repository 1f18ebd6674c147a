package station

import (
	"fmt"
	"math"
	"strings"
)

// A ClockSet says how a logger's clock was set. Empty means that nobody said, which is as
// little as SetUnknown.
type ClockSet string

// The ways.
const (
	SetByNetwork   ClockSet = "network"   // a time server, shortly before or throughout
	SetBySatellite ClockSet = "satellite" // a receiver of navigation satellites
	SetByRadio     ClockSet = "radio"     // a time signal
	SetByPhone     ClockSet = "phone"     // read off a telephone or a computer that is on a network
	SetByHand      ClockSet = "hand"      // by some watch, days before
	SetUnknown     ClockSet = "unknown"   // nobody knows
)

// clockSets are the ways with the standard error that is usual for each when the eclipse comes, s.
// Common practice, no source.
var clockSets = []struct {
	set     ClockSet
	u       float64
	trusted bool
}{
	{SetByNetwork, 0.5, true},
	{SetBySatellite, 0.5, true},
	{SetByRadio, 0.5, false},
	{SetByPhone, 2, false},
	{SetByHand, 60, false},
	{SetUnknown, math.Inf(1), false},
}

// U is the standard error, in seconds, that is usual for a clock set so when the eclipse
// comes; infinite where nobody said how. Common practice, no source.
func (c ClockSet) U() float64 {
	for _, row := range clockSets {
		if row.set == c {
			return row.u
		}
	}
	return math.Inf(1)
}

// Trusted says that the stamps may date the Moon's shadow as they are: the clock was set
// by a network or a satellite.
func (c ClockSet) Trusted() bool {
	for _, row := range clockSets {
		if row.set == c {
			return row.trusted
		}
	}
	return false
}

func (c ClockSet) validate() error {
	if c == "" {
		return nil
	}
	var names []string
	for _, row := range clockSets {
		if row.set == c {
			return nil
		}
		names = append(names, string(row.set))
	}
	return fmt.Errorf("clock_set is %q, want one of %s, or nothing where it is not known", string(c), strings.Join(names, ", "))
}

// trustedMost is by how many standard uncertainties a clock that is trusted may be off
// before it is said (common practice, no source).
const trustedMost = 3

// doubtSetting says where the light contradicts a clock that is said to be kept right. It
// is often the device: what it averages, how late it writes.
func (r *Report) doubtSetting() {
	set := r.Station.ClockSet
	if !set.Trusted() || r.Clock == nil {
		return
	}
	if off := r.Clock.Offset - 3600*r.Clock.ZoneH; math.Abs(off) > trustedMost*math.Hypot(set.U(), r.Clock.OffsetU) {
		r.warn("the clock was set by %s, which is good to %g s as a rule, and the light has it %+.1f +- %.1f s off: the sensor's lag, averaging and a late write are part of that, else the link was down",
			set, set.U(), off, r.Clock.OffsetU)
	}
}
