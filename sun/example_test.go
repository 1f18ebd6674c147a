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
