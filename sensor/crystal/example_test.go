package crystal_test

import (
	"fmt"
	"time"

	"example.org/noonfall/sensor/crystal"
)

// A fortnight on a windowsill: 5 degrees at night, 35 by day. The mean is near
// the turnover, and still the clock loses 4 s. What is not known about a fork that
// nobody measured is three times as much.
func ExampleClock_Drift() {
	set := time.Date(2026, 7, 29, 6, 0, 0, 0, time.UTC)
	var h crystal.History
	for i := range 29 {
		h.Points = append(h.Points, crystal.Point{Time: set.Add(time.Duration(i) * 12 * time.Hour), C: []float64{5, 35}[i%2]})
	}
	clock, err := crystal.New(crystal.TuningFork(), h)
	if err != nil {
		fmt.Println(err)
		return
	}
	d, err := clock.Drift(set, set.Add(14*24*time.Hour))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("gained %.1f s, u %.1f s, of which the offset %.1f s\n", d.Seconds, d.SecondsU, d.OffsetU)
	// Output:
	// gained -4.1 s, u 14.0 s, of which the offset 14.0 s
}

// A fork measured to 1 ppm, in a box at 10 degrees. To be within a second at the
// eclipse it may be set 33 h before it and no earlier.
func ExampleClock_SetFrom() {
	fork := crystal.TuningFork()
	fork.OffsetPPM, fork.OffsetPPMU, fork.TurnoverU = 4, 1, 1
	clock, err := crystal.New(fork, crystal.Constant(10))
	if err != nil {
		fmt.Println(err)
		return
	}
	eclipse := time.Date(2026, 8, 12, 18, 30, 0, 0, time.UTC)
	for _, setU := range []float64{0.2, 0.6} {
		d, err := clock.SetFrom(eclipse, crystal.Budget{Seconds: 1, SetU: setU})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("set to %.1f s: %v, %.0f h before\n", setU, d.Verdict, eclipse.Sub(d.At).Hours())
	}
	// Output:
	// set to 0.2 s: by, 33 h before
	// set to 0.6 s: never, 0 h before
}

func ExampleCrystal_RatePPM() {
	fork := crystal.TuningFork()
	for _, t := range []float64{-10, 25, 60} {
		fmt.Printf("%3.0f degrees: %.2f s a day\n", t, 0.0864*fork.RatePPM(t))
	}
	// Output:
	// -10 degrees: -3.60 s a day
	//  25 degrees: 0.00 s a day
	//  60 degrees: -3.60 s a day
}

// In a hot box a fork that is right on the desk loses 0.7 s a day: set on Friday evening, it
// must be set again by Sunday morning to stay within two seconds.
func ExampleClock_SetAgainBy() {
	fork := crystal.TuningFork()
	fork.OffsetPPMU = 0.5 // measured for a week on the desk
	clock, err := crystal.New(fork, crystal.Constant(40))
	if err != nil {
		fmt.Println(err)
		return
	}
	set := time.Date(2027, 7, 30, 18, 0, 0, 0, time.UTC)
	d, err := clock.SetAgainBy(set, crystal.Budget{Seconds: 2, SetU: 0.3})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(d.Verdict, d.At.Format(time.RFC3339))
	// Output:
	// by 2027-08-01T05:51:17Z
}
