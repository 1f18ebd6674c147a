package sensor_test

import (
	"encoding/json"
	"fmt"

	"example.org/noonfall/sensor"
)

// One load must serve both ends, and 1 kohm does not: it is fine for a dull
// afternoon, and one count in full Sun is 2 % of the light. With the usual 2 % of
// dead zone at the top it cannot be read at all. (A made-up photoresistor.)
func ExampleChain_Compile() {
	chain := sensor.Chain{
		ADC: sensor.ADC{Bits: 12, Ratiometric: true},
		Divider: &sensor.Divider{
			Wiring: sensor.CellOnTop, SupplyV: 3.3, LoadOhm: 1000,
			Cell: sensor.Photoresistor{R10Ohm: 10e3, Gamma: 0.7},
		},
	}
	for _, ohms := range []float64{1000, 100} {
		chain.Divider.LoadOhm = ohms
		c, err := chain.Compile()
		if err != nil {
			fmt.Println(err)
			return
		}
		least, greatest := c.Range()
		fmt.Printf("%4.0f ohm reads %.1f to %.0f lx\n", ohms, least, greatest)
		for _, lux := range []float64{4, 1000, 100000} {
			counts := c.Counts(lux)
			fmt.Printf("%8.0f lx: %4.0f counts, %v\n", lux, counts, c.Lux(counts).Status)
		}
	}
	// Output:
	// 1000 ohm reads 1.0 to 69685 lx
	//        4 lx:  205 counts, ok
	//     1000 lx: 2930 counts, ok
	//   100000 lx: 4032 counts, saturated
	//  100 ohm reads 27.7 to 200000 lx
	//        4 lx:   21 counts, too dark
	//     1000 lx:  822 counts, ok
	//   100000 lx: 3536 counts, ok
}

// Noise is this reading's own; a resistor of 5 % and a cell known to 10 % are in
// every reading of the log. (A made-up circuit.)
func ExampleConverter_Lux() {
	chain := sensor.Chain{
		ADC: sensor.ADC{Bits: 12, Ratiometric: true, NoiseCounts: 4, Averaged: 16},
		Divider: &sensor.Divider{
			Wiring: sensor.CellOnTop, SupplyV: 3.3, LoadOhm: 100, LoadTolerance: 0.05,
			Cell: sensor.Photoresistor{R10Ohm: 10e3, R10LnU: 0.1, Gamma: 0.7},
		},
	}
	c, err := chain.Compile()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, counts := range []float64{821.4, 4090} {
		r := c.Lux(counts)
		fmt.Printf("%v counts: %.0f lx, u %.0f lx, of which %.1f lx random: %v\n", counts, r.Lux, r.LuxU, r.RandomU, r.Status)
	}
	// Output:
	// 821.4 counts: 998 lx, u 148 lx, of which 2.2 lx random: ok
	// 4090 counts: 200000 lx, u 29738 lx, of which 0.0 lx random: saturated
}

// Halfway up the supply the cell equals the load. A meter says the same.
func ExampleConverter_Steps() {
	chain := sensor.Chain{
		ADC: sensor.ADC{Bits: 10, Ratiometric: true},
		Divider: &sensor.Divider{
			Wiring: sensor.CellAtBottom, SupplyV: 5, LoadOhm: 2200,
			Cell: sensor.Photoresistor{R10Ohm: 10e3, Gamma: 0.7},
		},
	}
	c, err := chain.Compile()
	if err != nil {
		fmt.Println(err)
		return
	}
	s := c.Steps(512)
	fmt.Printf("%.2f V, %.0f ohm, %.2f mA, %.0f lx\n", s.Volts, s.Ohms, 1e3*s.Amperes, s.Reading.Lux)
	// Output: 2.50 V, 2200 ohm, 1.14 mA, 87 lx
}

// A chain is kept as JSON; what is missing is named as it is spelt there.
func ExampleChain_Validate() {
	var chain sensor.Chain
	if err := json.Unmarshal([]byte(`{
		"adc": {"bits": 12, "ratiometric": true},
		"divider": {"supply_v": 3.3, "cell": {"r10_ohm": 10000, "gamma": 0.7}}
	}`), &chain); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(chain.Validate())
	// Output:
	// sensor: divider.load_ohm is 0, want 1 to 1e+09: set the fixed resistor
	// sensor: divider.wiring is neither "cell-on-top" nor "cell-at-bottom": it is ""
}

// A generic phototransistor saturates in full Sun unless its load is tiny.
func ExamplePhototransistor() {
	for _, ohms := range []float64{10e3, 220, 47} {
		chain := sensor.Chain{
			ADC: sensor.ADC{Bits: 12, ReferenceV: 3.3},
			Phototransistor: &sensor.Phototransistor{
				SupplyV: 3.3, LoadOhm: ohms, AmperesPerLux: 0.5e-6, SaturationV: 0.4,
			},
		}
		c, err := chain.Compile()
		if err != nil {
			fmt.Println(err)
			return
		}
		r := c.Lux(c.Counts(100e3))
		fmt.Printf("%5.0f ohm: %.0f lx, %v\n", ohms, r.Lux, r.Status)
	}
	// Output:
	// 10000 ohm: 522 lx, saturated
	//   220 ohm: 23727 lx, saturated
	//    47 ohm: 100000 lx, ok
}

// A cell falls from kilohms to ohms between a lamp-lit room and the Sun.
func ExamplePhotoresistor_Ohms() {
	cell := sensor.Photoresistor{R10Ohm: 10e3, Gamma: 0.7, DarkOhm: 1e6}
	for _, lux := range []float64{0, 10, 1000, 100e3} {
		fmt.Printf("%6.0f lx: %.0f ohm\n", lux, cell.Ohms(lux))
	}
	// Output:
	//      0 lx: 1000000 ohm
	//     10 lx: 9901 ohm
	//   1000 lx: 398 ohm
	// 100000 lx: 16 ohm
}

// The Sun at 35 degrees over a clear-lensed phototransistor that looks straight up,
// 55 degrees off its axis: the lens sees a fifteenth of the beam where a flat surface has
// more than half of it. (A made-up part.)
func ExampleConverter_LuxFrom() {
	chain := sensor.Chain{
		ADC: sensor.ADC{Bits: 12, ReferenceV: 3.3},
		Phototransistor: &sensor.Phototransistor{
			SupplyV: 3.3, LoadOhm: 470, AmperesPerLux: 0.5e-6, SaturationV: 0.4,
		},
		Angular: &sensor.AngularResponse{HalfAngleDeg: 30, LnU: 0.1},
	}
	c, err := chain.Compile()
	if err != nil {
		fmt.Println(err)
		return
	}
	r, sun := c.Lux(1400), c.LuxFrom(1400, sensor.Beam{OffAxisDeg: 55, OffAxisU: 1})
	fmt.Printf("as if from straight on: %.0f lx\n", r.Lux)
	fmt.Printf("the Sun on a flat surface: %.0f lx, u %.0f %%\n", sun.Lux, 100*sun.LuxU/sun.Lux)
	// Output:
	// as if from straight on: 4800 lx
	// the Sun on a flat surface: 40097 lx, u 14 %
}
