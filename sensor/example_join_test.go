package sensor_test

import (
	"fmt"
	"log"

	"example.org/noonfall/sensor"
)

// Two dividers on one board, 6.8 kohm for twilight and 120 ohm for the Sun. The cell
// of the second is not what its catalogue says, and the first, which was calibrated,
// tells: between 38 and 4300 lx both read numbers. (Made-up parts, no noise.)
func ExampleFitJoin() {
	divider := func(load, r10, r10LnU float64) *sensor.Converter {
		chain := sensor.Chain{
			ADC: sensor.ADC{Bits: 12, Ratiometric: true},
			Divider: &sensor.Divider{Wiring: sensor.CellOnTop, SupplyV: 3.3, LoadOhm: load,
				Cell: sensor.Photoresistor{R10Ohm: r10, R10LnU: r10LnU, Gamma: 0.7}},
		}
		c, err := chain.Compile()
		if err != nil {
			log.Fatal(err)
		}
		return c
	}
	dim, bright, real := divider(6800, 10e3, 0.05), divider(120, 10e3, 0.4), divider(120, 14e3, 0)
	var low, high []sensor.Reading
	for lux := 60e3; lux > 0.2; lux *= 0.9 { // the light goes
		low, high = append(low, dim.Lux(dim.Counts(lux))), append(high, bright.Lux(real.Counts(lux)))
	}
	join, err := sensor.FitJoin(low, high, sensor.JoinOptions{})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("the bright one says %.3f of the dim one, u %.1f %%; handover from %.0f to %.0f lx\n",
		join.Ratio, 100*join.RatioLnU, join.FromLux, join.ToLux)
	for _, lux := range []float64{1, 200, 50e3} {
		a, b := dim.Lux(dim.Counts(lux)), bright.Lux(real.Counts(lux))
		r := join.Merge(a, b)
		fmt.Printf("%5.0f lx: dim %.0f (%v), bright %.0f (%v), joined %.0f, u %.0f %%\n", lux, a.Lux, a.Status, b.Lux, b.Status, r.Lux, 100*r.LuxU/r.Lux)
	}
	// Output:
	// the bright one says 0.618 of the dim one, u 0.0 %; handover from 38 to 4307 lx
	//     1 lx: dim 1 (ok), bright 21 (too dark), joined 1, u 7 %
	//   200 lx: dim 200 (ok), bright 124 (ok), joined 200, u 7 %
	// 50000 lx: dim 4506 (saturated), bright 30918 (ok), joined 50000, u 7 %
}
