package sensor_test

import (
	"fmt"

	"example.org/noonfall/sensor"
)

// One load must serve both ends. With 1 kohm a count in full Sun is over two per
// cent of the light. (A made-up photoresistor.)
func ExampleChain_Compile() {
	chain := sensor.Chain{
		ADC: sensor.ADC{Bits: 12, ReferenceV: 3.3, Ratiometric: true},
		Divider: &sensor.Divider{
			SupplyV: 3.3, LoadOhm: 1000, CellOnTop: true,
			Cell: sensor.Photoresistor{R10Ohm: 10e3, Gamma: 0.7},
		},
	}
	c, err := chain.Compile()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, lux := range []float64{4, 10000, 100000} {
		counts := c.Counts(lux)
		r := c.Lux(counts)
		fmt.Printf("light %6.0f lx: %4.0f counts, read as %.0f lx, %v\n", lux, counts, r.Lux, r.Status)
	}
	// Output:
	// light      4 lx:  205 counts, read as 4 lx, ok
	// light  10000 lx: 3795 counts, read as 10000 lx, ok
	// light 100000 lx: 4032 counts, read as 69685 lx, saturated
}

func ExampleChain_Validate() {
	var chain sensor.Chain
	fmt.Println(chain.Validate())
	// Output: sensor: set exactly one of Divider, Phototransistor and Digital
}
