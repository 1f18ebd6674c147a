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

// The day of the eclipse of 2 August 2027 by the clock on a school's wall: when
// the light begins, when the Sun is up, when it stands in the south.
func ExampleObserver_Day() {
	o, err := sun.NewObserver(sun.Site{Lat: 36.0, Lon: -5.6, Height: 10}, timescale.Scale{})
	if err != nil {
		fmt.Println(err)
		return
	}
	wall := time.FixedZone("CEST", 2*3600)
	day, err := o.Day(time.Date(2027, 8, 2, 0, 0, 0, 0, wall))
	if err != nil {
		fmt.Println(err)
		return
	}
	if dawn, ok := day.Passage(sun.CivilTwilight).Rise(); ok {
		fmt.Println("civil dawn", dawn.Time.Format("15:04 MST"))
	}
	for _, c := range day.Passage(sun.Sunrise).Crossings {
		fmt.Printf("rising %-5t %s at azimuth %.0f\n", c.Rising, c.Time.Format("15:04"), c.Sun.Az)
	}
	for _, noon := range day.Transits() {
		fmt.Printf("noon         %s, %.1f degrees up\n", noon.Time.Format("15:04"), noon.Sun.Alt)
	}
	// Output:
	// civil dawn 07:02 CEST
	// rising true  07:30 at azimuth 67
	// rising false 21:26 at azimuth 293
	// noon         14:28, 71.7 degrees up
}

// The polar night is an answer, and so is by how much it is one.
func ExampleDay_Passage() {
	o, err := sun.NewObserver(sun.Site{Lat: 69.65, Lon: 18.96}, timescale.Scale{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, date := range []time.Time{time.Date(2026, 6, 21, 0, 0, 0, 0, time.UTC), time.Date(2026, 12, 21, 0, 0, 0, 0, time.UTC)} {
		day, err := o.Day(date)
		if err != nil {
			fmt.Println(err)
			return
		}
		p := day.Passage(sun.Sunrise)
		fmt.Printf("%s: the Sun %v the horizon by %.1f degrees, %d transit\n", date.Format("2 January"), p.Course, p.Margin, len(day.Transits()))
	}
	// Output:
	// 21 June: the Sun stays above the horizon by 3.9 degrees, 1 transit
	// 21 December: the Sun stays below the horizon by 2.3 degrees, 1 transit
}

// A thousand readings of a log cost one preparation.
func ExampleDay_Position() {
	o, err := sun.NewObserver(sun.Site{Lat: 36.0, Lon: -5.6, Height: 10}, timescale.Scale{})
	if err != nil {
		fmt.Println(err)
		return
	}
	day, err := o.Day(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	if err != nil {
		fmt.Println(err)
		return
	}
	var scale timescale.Scale
	for hour := 8; hour <= 10; hour++ {
		h := day.Position(scale.TT(time.Date(2027, 8, 2, hour, 0, 0, 0, time.UTC)))
		fmt.Printf("%02d:00 UTC altitude %.4f azimuth %.4f\n", hour, h.Alt, h.Az)
	}
	// Output:
	// 08:00 UTC altitude 28.5723 azimuth 88.0406
	// 09:00 UTC altitude 40.6778 azimuth 97.2929
	// 10:00 UTC altitude 52.4821 azimuth 109.0913
}

// A sea's horizon seen from a cliff lies lower, and the Sun rises earlier.
func ExampleDip() {
	fmt.Printf("%.2f degrees from 150 m\n", sun.Dip(150))
	// Output: 0.36 degrees from 150 m
}

// A Sun that shows half a degree up has its centre on the horizon: the rest is air.
func ExampleAir_TrueAltitude() {
	fmt.Printf("%.3f degrees\n", sun.StandardAir().TrueAltitude(0.5))
	// Output: 0.020 degrees
}

// A sensor on a south wall in winter gets more than one that lies flat.
func ExampleSky_On() {
	noon := sun.Horizontal{Alt: 20, Az: 180, Distance: 0.984}
	flat, wall := sun.Surface{}, sun.Surface{Tilt: 90, Azimuth: 180, Albedo: 0.2}
	fmt.Printf("flat %.0f klx, wall %.0f klx\n", sun.Sky{}.On(flat, noon)/1000, sun.Sky{}.On(wall, noon)/1000)
	// Output: flat 35 klx, wall 76 klx
}
