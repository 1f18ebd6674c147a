package rehearsal_test

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"slices"
	"time"

	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/sun"
)

// A school's logger, its clock half a minute fast, on a day of passing clouds.
// It runs from an hour before first contact to an hour after fourth.
func ExampleMake() {
	catalogue, err := canon.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := catalogue.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	if err != nil {
		fmt.Println(err)
		return
	}
	log, err := rehearsal.Make(context.Background(), rehearsal.Plan{
		Elements: e, Site: sun.Site{Lat: 36, Lon: -5.6}, Offset: 31.4, Weather: rehearsal.Cumulus, Cadence: 10 * time.Second, Seed: 1,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(log.Samples), "records")
	fmt.Println("maximum", log.Truth.Max.Format(time.TimeOnly), "and the clock", log.Truth.Offset, "s fast")
	// Output:
	// 1559 records
	// maximum 08:47:28 and the clock 31.4 s fast
}

// The file begins by saying that it is invented.
func ExampleLog_WriteTo() {
	catalogue, err := canon.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := catalogue.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	if err != nil {
		fmt.Println(err)
		return
	}
	log, err := rehearsal.Make(context.Background(), rehearsal.Plan{
		Elements: e, Site: sun.Site{Lat: 36, Lon: -5.6}, Cadence: time.Minute, Damage: rehearsal.Damage{PowerCycles: 1},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	var file bytes.Buffer
	if _, err := log.WriteTo(&file); err != nil {
		fmt.Println(err)
		return
	}
	lines := bufio.NewScanner(&file)
	for range 2 {
		lines.Scan()
		fmt.Println(lines.Text())
	}
	fmt.Printf("%+v\n", log.Truth.Lines)
	// Output:
	// # invented data: a rehearsal, nothing was measured
	// lat,lon,time,light,temp
	// {Records:259 Headers:2 Comments:1 Torn:0 NULs:0}
}

// A study wants many plans of one kind: the same seed gives the same plan.
func ExampleClass_Draw() {
	catalogue, err := canon.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	class := rehearsal.Class{Depth: rehearsal.Annular, Weather: rehearsal.Cirrus}
	for seed := range uint64(3) {
		plan, err := class.Draw(slices.Collect(catalogue.All()), seed)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(class, plan.Elements.Date, plan.Cadence)
	}
	// Output:
	// annular, cirrus 2100-03-10 30s
	// annular, cirrus 2024-10-02 10s
	// annular, cirrus 2057-07-01 5s
}
