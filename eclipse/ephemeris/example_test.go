package ephemeris_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/ephemeris"
	"example.org/noonfall/sun"
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

// All total eclipses over London in a century. Dates are Gregorian,
// whatever the country's calendar was. Edmond Halley timed the one of 1715 from
// Crane Court at 3 min 22 s (Phil. Trans. 29, 245, from memory).
func ExampleEclipses() {
	year := func(y int) timescale.TT {
		return timescale.Scale{}.TT(time.Date(y, 1, 1, 0, 0, 0, 0, time.UTC))
	}
	london := sun.Site{Lat: 51.515, Lon: -0.109}
	seen := 0
	for r, err := range ephemeris.Eclipses(context.Background(), ephemeris.LowPrecision{}, year(1701), year(1801), ephemeris.Options{}) {
		if err != nil {
			fmt.Println(err)
			return
		}
		o, err := eclipse.NewObserver(r.Elements, london, eclipse.Options{})
		if err != nil {
			fmt.Println(err)
			return
		}
		c := o.Circumstances()
		if c.Seen != eclipse.None {
			seen++
		}
		if c.Seen == eclipse.Total {
			fmt.Printf("%s, total for %.0f s; instants to about %.0f s\n", r.Elements.Date, c.Duration, c.TimeU)
		}
	}
	fmt.Println(seen, "eclipses were to be seen")
	// Output:
	// 1715-05-03, total for 202 s; instants to about 21 s
	// 46 eclipses were to be seen
}

// An ephemeris of one's own: rows of Sun and Moon as an almanac prints them, here
// every hour around the eclipse of 2 August 2027 from JPL DE431.
func ExampleNewTable() {
	rows := []ephemeris.Sky{
		{Sun: ephemeris.Place{RA: 132.195298945, Dec: 17.805557957, Distance: 151831880.8094}, Moon: ephemeris.Place{RA: 129.824807544, Dec: 18.814116169, Distance: 357359.5845}, Sidereal: 40.615039479},
		{Sun: ephemeris.Place{RA: 132.235663870, Dec: 17.794897970, Distance: 151831085.9157}, Moon: ephemeris.Place{RA: 130.454936442, Dec: 18.595221356, Distance: 357360.1755}, Sidereal: 55.656108815},
		{Sun: ephemeris.Place{RA: 132.276024363, Dec: 17.784229604, Distance: 151830289.4785}, Moon: ephemeris.Place{RA: 131.083435734, Dec: 18.374238662, Distance: 357364.1640}, Sidereal: 70.697178116},
		{Sun: ephemeris.Place{RA: 132.316380421, Dec: 17.773552868, Distance: 151829491.4978}, Moon: ephemeris.Place{RA: 131.710302408, Dec: 18.151204648, Distance: 357371.5502}, Sidereal: 85.738247381},
		{Sun: ephemeris.Place{RA: 132.356732045, Dec: 17.762867767, Distance: 151828691.9742}, Moon: ephemeris.Place{RA: 132.335534248, Dec: 17.926156056, Distance: 357382.3335}, Sidereal: 100.779316610},
		{Sun: ephemeris.Place{RA: 132.397079231, Dec: 17.752174307, Distance: 151827890.9078}, Moon: ephemeris.Place{RA: 132.959129934, Dec: 17.699129761, Distance: 357396.5126}, Sidereal: 115.820385803},
		{Sun: ephemeris.Place{RA: 132.437421978, Dec: 17.741472494, Distance: 151827088.2993}, Moon: ephemeris.Place{RA: 133.581089017, Dec: 17.470162765, Distance: 357414.0854}, Sidereal: 130.861454960},
		{Sun: ephemeris.Place{RA: 132.477760286, Dec: 17.730762336, Distance: 151826284.1489}, Moon: ephemeris.Place{RA: 134.201411792, Dec: 17.239292204, Distance: 357435.0491}, Sidereal: 145.902524081},
		{Sun: ephemeris.Place{RA: 132.518094153, Dec: 17.720043838, Distance: 151825478.4574}, Moon: ephemeris.Place{RA: 134.820099220, Dec: 17.006555359, Distance: 357459.4004}, Sidereal: 160.943593166},
	}
	const hour = 3600
	t0 := timescale.FromJulianDate(2461619.5, 10./24)
	origin := ephemeris.Origin{Name: "JPL DE431", TimeU: 0.02}
	table, err := ephemeris.NewTable(origin, t0-4*hour, hour, rows)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := ephemeris.Find(table, t0, ephemeris.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s by %s, within %.1f m of the rows\n", r.Elements.Date, r.Elements.Source, r.Residual.Largest())

	luxor := sun.Site{Lat: 25.6872, Lon: 32.6396, Height: 89}
	o, err := eclipse.NewObserver(r.Elements, luxor, eclipse.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	c := o.Circumstances()
	fmt.Printf("Luxor: %v from %s for %.1f s\n", c.Seen, c.C2.UTC.Format("15:04:05 UTC"), c.Duration)
	// Output:
	// 2027-08-02 by JPL DE431, within 0.0 m of the rows
	// Luxor: total from 10:02:07 UTC for 380.5 s
}

// A kept source stands for an ephemeris that is slow or far away: it computes a
// place once. Whatever has these two methods is a Source.
type kept struct {
	ephemeris.Source
	skies map[timescale.TT]ephemeris.Sky
}

func (k kept) Sky(t timescale.TT) (ephemeris.Sky, error) {
	if sky, ok := k.skies[t]; ok {
		return sky, nil
	}
	sky, err := k.Source.Sky(t)
	if err == nil {
		k.skies[t] = sky
	}
	return sky, err
}

// A source may wrap another: this one remembers what it was asked, so that the
// second reduction of an eclipse, with other lunar radii, asks nothing new.
func ExampleSource() {
	src := kept{ephemeris.LowPrecision{}, map[timescale.TT]ephemeris.Sky{}}
	day := timescale.FromJulianDate(2519679.5, 0) // 2186 July 16
	for _, k := range []float64{0.272281, 0.2725076} {
		r, err := ephemeris.Find(src, day, ephemeris.Options{K2: k})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("k2 = %v: magnitude %.4f, %d places computed\n", k, r.Elements.Greatest().Magnitude, len(src.skies))
	}
	// Output:
	// k2 = 0.272281: magnitude 1.0805, 62 places computed
	// k2 = 0.2725076: magnitude 1.0814, 62 places computed
}
