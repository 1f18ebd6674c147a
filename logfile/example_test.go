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
	// - cut at semicolons: 2 of 2 sampled lines with a number or a stamp have 3 fields
	// - the decimal mark is a comma
	// - the header has the names "Uhrzeit", "Akku V", "Lux"
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
	// line 4: reset from 2027 to 2000
	// line 5: set from 2000 to 2027
}

// The clock was two hours ahead, and somebody set it; the stamps before are wrong by as
// much. (Invented data.)
func ExampleSegments() {
	log := "time,light\n2027-08-02 10:45:00,512\n2027-08-02 10:45:10,511\n2027-08-02 10:45:20,509\n2027-08-02 08:45:30,505\n2027-08-02 08:45:40,502\n"
	var records []logfile.Record
	for rec := range logfile.NewReader(strings.NewReader(log), logfile.Options{}).Records() {
		records = append(records, rec)
	}
	segments := logfile.Segments(records)
	for _, s := range segments[1:] {
		fmt.Printf("%v before record %d: the clock was moved by %v ± %v\n", s.Began, s.From, s.Moved, s.MovedU.Round(time.Millisecond))
	}
	for _, rec := range logfile.ApplyBack(records, segments) {
		fmt.Println(rec.Time.Format(time.TimeOnly), rec.Light)
	}
	// Output:
	// step back before record 3: the clock was moved by -2h0m0s ± 2.887s
	// 08:45:00 512
	// 08:45:10 511
	// 08:45:20 509
	// 08:45:30 505
	// 08:45:40 502
}

// A logger without a clock counts milliseconds from its start, and was started twice.
// Whoever started it noted when. (Invented data.)
func ExampleOptions_starts() {
	log := "millis,light\n250,512\n1250,511\n2250,509\n250,21\n1250,20\n"
	read := func(opt logfile.Options) {
		for rec, err := range logfile.NewReader(strings.NewReader(log), opt).Records() {
			if err != nil {
				fmt.Println(err)
				return
			}
			fmt.Println(rec.Time.Format("15:04:05.00"), rec.Light, rec.Restarted)
		}
	}
	read(logfile.Options{})
	read(logfile.Options{Starts: []time.Time{time.Date(2027, 8, 2, 8, 45, 0, 0, time.UTC), time.Date(2027, 8, 2, 9, 0, 0, 0, time.UTC)}})
	// Output:
	// column 1 counts from the logger's start; give the start: the starts option decides, with an instant for each power-on
	// 08:45:00.25 512 false
	// 08:45:01.25 511 false
	// 08:45:02.25 509 false
	// 09:00:00.25 21 true
	// 09:00:01.25 20 false
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
