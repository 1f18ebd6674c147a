package main

import (
	"fmt"
	"slices"

	"example.org/noonfall/logfile"
)

// farLamp is beyond what rooms are, metres; common practice, no source.
const farLamp = 20

// warnings are about what the fit cannot see: a unit scales all lights alike.
func (l *lampStory) warnings() []string {
	if far := greatest(distances(l.points)); far > farLamp {
		return []string{fmt.Sprintf("%g m is far for a lamp in a room; distance_m is in metres, not in centimetres", far)}
	}
	return []string{}
}

// noZone says that the log's stamps were taken for UTC without saying so.
func (s *story) noZone() bool {
	return slices.ContainsFunc(s.morning.Files, func(f logfile.Report) bool { return f.ZoneAssumed })
}

const zoneWords = "  Mind: the log's stamps tell no zone and were taken for UTC. If the clock was on another, say so\n" +
	"  with -zone: an hour wrong is no clear morning, or a wrong exponent.\n"
