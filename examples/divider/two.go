package main

import (
	"fmt"
	"math"
)

// oneOrTwo says whether one sensor is enough, and what two would do.
func (s *story) oneOrTwo() []string {
	out := append([]string{s.enough()}, s.sideBySide()...)
	if slow := s.slow(); slow != "" {
		out = append(out, slow)
	}
	return out
}

func (s *story) enough() string {
	coarsest := worse(s.best.Load)
	switch {
	case s.design.Enough:
		return fmt.Sprintf("One sensor is enough: a doubling of the light is worth %s counts or more everywhere.", figure(s.fine, 3))
	case coarsest > 0:
		return fmt.Sprintf("One sensor reads all of it, but not as finely as was asked: a doubling is worth %s at its worse end, %s are wanted.", s.count(coarsest), figure(s.fine, 3))
	}
	return fmt.Sprintf("One sensor is not enough: it reads %.1f of %.1f decades.", s.decades(s.best.Load), math.Log10(s.high/s.low))
}

// sideBySide says what two sensors of the kind do.
func (s *story) sideBySide() []string {
	p := s.pair
	out := []string{fmt.Sprintf("Two sensors of the kind side by side, the dim one with %s and the bright one with %s: the dim one reads %s to %s lx, the bright one %s to %s lx.",
		ohms(p.Dim.Ohms), ohms(p.Bright.Ohms), figure(p.Dim.DarkLux, 3), figure(p.Dim.SaturatesLux, 3), figure(p.Bright.DarkLux, 3), figure(p.Bright.SaturatesLux, 3))}
	if p.CountsPerOctave == 0 {
		gap := ""
		if p.Dim.SaturatesLux < p.Bright.DarkLux {
			gap = fmt.Sprintf(" What lies from %s to %s lx neither reads.", figure(p.Dim.SaturatesLux, 3), figure(p.Bright.DarkLux, 3))
		}
		return append(out, "Not even the two reach from end to end."+gap+
			" Take a sensor that spreads more decades over its counts, such as a photoresistor or a digital one that changes its own range, or a converter with more bits and smaller dead zones.")
	}
	verdict := fmt.Sprintf("That is %.1f times as fine as one.", p.CountsPerOctave/worse(s.best.Load))
	switch {
	case p.CountsPerOctave < 1.05*worse(s.best.Load):
		verdict = "That is no finer than one."
	case s.design.Enough:
	case p.CountsPerOctave >= s.fine:
		verdict = "That is enough."
	default:
		verdict = fmt.Sprintf("That is less than the %s that are wanted.", figure(s.fine, 3))
	}
	return append(out, fmt.Sprintf("They hand over at %s lx, above which the bright one has more counts for a doubling. Believe the dim one below and the bright one above, and compare the two where both read."+
		" At the coarsest a doubling is worth %s. %s", figure(p.HandoverLux, 2), s.count(p.CountsPerOctave), verdict))
}
