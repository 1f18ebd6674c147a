package dips_test

import (
	"context"
	"fmt"
	"time"

	"example.org/noonfall/sensor/dips"
)

// A ball takes 60 of 100 counts away, in nine seconds from the first touch to the last. (Made-up readings.)
func ExampleFind() {
	readings := []float64{
		100, 101, 99, 100, 100, 101, 100, 99, 100, 100, 101, 100, 100, 99, 100, 100, 101, 99, 100, 100,
		92, 72, 49, 40, 40, 40, 51, 71, 93,
		100, 100, 99, 101, 100, 100, 100, 99, 100, 101, 100, 100, 99, 100, 100, 101, 100, 100, 99, 100, 100,
	}
	start := time.Date(2027, 7, 20, 20, 0, 0, 0, time.UTC)
	var log []dips.Sample
	for i, counts := range readings {
		log = append(log, dips.Sample{Time: start.Add(time.Duration(i) * time.Second), Counts: counts})
	}
	found, err := dips.Find(context.Background(), log, dips.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, d := range found.Dips {
		fmt.Printf("%s, %.0f s long, %v, %.1f of the light\n",
			d.Least.Round(time.Second).Format(time.TimeOnly), d.End.Sub(d.Start).Seconds(), d.Shape, d.Depth)
	}
	// Output:
	// 20:00:24, 9 s long, flat, 0.6 of the light
}
