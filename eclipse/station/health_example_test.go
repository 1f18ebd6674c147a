package station_test

import (
	"context"
	"fmt"
	"strings"
	"testing/fstest"
	"time"

	"example.org/noonfall/eclipse/station"
)

// A night's log of an invented logger, in whose clock the battery is flat: whatever
// the day, it says what to change. (Invented data; nothing was measured.)
func ExampleHealth() {
	var log strings.Builder
	log.WriteString("time,light\n")
	unset := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	for i := range 720 {
		fmt.Fprintf(&log, "%s,%d\n", unset.Add(time.Duration(i)*10*time.Second).Format(time.RFC3339), 3+i%2)
	}
	set := time.Date(2027, 9, 20, 22, 0, 0, 0, time.UTC)
	for i := range 720 {
		fmt.Fprintf(&log, "%s,%d\n", set.Add(time.Duration(i)*10*time.Second).Format(time.RFC3339), 3+i%2)
	}
	s := &station.Station{Version: station.Version, Code: "YARD-07", Site: station.Site{Lat: 36, Lon: -5.6}, Eclipse: "2027-09-20"}
	folder := fstest.MapFS{"night.csv": {Data: []byte(log.String())}}
	report, err := station.Reduce(context.Background(), s, station.FilesIn(folder, "night.csv"), station.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	h := report.Health
	fmt.Println(report.Refusal.Reason)
	fmt.Printf("a sample every %g s, readings from %g to %g\n", h.Steps.MedianS, h.Range.Least, h.Range.Greatest)
	for _, a := range h.Advice {
		fmt.Println(a.Rule, a.Number, a.Unit)
	}
	fmt.Println(h.Advice[0].Text)
	// Output:
	// no eclipse
	// a sample every 10 s, readings from 3 to 4
	// unset-clock 720 1
	// no-daylight -20.22 deg
	// cadence 10 s
	// 720 records carry the stamp of a clock that was not set, in 1 spell: give the clock a new battery and set it before the log begins
}
