package main

import (
	"bytes"
	"context"
	"math"
	"testing"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/examples/internal/cli"
)

// In the path the light falls to what totality leaves; 500 km outside, where nine
// tenths of the Sun are covered, there is a hundred times as much, and the common
// load of 1 kohm is good enough.
func TestSite(t *testing.T) {
	in, out := answered(t, "-site", "36.0,-5.6,10"), answered(t, "-site", "40.4,-3.7", "-date", "2027-08-03")
	if got := float64(in.Asked.Low); !(math.Abs(got-eclipse.DefaultFloor/4) <= 0.01) {
		t.Errorf("in the path from %g lx, want a quarter of %g", got, eclipse.DefaultFloor)
	}
	if !(out.Asked.Low > 100*in.Asked.Low) || out.Asked.Sky == nil || out.Asked.Sky.Date != "2027-08-02" || !out.Enough {
		t.Errorf("outside the path %+v, one enough %v", out.Asked, out.Enough)
	}
	for _, l := range out.Loads {
		if l.Ohms == 1000 && !(l.Low >= 20 && l.High >= 20) {
			t.Errorf("outside the path 1 kohm has %g and %g counts per octave", l.Low, l.High)
		}
	}
	// The log ends half an hour and more after fourth contact, the Sun 60 degrees high or
	// more: a clear sky has 102 klx there (testdata/references/daylight_clear.csv), less 3 % in August.
	for _, a := range []answer{in, out} {
		if got := float64(*a.Asked.Sky.High); !(got > 80e3 && got < 120e3) {
			t.Errorf("at most %g lx", got)
		}
		if got := float64(a.Asked.High); !(math.Abs(got/float64(*a.Asked.Sky.High)-4.0/3) <= 1e-6) {
			t.Errorf("%g lx asked for, the clear sky has %g", got, *a.Asked.Sky.High)
		}
	}
}

func TestOwnLightOverrulesTheSite(t *testing.T) {
	a := answered(t, "-site", "36.0,-5.6,10", "-low", "50", "-high", "5000")
	if a.Asked.Low != 50 || a.Asked.High != 5000 {
		t.Errorf("%+v", a.Asked)
	}
}

// That nothing is seen is an answer; that there is no eclipse to ask for is a failure.
func TestNothingToSee(t *testing.T) {
	a := answered(t, "-site", "-70,100")
	if a.Asked.Sky == nil || a.Asked.Sky.Low != nil || a.Asked.Low != 1 || a.Asked.High != 133300 {
		t.Errorf("%+v", a.Asked)
	}
	err := run(context.Background(), &bytes.Buffer{}, []string{"-date", "2027-08-05"})
	if cli.Status(err) != 1 {
		t.Errorf("%v with status %d, want 1", err, cli.Status(err))
	}
}
