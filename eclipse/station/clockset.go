package station

import (
	"fmt"
	"math"
	"strings"
)

// A ClockSet says how a logger's clock was set. Empty means that nobody said.
type ClockSet string

// The ways.
const (
	SetByNetwork   ClockSet = "network"   // a time server, shortly before or throughout
	SetBySatellite ClockSet = "satellite" // a receiver of navigation satellites
	SetByRadio     ClockSet = "radio"     // a time signal
	SetByPhone     ClockSet = "phone"     // read off a telephone or a computer that is on a network
	SetByHand      ClockSet = "hand"      // by some watch, days before
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
