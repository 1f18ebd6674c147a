package air_test

import (
	"fmt"
	"math"
	"time"

	"example.org/noonfall/sensor/air"
)

// A dip of 3 degrees in a box that follows in ten minutes. The box shows a
// smaller one, later; the lag comes off again. Noise is 0.02 K, every ten seconds.
// (Made up.)
func ExampleThermometer_Undo() {
	start := time.Date(2026, 8, 12, 17, 0, 0, 0, time.UTC)
	var truth []air.Sample
	for s := 0.0; s <= 10800; s += 10 {
		x := (s - 5400) / 1500
		truth = append(truth, air.Sample{Time: start.Add(time.Duration(s) * time.Second), C: 22 - 3*math.Exp(-x*x/2)})
	}
	box := air.Thermometer{Tau: 10 * time.Minute, TauU: time.Minute}
	shown, err := box.Read(truth)
	if err != nil {
		fmt.Println(err)
		return
	}
	read := make([]air.Sample, len(shown))
	for i, v := range shown {
		read[i] = air.Sample{Time: v.Time, C: v.C, U: 0.02}
	}
	undone, err := box.Undo(read, air.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, row := range []struct {
		name   string
		values []air.Value
	}{{"shown", shown}, {"undone", undone}} {
		low := row.values[0]
		for _, v := range row.values {
			if v.C < low.C {
				low = v
			}
		}
		fmt.Printf("%s: %.1f degrees at %s\n", row.name, low.C, low.Time.Format("15:04"))
	}
	fmt.Printf("u at 18:10: %.3f K of noise, %+.2f K of tau\n", undone[420].RandomU, undone[420].TauPart)
	// Output:
	// shown: 19.2 degrees at 18:39
	// undone: 19.0 degrees at 18:30
	// u at 18:10: 0.010 K of noise, -0.06 K of tau
}

// Air of 25 degrees and 60 % that an eclipse cools to 21 keeps its vapour.
func ExampleFormula_DewPoint() {
	dew, err := air.WMOWater.DewPoint(25, 60)
	if err != nil {
		fmt.Println(err)
		return
	}
	rh, err := air.WMOWater.Humidity(21, dew)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("dew point %.1f degrees; at 21 degrees %.0f %%\n", dew, rh)
	_, err = air.WMOWater.DewPoint(72, 60)
	fmt.Println(err)
	// Output:
	// dew point 16.7 degrees; at 21 degrees 76 %
	// air: temperature is 72 degrees Celsius, want -45 to 60 degrees Celsius
}

func ExampleColumn_SeaLevel() {
	c := air.Column{HeightM: 430, TempC: 18}
	sea, err := c.SeaLevel(963.2)
	if err != nil {
		fmt.Println(err)
		return
	}
	height, err := air.PressureHeight(963.2)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f hPa at the sea; a standard barometer would say %.0f m\n", sea, height)
	// Output:
	// 1012.8 hPa at the sea; a standard barometer would say 425 m
}

// Each formula says whence it is; they agree to a hundredth of a degree of dew point.
func ExampleFormula_Source() {
	for _, f := range []air.Formula{air.WMOWater, air.AlduchovEskridgeWater} {
		dew, err := f.DewPoint(20, 50)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v: %.2f degrees (%s)\n", f, dew, f.Source())
	}
	// Output:
	// WMO over water: 9.26 degrees (WMO-No. 8 (CIMO guide), part I, annex 4.B; D. Sonntag, Z. Meteorol. 40 (1990) 340)
	// Alduchov and Eskridge over water: 9.26 degrees (O. A. Alduchov, R. E. Eskridge, J. Appl. Meteorol. 35 (1996) 601)
}
