package shadow_test

import (
	"context"
	"fmt"
	"log"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/shadow"
	"example.org/noonfall/sun"
)

func elements(day string) *eclipse.Elements {
	c, err := canon.Load()
	if err != nil {
		log.Fatal(err)
	}
	d, err := time.Parse(time.DateOnly, day)
	if err != nil {
		log.Fatal(err)
	}
	e, err := c.On(d)
	if err != nil {
		log.Fatal(err)
	}
	return e
}

// 2 August 2027 for the Earth as a whole.
func ExampleShadow_Global() {
	s, err := shadow.New(elements("2027-08-02"), eclipse.Options{})
	if err != nil {
		log.Fatal(err)
	}
	g := s.Global()
	fmt.Println(g.Form())
	fmt.Println("penumbra", g.P1.UTC.Format("15:04"), "to", g.P4.UTC.Format("15:04"))
	fmt.Println("umbra   ", g.U1.UTC.Format("15:04"), "to", g.U4.UTC.Format("15:04"))
	fmt.Printf("greatest %.1f N %.1f E, Sun at %.0f degrees, %.0f s, %.0f km wide\n",
		g.Greatest.Site.Lat, g.Greatest.Site.Lon, g.Greatest.Alt, g.Greatest.Duration, g.Greatest.Width)
	// Output:
	// total
	// penumbra 07:30 to 12:43
	// umbra    08:23 to 11:49
	// greatest 25.5 N 33.2 E, Sun at 82 degrees, 382 s, 258 km wide
}

// The path every half hour.
func ExampleShadow_Path() {
	s, err := shadow.New(elements("2027-08-02"), eclipse.Options{})
	if err != nil {
		log.Fatal(err)
	}
	path, err := s.Path(shadow.PathOptions{Every: 30 * time.Minute})
	if err != nil {
		log.Fatal(err)
	}
	for _, p := range path {
		if !p.Ends {
			fmt.Printf("%s  %5.1f N %6.1f E  %3.0f s  %3.0f km\n", p.UT.Format("15:04"), p.Center.Site.Lat, p.Center.Site.Lon, p.Duration, p.Width)
		}
	}
	// Output:
	// 08:30   33.1 N  -26.0 E  231 s  222 km
	// 09:00   35.5 N    3.8 E  322 s  243 km
	// 09:30   32.2 N   19.6 E  368 s  252 km
	// 10:00   26.9 N   31.0 E  383 s  257 km
	// 10:30   20.1 N   40.3 E  370 s  259 km
	// 11:00   11.9 N   49.7 E  334 s  257 km
	// 11:30    1.1 N   63.0 E  272 s  245 km
}

// Which central lines of this century's second quarter pass within 100 km?
func ExampleNear() {
	c, err := canon.Load()
	if err != nil {
		log.Fatal(err)
	}
	site := sun.Site{Lat: 36, Lon: -5.6}
	for p, err := range shadow.Near(context.Background(), c.All(), site, 100, eclipse.Options{}) {
		if err != nil {
			log.Fatal(err)
		}
		if p.Elements.Date > "2025" && p.Elements.Date < "2051" {
			fmt.Printf("%s %v, %.0f km\n", p.Elements.Date, p.Kind, p.Km)
		}
	}
	// Output:
	// 2027-08-02 total, 33 km
}

// GeoJSON goes into a file as it is; any map program draws it.
func ExampleShadow_GeoJSON() {
	s, err := shadow.New(elements("2027-08-02"), eclipse.Options{})
	if err != nil {
		log.Fatal(err)
	}
	file, err := s.GeoJSON()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(string(file[:27]))
	// Output:
	// {"type":"FeatureCollection"
}
