package station_test

import (
	"errors"
	"fmt"
	"math"
	"time"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// A made-up morning of a photoresistor whose ohms fall with the power 0.7 of the light,
// in air that takes out 0.22 an air mass. The exponent comes from the shape of the
// climb; the ohms at 10 lx rest on the model's level, and on an extrapolation.
func ExampleFitMorning() {
	site := sun.Site{Lat: 36, Lon: -5.6, Height: 10}
	o, err := sun.NewObserver(site, timescale.Scale{})
	if err != nil {
		fmt.Println(err)
		return
	}
	sky := sun.Sky{Extinction: 0.22}
	var samples []station.MorningSample
	for at := time.Date(2027, 7, 20, 5, 0, 0, 0, time.UTC); at.Hour() < 12; at = at.Add(time.Minute) {
		h := o.Position(timescale.Scale{}.TT(at))
		lux := sky.Illuminance(h.Alt, h.Distance).Global
		samples = append(samples, station.MorningSample{Time: at, Value: 12e3 * math.Pow(lux/10, -0.7)})
	}
	f, err := station.FitMorning(samples, site, station.MorningOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("exponent %.2f, u %.2f\n", -f.Slope, f.SlopeU)
	fmt.Printf("extinction %.2f an air mass, u %.2f\n", f.Extinction, f.ExtinctionU)
	fmt.Printf("%d minutes, air mass %.1f to %.1f\n", f.Used, f.AirMass[1], f.AirMass[0])

	_, err = station.FitMorning(samples[:120], site, station.MorningOptions{})
	var no *station.Refusal
	fmt.Println(errors.As(err, &no) && no.Reason == station.ShortClimb)
	// Output:
	// exponent 0.70, u 0.05
	// extinction 0.22 an air mass, u 0.06
	// 341 minutes, air mass 5.5 to 1.0
	// true
}
