package logfile_test

import (
	"errors"
	"fmt"
	"strings"

	"example.org/noonfall/logfile"
)

// A refusal says which line and which byte, and its kind can be matched. (Invented data.)
func ExampleProblem() {
	log := "time,light\n2027-08-02T07:00:00Z,812\n2027-08-02T07:00:01Z,813\n2027-08-02T07:0\n2027-08-02T07:00:03Z,815\n"
	r := logfile.NewReader(strings.NewReader(log), logfile.Options{Name: "20270802.csv"})
	for rec, err := range r.Records() {
		if err != nil {
			fmt.Println(err)
			return
		}
		_ = rec
	}
	for _, p := range r.Report().List {
		fmt.Println(p.Error())
		fmt.Println("at byte", p.Offset, errors.Is(&p, logfile.TornLine))
	}
	// Output:
	// 20270802.csv:4: torn line: "2027-08-02T07:0"
	// at byte 61 true
}

// A spreadsheet would run the first and the second; the third is only a number.
func ExampleGuard() {
	for _, remark := range []string{"=2+3", "@sum", "-12.5"} {
		safe := logfile.Guard(remark)
		fmt.Println(safe, logfile.Unguard(safe) == remark)
	}
	// Output:
	// '=2+3 true
	// '@sum true
	// -12.5 true
}

// Rounded to a hundredth of a degree, a school is somewhere in a village. Where the shadow
// runs a kilometre in 0.8 s that costs about half a second.
func ExampleGrid_Cost() {
	g := logfile.Grid{Step: 0.01, SecondsPerKm: 0.8}
	fmt.Println(g.Round(36.00317), g.Round(-5.60292))
	c := g.Cost(36)
	fmt.Printf("%.0f m, %.1f s at worst\n", c.Metres, c.Seconds)
	// Output:
	// 36 -5.6
	// 715 m, 0.6 s at worst
}

// What is wrong with a stranger's metadata is said with its place in the document.
func ExampleReadMetadata() {
	_, err := logfile.ReadMetadata(strings.NewReader(`{
		"@context": "http://www.w3.org/ns/csvw",
		"url": "log.csv",
		"tableSchema": {"columns": [
			{"name": "time", "datatype": "dateTime"},
			{"name": "time", "datatype": "double"}
		]}
	}`))
	fmt.Println(errors.Is(err, logfile.ErrMetadata))
	for line := range strings.Lines(err.Error()) {
		fmt.Println(strings.TrimSpace(line))
	}
	// Output:
	// true
	// tableSchema.columns[1].name: these are no metadata of a table after W3C CSV on the Web: found "time", wanted each name once
}
