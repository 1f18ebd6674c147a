package fit_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
)

// eclipsedMorning is an invented log of 2 August 2027, as samples, and its rehearsal; the clock is
// 31 s fast.
func eclipsedMorning() ([]fit.Sample, *rehearsal.Log, error) {
	c, err := canon.Load()
	if err != nil {
		return nil, nil, err
	}
	e, err := c.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	if err != nil {
		return nil, nil, err
	}
	log, err := rehearsal.Make(context.Background(), rehearsal.Plan{
		Elements: e, Site: sun.Site{Lat: 36, Lon: -5.6}, Cadence: 10 * time.Second, Offset: 31, Seed: 2,
	})
	if err != nil {
		return nil, nil, err
	}
	var s []fit.Sample
	for _, r := range log.Samples {
		s = append(s, fit.Sample{Time: r.Stamp, Value: r.Counts})
	}
	return s, log, nil
}

// Somebody set the clock back by a minute half an hour after totality: what was before has
// one offset, what came after another.
func ExampleSegments() {
	s, log, err := eclipsedMorning()
	if err != nil {
		fmt.Println(err)
		return
	}
	cut := 0
	for cut < len(s) && s[cut].Time.Before(log.Truth.Max.Add(30*time.Minute)) {
		cut++
	}
	before, after := s[:cut], s[cut:]
	for i := range after {
		after[i].Time = after[i].Time.Add(-time.Minute)
	}
	best, clocks, err := fit.Segments(context.Background(),
		[]fit.Segment{{Samples: before}, {Samples: after, Moved: -60}}, log.Curve, fit.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("the first tells it best:", best == clocks[0].Clock)
	for i, truth := range []float64{31, -29} {
		c := clocks[i].Clock
		fmt.Printf("stretch %d: %g s is in the interval: %t\n", i+1, truth, c.CI95[0] < truth && truth < c.CI95[1])
	}
	// Output:
	// the first tells it best: true
	// stretch 1: 31 s is in the interval: true
	// stretch 2: -29 s is in the interval: true
}

// A second sensor looked at a lamp all day. It has no voice, and says why.
func ExampleChannels() {
	s, log, err := eclipsedMorning()
	if err != nil {
		fmt.Println(err)
		return
	}
	var lamp []fit.Sample
	for i, r := range s {
		lamp = append(lamp, fit.Sample{Time: r.Time, Value: 500 + float64(i%7)})
	}
	best, each, err := fit.Channels(context.Background(), [][]fit.Sample{s, lamp}, log.Curve, fit.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("the first tells it:", math.Abs(best.Offset-31) < 3)
	fmt.Println("the second:", each[1].Refusal.Reason)
	// Output:
	// the first tells it: true
	// the second: indoor lamp
}

// A sensor at its ceiling all day is no clock. The reason is a value to match, not a text.
func ExampleRefusal() {
	s, log, err := eclipsedMorning()
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range s {
		s[i].Status = sensor.Saturated
	}
	_, err = fit.Clock(context.Background(), s, log.Curve, fit.Options{})
	fmt.Println(errors.Is(err, fit.Saturation))
	no, ok := errors.AsType[*fit.Refusal](err)
	fmt.Println(ok, no.Reason)
	// Output:
	// true
	// true saturated
}
