package sensor_test

import (
	"fmt"

	"example.org/noonfall/sensor"
)

// A load of 400 ohm is not sold; its neighbours are.
func ExampleSeries() {
	for _, s := range []sensor.Series{sensor.E3, sensor.E12, sensor.E96} {
		fmt.Printf("E%d: %g, %g or %g ohm\n", s, s.Down(400), s.Nearest(400), s.Up(400))
	}
	for ohms := range sensor.E6.Range(47, 330) {
		fmt.Print(ohms, " ")
	}
	// Output:
	// E3: 220, 470 or 470 ohm
	// E12: 390, 390 or 470 ohm
	// E96: 392, 402 or 402 ohm
	// 47 68 100 150 220 330
}

// From totality to full Sun are five decades. One photoresistor has its ends in
// the converter's dead zones; two with different loads do it. (A made-up cell.)
func ExampleChain_Design() {
	chain := sensor.Chain{
		ADC: sensor.ADC{Bits: 12, Ratiometric: true},
		Divider: &sensor.Divider{Wiring: sensor.CellOnTop, SupplyV: 3.3,
			Cell: sensor.Photoresistor{R10Ohm: 10e3, Gamma: 0.7}},
	}
	d, err := chain.Design(1, 100e3, sensor.DesignOptions{Series: sensor.E12})
	if err != nil {
		fmt.Println(err)
		return
	}
	show := func(name string, l sensor.Load) {
		fmt.Printf("%s: %g ohm (%.0f), reads %.1f to %.0f lx, a filter of density %.1f for the Sun\n",
			name, l.Ohms, l.IdealOhm, l.DarkLux, l.SaturatesLux, l.SunDensity)
	}
	show("one", d.One)
	fmt.Println("enough:", d.Enough)
	show("dim", d.Two.Dim)
	show("bright", d.Two.Bright)
	fmt.Printf("handover at %.0f lx, enough: %v\n", d.Two.HandoverLux, d.Two.Enough)
	// Output:
	// one: 820 ohm (891), reads 1.4 to 92525 lx, a filter of density 0.2 for the Sun
	// enough: false
	// dim: 6800 ohm (6683), reads 0.1 to 4506 lx, a filter of density 1.5 for the Sun
	// bright: 120 ohm (119), reads 21.4 to 200000 lx, a filter of density 0.0 for the Sun
	// handover at 310 lx, enough: true
}
