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
