package sensor_test

import (
	"fmt"

	"example.org/noonfall/sensor"
)

// Four lights by a meter of 5 %, of which 3 % is the same each time; a multimeter
// of 1 %. (Made-up readings.)
func ExampleCalibrate() {
	var points []sensor.KnownLight
	for _, p := range [][2]float64{{12, 8900}, {105, 1950}, {820, 461}, {9400, 86}} {
		points = append(points, sensor.KnownLight{Lux: p[0], LuxLnU: 0.04, Value: p[1], ValueLnU: 0.01})
	}
	c, err := sensor.Calibrate(points, sensor.CalibrateOptions{LuxLnU: 0.03})
	if err != nil {
		fmt.Println(err)
		return
	}
	cell, err := c.Photoresistor()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f ohm at 10 lx, u %.1f %%\n", cell.R10Ohm, 100*cell.R10LnU)
	fmt.Printf("gamma %.4f, u %.4f, correlation %.2f\n", cell.Gamma, cell.GammaU, cell.R10GammaR)
	fmt.Printf("chi-square %.2f with %d degrees of freedom\n", c.ChiSquare, c.Freedom)
	_, err = sensor.Calibrate(points[:1], sensor.CalibrateOptions{})
	fmt.Println(err)
	// Output:
	// 10050 ohm at 10 lx, u 3.3 %
	// gamma 0.6967, u 0.0060, correlation 0.63
	// chi-square 0.28 with 2 degrees of freedom
	// sensor: too few calibration points: 1, want 2 (three where the scatter is to tell the uncertainty)
}
