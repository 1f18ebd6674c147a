package logfile_test

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"example.org/noonfall/logfile"
)

// A power cut tore one line, and the header came again. (Invented data.)
func ExampleReader_Records() {
	log := "time,light\n2027-08-02T08:45:00Z,512\n2027-08-02T08:4\ntime,light\n2027-08-02T08:46:10Z,7\n"
	r := logfile.NewReader(strings.NewReader(log), logfile.Options{Name: "20270802.csv"})
	for rec, err := range r.Records() {
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(rec.Time.Format("15:04:05"), rec.Light)
	}
	rep := r.Report()
	fmt.Println(rep)
	fmt.Println(&rep.List[0])
	fmt.Println(rep.Bytes.Sum() == int64(len(log)))
	// Output:
	// 08:45:00 512
	// 08:46:10 7
	// 20270802.csv: 2 records, 2 headers, 1 problems
	// 20270802.csv:3: torn line: "2027-08-02T08:4"
	// true
}

// What the reader found out about a file, and why.
func ExampleLayout() {
	log := "Uhrzeit;Akku V;Lux\n2.8.2027 10:45;3,7;51200,5\n13.8.2027 10:46;3,7;51190\n"
	r := logfile.NewReader(strings.NewReader(log), logfile.Options{Zone: time.FixedZone("+02:00", 7200)})
	for rec := range r.Records() {
		fmt.Println(rec.Time, rec.Light)
	}
	for _, why := range r.Report().Layout.Reasons {
		fmt.Println("-", why)
	}
	// Output:
	// 2027-08-02 08:45:00 +0000 UTC 51200.5
	// 2027-08-13 08:46:00 +0000 UTC 51190
	// - cut at ';': 2 of 2 sampled lines with a number or a stamp have 3 fields
	// - the decimal mark is a comma
	// - column 1 holds the time
	// - column 3 is light, by its heading "Lux"
	// - dates are day, month, year: one of them can be nothing else
}

// Nothing in the file tells day from month, so the reader asks.
func ExampleLayoutError() {
	r := logfile.NewReader(strings.NewReader("time,light\n02/08/2027 08:45,512\n02/08/2027 08:46,7\n"), logfile.Options{})
	for _, err := range r.Records() {
		fmt.Println(err)
		if open, ok := errors.AsType[*logfile.LayoutError](err); ok {
			fmt.Println("to be decided:", open.Decides)
		}
	}
	// Output:
	// no date tells day from month; the order option decides: dmy, mdy or ymd
	// to be decided: order
}

// The battery clock started anew from 2000 and was set again two records later.
func ExampleEvents() {
	log := "time,light\n2027-08-02 08:45:00,512\n2027-08-02 08:45:01,511\n2000-01-01 00:00:00,509\n2027-08-02 08:45:10,505\n"
	var records []logfile.Record
	for rec := range logfile.NewReader(strings.NewReader(log), logfile.Options{}).Records() {
		records = append(records, rec)
	}
	for _, e := range logfile.Events(records) {
		fmt.Printf("line %d: %v from %d to %d\n", e.Line, e.Kind, e.From.Year(), e.To.Year())
	}
	// Output:
	// line 4: step back from 2027 to 2000
	// line 5: step forward from 2000 to 2027
}

// The second file was copied off the card while the logger went on, so that it
// repeats the first one's end.
func ExampleMerge() {
	read := func(log string) (out []logfile.Record) {
		for rec := range logfile.NewReader(strings.NewReader(log), logfile.Options{}).Records() {
			out = append(out, rec)
		}
		return out
	}
	first := read("time,light\n2027-08-02 08:45:00,512\n2027-08-02 08:45:01,511\n")
	second := read("time,light\n2027-08-02 08:45:01,511\n2027-08-02 08:45:02,509\n")
	merged, duplicates := logfile.Merge(first, second)
	fmt.Println(len(merged), "records,", duplicates, "duplicate")
	// Output: 3 records, 1 duplicate
}
