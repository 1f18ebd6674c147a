package ephemeris_test

import (
	"errors"
	"fmt"
	"math"

	"example.org/noonfall/eclipse/ephemeris"
	"example.org/noonfall/sun/timescale"
)

// The longest total eclipse of ten thousand years is past the catalogue's end. Any day
// within two weeks of it will do; the theory is good to a quarter of a minute and some.
func ExampleFind() {
	july := timescale.FromJulianDate(2519675.5, 0) // 2186 July 12
	r, err := ephemeris.Find(ephemeris.LowPrecision{}, july, ephemeris.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	g := r.Elements.Greatest()
	fmt.Printf("%s, %v, gamma %.2f\n", r.Elements.Date, g.Type, g.Gamma)
	fmt.Printf("instants to about %.0f s\n", r.Elements.TimeU)

	_, err = ephemeris.Find(ephemeris.LowPrecision{}, july+timescale.TT(30*86400), ephemeris.Options{})
	fmt.Println("a month later:", errors.Is(err, ephemeris.ErrNoEclipse))
	// Output:
	// 2186-07-16, total, gamma -0.24
	// instants to about 15 s
	// a month later: true
}

// A Sun straight overhead behind a Moon straight overhead: the axis goes
// through the Earth's centre.
func ExampleCast() {
	s, err := ephemeris.Cast(ephemeris.Sky{
		Sun:      ephemeris.Place{RA: 10, Dec: 5, Distance: ephemeris.AstronomicalUnit},
		Moon:     ephemeris.Place{RA: 10, Dec: 5, Distance: 60 * ephemeris.EarthRadius},
		Sidereal: 10,
	}, ephemeris.DefaultK1, ephemeris.DefaultK2)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("axis %.3f Earth radii from the centre, pointing to declination %.1f\n", math.Hypot(s.X, s.Y), s.D)
	fmt.Printf("penumbra of radius %.3f, antumbra %.3f\n", s.L1, s.L2)
	// Output:
	// axis 0.000 Earth radii from the centre, pointing to declination 5.0
	// penumbra of radius 0.553, antumbra 0.007
}

// A source of one's own: here a table of rows as an almanac prints them. These are made
// up; rows half an hour apart around a real eclipse serve the same way.
func ExampleNewTable() {
	var rows []ephemeris.Sky
	for i := range 17 {
		h := float64(i-8) / 2
		rows = append(rows, ephemeris.Sky{
			Sun:      ephemeris.Place{RA: 132 + 0.041*h, Dec: 17.8 - 0.011*h, Distance: 151.8e6},
			Moon:     ephemeris.Place{RA: 132 + 0.63*h, Dec: 17.9 - 0.14*h, Distance: 358e3},
			Sidereal: 100 + 15.041*h, // unwrapped or not, as you like
		})
	}
	const t0, halfHour = timescale.TT(870_000_000), 1800
	table, err := ephemeris.NewTable(ephemeris.Origin{Name: "made up"}, t0-8*halfHour, halfHour, rows)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := ephemeris.Reduce(table, t0, ephemeris.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("the axis moves %.2f Earth radii an hour, %.1f degrees south of east\n", r.Elements.X[1], -r.Elements.Y[1]/r.Elements.X[1]*57.3)
	fmt.Println("polynomials within a metre of the rows:", r.Residual.Largest() < 1)
	// Output:
	// the axis moves 0.55 Earth radii an hour, 13.2 degrees south of east
	// polynomials within a metre of the rows: true
}
