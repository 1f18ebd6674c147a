package station_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"testing/fstest"
	"time"

	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
)

// madeUpFolder is what a school hands in: a description and a log. (Invented; the clock
// of the log is 12 s fast.)
func madeUpFolder() (fstest.MapFS, error) {
	catalogue, err := canon.Load()
	if err != nil {
		return nil, err
	}
	elements, err := catalogue.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	if err != nil {
		return nil, err
	}
	log, err := rehearsal.Make(context.Background(), rehearsal.Plan{
		Elements: elements, Site: sun.Site{Lat: 36, Lon: -5.6, Height: 10}, Offset: 12, Cadence: 5 * time.Second, Seed: 3,
	})
	if err != nil {
		return nil, err
	}
	var text bytes.Buffer
	if _, err := log.WriteTo(&text); err != nil {
		return nil, err
	}
	return fstest.MapFS{
		"20270802.csv": {Data: text.Bytes()},
		"station.json": {Data: []byte(`{
			"version": 1,
			"code": "YARD-07",
			"site": {"lat_deg": 36.0, "lon_deg": -5.6, "height_m": 10},
			"eclipse": "2027-08-02",
			"files": ["20270802.csv"]
		}`)},
	}, nil
}

// From a folder to what it says of the clock, and to the few lines that a campaign wants.
func ExampleReduce() {
	folder, err := madeUpFolder()
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := station.ReadFile(folder, "station.json")
	if err != nil {
		fmt.Println(err)
		return
	}
	report, err := station.Reduce(context.Background(), s, station.FilesIn(folder, s.Files...), station.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	if report.Refusal != nil {
		fmt.Println("cannot tell:", report.Refusal)
		return
	}
	fmt.Printf("%d records, seen: %v\n", report.Records, report.Circumstances.Seen)
	fmt.Println("the clock is 12 s fast:", report.Clock.CI95[0] < 12 && 12 < report.Clock.CI95[1])
	// Output:
	// 3118 records, seen: total
	// the clock is 12 s fast: true
}

// What leaves the school: no file names, no remarks, and a place rounded to a kilometre.
func ExampleReport_Summary() {
	folder, err := madeUpFolder()
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := station.ReadFile(folder, "station.json")
	if err != nil {
		fmt.Println(err)
		return
	}
	s.Site.Lat, s.Site.Lon, s.Remarks = 36.00317, -5.60292, "behind the gym, ask the caretaker"
	report, err := station.Reduce(context.Background(), s, station.FilesIn(folder, s.Files...), station.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	summary, err := report.Summary(station.SummaryOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(summary.Code, summary.Eclipse, summary.Site.Lat, summary.Site.Lon, summary.Seen)
	fmt.Println(len(summary.Light) > 10, summary.Clock != nil)
	// Output:
	// YARD-07 2027-08-02 36 -5.6 total
	// true true
}

// All that is wrong with a description comes back at once, with its line and its remedy.
func ExampleParse() {
	_, err := station.Parse([]byte(`{
  "version": 1,
  "site": {"lat_deg": 36.0, "lon_deg": 365},
  "eclipse": "2 August 2027",
  "zone": "+2"
}`))
	fmt.Println(err)
	wrong, ok := errors.AsType[*station.FieldError](err)
	fmt.Println(ok, wrong.Line, wrong.Key)
	// Output:
	// station: line 3: site.lon_deg: Site.Lon is 365, want a number from -180 to less than 360; degrees, north and east positive, and metres above the ellipsoid
	// line 4: eclipse: eclipse is "2 August 2027", want a day like 2027-08-02
	// line 5: zone: zone is "+2", want +HH:MM or an IANA name
	// true 3 site.lon_deg
}

// A cell out of the bag, and what a lamp found it to be: the load's tolerance goes with
// the calibration, since it was in every value.
func ExampleNewPart() {
	chain := sensor.Chain{
		ADC: sensor.ADC{Bits: 12, Ratiometric: true},
		Divider: &sensor.Divider{Wiring: sensor.CellOnTop, SupplyV: 3.3, LoadOhm: 470, LoadTolerance: 0.05,
			Cell: sensor.Photoresistor{R10Ohm: 10e3, Gamma: 0.7}},
	}
	part, err := station.NewPart(chain)
	if err != nil {
		fmt.Println(err)
		return
	}
	var points []sensor.KnownLight
	for _, p := range []struct{ lux, counts float64 }{{100, 820}, {400, 1590}, {1600, 2490}} {
		k, status := part.Value(p.counts)
		k.Lux, k.LuxLnU = p.lux, 0.05
		fmt.Printf("%.0f lx: %.0f %s, %v\n", p.lux, k.Value, part.Unit(), status)
		points = append(points, k)
	}
	found, err := sensor.Calibrate(points, sensor.CalibrateOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	calibrated, err := part.Calibrated(found)
	if err != nil {
		fmt.Println(err)
		return
	}
	cell := calibrated.Divider.Cell
	fmt.Printf("R10 %.1f kohm, exponent %.2f +- %.2f\n", cell.R10Ohm/1e3, cell.Gamma, cell.GammaU)
	// Output:
	// 100 lx: 1878 ohm, ok
	// 400 lx: 741 ohm, ok
	// 1600 lx: 303 ohm, ok
	// R10 8.5 kohm, exponent 0.66 +- 0.02
}
