package sensor_test

import (
	"fmt"

	"example.org/noonfall/sensor"
)

// A cell out of the bag in full Sun: its exponent alone leaves a factor open, and the interval
// is lopsided. The mean of many readings would be no surer. (Made-up part.)
func ExampleReading_Interval() {
	chain := sensor.Chain{
		ADC: sensor.ADC{Bits: 12, Ratiometric: true},
		Divider: &sensor.Divider{Wiring: sensor.CellOnTop, SupplyV: 3.3, LoadOhm: 47, LoadTolerance: 0.05,
			Cell: sensor.Photoresistor{R10Ohm: 10e3, R10LnU: 0.2, Gamma: 0.7, GammaU: 0.03}},
	}
	c, err := chain.Compile()
	if err != nil {
		fmt.Println(err)
		return
	}
	r := c.Lux(2400)
	low, high := r.Interval(1.96)
	fmt.Printf("%.0f lx, u %.0f, of which each reading's own is %.0f\n", r.Lux, r.LuxU, r.RandomU)
	fmt.Printf("95 %% from %.0f to %.0f lx\n", low, high)
	// Output:
	// 34752 lx, u 15751, of which each reading's own is 14
	// 95 % from 14294 to 84488 lx
}

// A sensor that reports lux, to 120,000 of them: what is at its ceiling is a bound.
func ExampleDigital() {
	chain := sensor.Chain{Digital: &sensor.Digital{LuxPerCount: 1, MaxCounts: 120000}}
	c, err := chain.Compile()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, counts := range []float64{0, 3, 41250, 120000} {
		r := c.Lux(counts)
		fmt.Printf("%.0f: %s %.6g lx\n", counts, r.Status, r.Lux)
	}
	// Output:
	// 0: too dark 0.5 lx
	// 3: ok 3 lx
	// 41250: ok 41250 lx
	// 120000: saturated 120000 lx
}

// A lamp knows the exponent, a clear morning the level: together they know both. Chi-square
// says whether they are of one sensor. (Made-up figures.)
func ExampleCombine() {
	lamp := sensor.Calibration{LnValue: 9.21, LnValueU: 0.20, Slope: -0.700, SlopeU: 0.005}
	morning := sensor.Calibration{LnValue: 9.30, LnValueU: 0.10, Slope: -0.71, SlopeU: 0.02}
	both, err := sensor.Combine(lamp.Loosened(0.02, 300), morning)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("ln R10 %.2f +- %.2f, exponent %.3f +- %.3f\n", both.LnValue, both.LnValueU, -both.Slope, both.SlopeU)
	fmt.Printf("chi-square %.1f of %d\n", both.ChiSquare, both.Freedom)
	// Output:
	// ln R10 9.29 +- 0.09, exponent 0.706 +- 0.014
	// chi-square 0.2 of 2
}
