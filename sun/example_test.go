package sun_test

import (
	"fmt"
	"time"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// The Sun over an invented school near the Strait, at the middle of the
// eclipse of 2 August 2027.
func ExampleObserver_Position() {
	site := sun.Site{Lat: 36.0, Lon: -5.6, Height: 10}
	var scale timescale.Scale
	o, err := sun.NewObserver(site, scale)
	if err != nil {
		fmt.Println(err)
		return
	}
	h := o.Position(scale.TT(time.Date(2027, 8, 2, 8, 47, 0, 0, time.UTC)))
	fmt.Printf("altitude %.1f, azimuth %.1f degrees\n", h.Alt, h.Az)
	fmt.Printf("clear sky %.0f klx\n", sun.Sky{}.Illuminance(h.Alt, h.Distance).Global/1000)
	// Output:
	// altitude 38.1, azimuth 95.1 degrees
	// clear sky 67 klx
}

// A latitude past the pole is refused by name.
func ExampleSite_Validate() {
	fmt.Println(sun.Site{Lat: 91}.Validate())
	// Output: Site.Lat is 91, want a number from -90 to 90
}

// The Sun's place at a solstice: the longitude passes 90 degrees on 21 June 2000,
// 01:48:46 TT (J. Meeus, Astronomical Algorithms, table 27.E).
func ExampleApparent() {
	p := sun.Apparent(timescale.FromJulianDate(2451716.5, (1*3600+48*60+46)/86400.0))
	fmt.Printf("longitude %.3f, declination %.2f degrees\n", p.Lon, p.Dec)
	// Output: longitude 90.000, declination 23.44 degrees
}

// What the air lifts: half a degree on the horizon, hardly anything overhead,
// and less where the air is thin.
func ExampleAir_Refraction() {
	for _, alt := range []float64{0, 10, 45} {
		low := sun.StandardAir().Refraction(alt) * 60
		high := sun.Air{Pressure: 700, Temperature: 0}.Refraction(alt) * 60
		fmt.Printf("%2.0f degrees: %4.1f arcmin, %4.1f at 3000 m\n", alt, low, high)
	}
	// Output:
	//  0 degrees: 29.0 arcmin, 20.8 at 3000 m
	// 10 degrees:  5.4 arcmin,  3.9 at 3000 m
	// 45 degrees:  1.0 arcmin,  0.7 at 3000 m
}

// Five decades of light between noon and the end of civil twilight, and three
// more to the night.
func ExampleSky_Illuminance() {
	for _, alt := range []float64{60, 10, -0.8333, -6, -18} {
		fmt.Printf("%5.1f degrees %10.4g lx\n", alt, sun.Sky{}.Illuminance(alt, 1).Global)
	}
	// Output:
	//  60.0 degrees  1.019e+05 lx
	//  10.0 degrees  1.427e+04 lx
	//  -0.8 degrees        400 lx
	//  -6.0 degrees        3.4 lx
	// -18.0 degrees      0.002 lx
}
