package logfile_test

import (
	"fmt"
	"os"
	"strings"
	"time"

	"example.org/noonfall/logfile"
)

// A log is published: the place is rounded, and a remark that a spreadsheet would
// run is made harmless. (Invented data.)
func ExampleWriter() {
	var file strings.Builder
	w, err := logfile.NewWriter(&file, []logfile.Field{
		{Name: "time", Role: logfile.Time},
		{Name: "illuminance", Role: logfile.Light, Unit: "lx"},
		{Name: "latitude", Role: logfile.Lat, Unit: "deg"},
		{Name: "longitude", Role: logfile.Lon, Unit: "deg"},
		{Name: "remark"},
	}, logfile.WriterOptions{Grid: logfile.Grid{Step: 0.01, SecondsPerKm: 1.2}})
	if err != nil {
		fmt.Println(err)
		return
	}
	at := time.Date(2027, 8, 2, 8, 45, 0, 250e6, time.UTC)
	for i, remark := range []string{"thin cloud", "=SUM(B2:B9)"} {
		rec := logfile.Record{Time: at.Add(time.Duration(i) * time.Second), Light: 512 - 513*float64(i), Lat: 36.7213, Lon: -4.4214}
		if err := w.Write(rec, remark); err != nil {
			fmt.Println(err)
		}
	}
	if err := w.Flush(); err != nil {
		fmt.Println(err)
	}
	fmt.Print(strings.ReplaceAll(file.String(), "\r\n", "\n"))
	fmt.Println(w.PlaceCost())
	fmt.Println(logfile.Unguard("'=SUM(B2:B9)"))
	// Output:
	// time,illuminance,latitude,longitude,remark
	// 2027-08-02T08:45:00.25Z,512,36.72,-4.42,thin cloud
	// 2027-08-02T08:45:01.25Z,-1,36.72,-4.42,'=SUM(B2:B9)
	// the place is off by up to 712 m, predicted times by up to 0.85 s
	// =SUM(B2:B9)
}

// The metadata that belong beside log.csv, as log.csv-metadata.json.
func ExampleWriter_Metadata() {
	var file strings.Builder
	w, err := logfile.NewWriter(&file, []logfile.Field{
		{Name: "time", Role: logfile.Time}, {Name: "illuminance", Role: logfile.Light, Unit: "lx"}}, logfile.WriterOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	if err := w.Write(logfile.Record{Time: time.Date(2027, 8, 2, 8, 45, 0, 0, time.UTC), Light: 512}); err != nil {
		fmt.Println(err)
	}
	m := w.Metadata("log.csv")
	m.Title = "Invented log"
	if err := m.Write(os.Stdout); err != nil {
		fmt.Println(err)
	}
	// Output:
	// {
	//   "@context": [
	//     "http://www.w3.org/ns/csvw",
	//     {
	//       "@language": "en"
	//     }
	//   ],
	//   "dc:title": "Invented log",
	//   "dialect": {
	//     "delimiter": ",",
	//     "encoding": "utf-8",
	//     "header": true,
	//     "lineTerminators": [
	//       "\r\n",
	//       "\n"
	//     ],
	//     "trim": false
	//   },
	//   "tableSchema": {
	//     "columns": [
	//       {
	//         "datatype": {
	//           "base": "dateTime",
	//           "format": "yyyy-MM-ddTHH:mm:ssX"
	//         },
	//         "dc:description": "instant of the reading, UTC",
	//         "name": "time",
	//         "required": true,
	//         "titles": "time"
	//       },
	//       {
	//         "datatype": "double",
	//         "name": "illuminance",
	//         "schema:unitText": "lx",
	//         "titles": "illuminance"
	//       }
	//     ]
	//   },
	//   "url": "log.csv"
	// }
}
