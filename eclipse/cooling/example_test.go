package cooling_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/cooling"
	"example.org/noonfall/sensor/air"
	"example.org/noonfall/sun"
)

func curveOf(day string, site sun.Site) (*eclipse.Curve, error) {
	c, err := canon.Load()
	if err != nil {
		return nil, err
	}
	at, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return nil, err
	}
	e, err := c.On(at)
	if err != nil {
		return nil, err
	}
	o, err := eclipse.NewObserver(e, site, eclipse.Options{})
	if err != nil {
		return nil, err
	}
	return eclipse.NewCurve(o, eclipse.CurveOptions{})
}

// Invented readings, once a minute: a warming morning, and a bell-shaped dip of three
// degrees that is deepest twelve minutes after maximum.
func ExampleMeasure() {
	curve, err := curveOf("2027-08-02", sun.Site{Lat: 36, Lon: -5.6})
	if err != nil {
		fmt.Println(err)
		return
	}
	max := curve.Circumstances().Max.UTC
	var readings []cooling.Reading
	for m := -140.0; m <= 140; m++ {
		dip := 3 * math.Exp(-(m-12)*(m-12)/(2*27*27))
		c := 24 + m/100 - dip
		readings = append(readings, cooling.Reading{UTC: max.Add(time.Duration(m) * time.Minute), C: math.Round(c*10) / 10})
	}
	r, err := cooling.Measure(context.Background(), readings, curve, cooling.Options{Thermometer: air.Thermometer{Tau: 5 * time.Second}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("fell by %.1f +- %.1f degrees, deepest %.0f +- %.0f min after maximum\n", r.Drop.Value, r.Drop.U, r.Lag.Value/60, r.Lag.U/60)
	_, err = cooling.Measure(context.Background(), readings[:60], curve, cooling.Options{})
	fmt.Println(errors.Is(err, cooling.NoOverlap))
	// Output:
	// fell by 3.1 +- 0.2 degrees, deepest 11 +- 1 min after maximum
	// true
}
