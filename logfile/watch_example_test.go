package logfile_test

import (
	"fmt"
	"strings"

	"example.org/noonfall/logfile"
)

// A live log, watched line by line: the battery of its clock fails, and somebody sets it
// again. (Invented data.)
func ExampleWatch() {
	log := `time,light
2027-08-02T06:59:59Z,811
2027-08-02T07:00:00Z,812
2027-08-02T07:00:01Z,813
2000-01-01T00:00:00Z,813
2000-01-01T00:00:01Z,814
2027-08-02T07:30:00Z,790
`
	var watch logfile.Watch
	for rec, err := range logfile.NewReader(strings.NewReader(log), logfile.Options{}).Records() {
		if err != nil {
			fmt.Println(err)
			return
		}
		if e, ok := watch.See(rec); ok {
			fmt.Printf("line %d: %v\n", e.Line, e.Kind)
		}
	}
	// Output:
	// line 5: reset
	// line 7: set
}
