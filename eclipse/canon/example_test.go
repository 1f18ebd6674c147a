package canon_test

import (
	"fmt"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/sun"
)

// What happens at Luxor on 2 August 2027, near the place of longest totality.
func ExampleCatalogue_On() {
	c, err := canon.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := c.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	if err != nil {
		fmt.Println(err)
		return
	}
	o, err := eclipse.NewObserver(e, sun.Site{Lat: 25.70, Lon: 32.64, Height: 80}, eclipse.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	local := o.Circumstances()
	fmt.Printf("%v at %s UTC, for %.1f minutes\n", local.Seen, local.Max.UTC.Format("15:04"), local.Duration/60)
	// Output:
	// total at 10:05 UTC, for 6.3 minutes
}

// A day without an eclipse is an error that says where to look.
func ExampleNoEclipseError() {
	c, err := canon.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = c.On(time.Date(2027, 8, 12, 0, 0, 0, 0, time.UTC))
	fmt.Println(err)
	// Output:
	// canon: no eclipse within a day of 2027-08-12: the one before is on 2027-08-02, the next on 2028-01-26 (catalogue 1901-05-18 to 2100-09-04)
}

// The eclipses that are total in one place and annular in another, two
// centuries of them.
func ExampleCatalogue_All() {
	c, err := canon.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	hybrids := 0
	for e := range c.All() {
		if e.Greatest().Type == eclipse.TypeHybrid {
			hybrids++
		}
	}
	fmt.Println(hybrids, "of", c.Len())
	// Output:
	// 13 of 452
}

// The total eclipses that a crossroads in Illinois sees in two centuries: two, not
// seven years apart. On average a place waits for 375 years (J. Meeus, from memory).
func ExampleCatalogue_SeenFrom() {
	c, err := canon.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	crossroads := sun.Site{Lat: 37.65, Lon: -89.18, Height: 130}
	list, err := c.SeenFrom(crossroads, time.Time{}, time.Time{}, canon.Options{Kind: eclipse.Total})
	if err != nil {
		fmt.Println(err)
		return
	}
	for s := range list {
		fmt.Printf("%s, %.0f s\n", s.Elements.Date, s.Circumstances.Duration)
	}
	// Output:
	// 2017-08-21, 160 s
	// 2024-04-08, 248 s
}

// After a day in 2027, what comes next in Luxor, be it ever so small?
func ExampleCatalogue_Next() {
	c, err := canon.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	luxor := sun.Site{Lat: 25.70, Lon: 32.64, Height: 80}
	s, err := c.Next(luxor, time.Date(2027, 8, 3, 0, 0, 0, 0, time.UTC), canon.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s, %v, %.0f %% of the Sun\n", s.Elements.Date, s.Circumstances.Seen, 100*s.Circumstances.SeenObscuration)
	// Output:
	// 2030-06-01, partial, 51 % of the Sun
}
