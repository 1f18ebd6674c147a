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
