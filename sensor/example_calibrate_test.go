package sensor_test

import (
	"errors"
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
	// sensor: too few calibration points: 1, want 2 (one more where the scatter is to tell the uncertainty)
}

// A lamp of unknown strength, a tape whose zero is not the lamp's and a room that
// is not dark: the exponent is right all the same. (Made-up readings, of a cell
// with an exponent of 0.7, a zero of 30 mm and 4 % of the lamp's light at 1 m.)
func ExampleCalibrateLamp() {
	var points []sensor.LampPoint
	for _, p := range [][2]float64{
		{0.2, 1029}, {0.3, 1671}, {0.45, 2860}, {0.7, 5060}, {1, 8140}, {1.5, 13580}, {2.2, 21480}, {3.2, 32640}, {4.5, 43500},
	} {
		points = append(points, sensor.LampPoint{DistanceM: p[0], DistanceU: 0.001, Value: p[1], ValueLnU: 0.01})
	}
	c, err := sensor.CalibrateLamp(sensor.Lamp{Candela: 1}, points, sensor.LampOptions{FitZero: true, FitBackground: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("gamma %.3f, u %.3f\n", -c.Slope, c.SlopeU)
	fmt.Printf("zero %.0f mm, u %.0f mm\n", 1e3*c.ZeroM, 1e3*c.ZeroU)
	fmt.Printf("the room has %.3f of the lamp at 1 m, u %.3f\n", c.BackgroundLux, c.BackgroundU)
	// From 1 to 3.2 m zero and background cannot be told apart from the exponent.
	_, err = sensor.CalibrateLamp(sensor.Lamp{Candela: 1}, append(points[4:8:8], points[4]), sensor.LampOptions{FitZero: true, FitBackground: true})
	fmt.Println("refused for the walk:", errors.Is(err, sensor.ErrLampMoved))
	// Output:
	// gamma 0.702, u 0.015
	// zero 32 mm, u 10 mm
	// the room has 0.040 of the lamp at 1 m, u 0.004
	// refused for the walk: true
}

// A phototransistor, once covered: its line is straight, so that the slope is held,
// and what it leaks in darkness is told from what light does. (Made-up readings.)
func ExampleCalibration_Phototransistor() {
	var points []sensor.KnownLight
	for _, p := range [][2]float64{{0, 0.21e-6}, {5, 2.68e-6}, {60, 30.9e-6}, {900, 462e-6}} {
		points = append(points, sensor.KnownLight{Lux: p[0], LuxLnU: 0.03, Value: p[1], ValueLnU: 0.02})
	}
	c, err := sensor.Calibrate(points, sensor.CalibrateOptions{Slope: 1, FitDark: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	part, err := c.Phototransistor()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f uA a lux, u %.1f %%\n", 1e6*part.AmperesPerLux, 100*part.AmperesPerLuxLnU)
	fmt.Printf("%.3f uA in darkness, u %.3f uA\n", 1e6*part.DarkAmperes, 1e6*part.DarkAmperesU)
	_, err = sensor.Calibrate(points[2:], sensor.CalibrateOptions{Slope: 1, FitDark: true})
	fmt.Println("refused without the darker two:", errors.Is(err, sensor.ErrNoDark))
	// Output:
	// 0.506 uA a lux, u 2.1 %
	// 0.210 uA in darkness, u 0.004 uA
	// refused without the darker two: true
}
