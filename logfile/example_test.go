package logfile_test

import (
	"fmt"
	"strings"

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

// Nothing in the file tells day from month, so the reader asks.
func ExampleLayoutError() {
	r := logfile.NewReader(strings.NewReader("time,light\n02/08/2027 08:45,512\n02/08/2027 08:46,7\n"), logfile.Options{})
	for _, err := range r.Records() {
		fmt.Println(err)
	}
	// Output: no date tells day from month; the order option decides: dmy, mdy or ymd
}
