package logfile_test

import (
	"fmt"
	"strings"
	"time"

	"example.org/noonfall/logfile"
)

// Ten-second means of a log with a failed reading and a gap: each says how many
// readings it is of, and when they were. (Invented data.)
func ExampleAverager() {
	const file = `time,light
2027-08-02T08:45:00Z,812
2027-08-02T08:45:02Z,808
2027-08-02T08:45:04Z,nan
2027-08-02T08:45:07Z,801
2027-08-02T08:45:39Z,640
`
	means, err := logfile.NewAverager(10 * time.Second)
	if err != nil {
		fmt.Println(err)
		return
	}
	show := func(w logfile.Window, ok bool) {
		if ok {
			fmt.Printf("%s N=%d mean %.1f at %s\n", w.Middle().Format("15:04:05"), w.Light.N, w.Light.Mean, w.Light.At.Format("15:04:05.0"))
		}
	}
	for rec, err := range logfile.NewReader(strings.NewReader(file), logfile.Options{}).Records() {
		if err != nil {
			fmt.Println(err)
			return
		}
		show(means.See(rec))
	}
	show(means.Rest())
	// Output:
	// 08:45:05 N=3 mean 807.0 at 08:45:03.0
	// 08:45:35 N=1 mean 640.0 at 08:45:39.0
}
