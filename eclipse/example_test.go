package eclipse_test

import (
	"fmt"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// august2027 holds the published elements of 2 August 2027 (F. Espenak & J.
// Meeus, Five Millennium Canon of Solar Eclipses, NASA/TP-2006-214141).
var august2027 = &eclipse.Elements{
	Date: "2027-08-02", T0: timescale.FromJulianDate(2461619.5, 10.0/24), Span: 3.5,
	X: eclipse.Poly{-0.019645, 0.5447105, -0.0000444, -0.0000091}, Y: eclipse.Poly{0.160063, -0.2111569, -0.0001217, 0.0000037},
	D: eclipse.Poly{17.76247, -0.010181, -0.000004}, Mu: eclipse.Poly{328.42249, 15.002093},
	L1: eclipse.Poly{0.530596, 0.0000138, -0.0000128}, L2: eclipse.Poly{-0.015464, 0.0000137, -0.0000128},
	TanF1: eclipse.Poly{0.0046064}, TanF2: eclipse.Poly{0.0045834}, K1: 0.272488, K2: 0.272281,
}

// The whole eclipse at an invented school near the Strait.
func ExampleObserver_Circumstances() {
	o, err := eclipse.NewObserver(august2027, sun.Site{Lat: 36.0, Lon: -5.6, Height: 10}, eclipse.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	c := o.Circumstances()
	fmt.Println(c.Seen)
	for _, k := range []struct {
		name string
		eclipse.Contact
	}{{"C1", c.C1}, {"C2", c.C2}, {"max", c.Max}, {"C3", c.C3}, {"C4", c.C4}} {
		fmt.Printf("%-3s %s  altitude %.0f\n", k.name, k.UTC.Format("15:04:05"), k.Alt)
	}
	fmt.Printf("totality %.0f s, ratio %.3f\n", c.Duration, c.Ratio)
	// Output:
	// total
	// C1  07:40:52  altitude 25
	// C2  08:45:07  altitude 38
	// max 08:47:27  altitude 38
	// C3  08:49:47  altitude 39
	// C4  10:00:45  altitude 53
	// totality 280 s, ratio 1.072
}

// Light falls slowly at first and then all at once.
func ExampleCurve_Flux() {
	o, _ := eclipse.NewObserver(august2027, sun.Site{Lat: 36.0, Lon: -5.6, Height: 10}, eclipse.Options{})
	curve, err := eclipse.NewCurve(o, eclipse.CurveOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	second := curve.Circumstances().C2.TT
	for _, minutes := range []float64{30, 10, 1, 0.1} {
		fmt.Printf("%4.1f min before totality: %.4f of the light\n", minutes, curve.Flux(second-timescale.TT(60*minutes)))
	}
	// Output:
	// 30.0 min before totality: 0.5378 of the light
	// 10.0 min before totality: 0.1391 of the light
	//  1.0 min before totality: 0.0051 of the light
	//  0.1 min before totality: 0.0001 of the light
}

// One eclipse from many places: prepared once, each observer costs no allocation.
func ExamplePrepare() {
	p, err := eclipse.Prepare(august2027, eclipse.Options{Horizon: eclipse.Centre})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, lat := range []float64{30, 36, 42, 48} {
		o, err := p.Observer(sun.Site{Lat: lat, Lon: -5.6})
		if err != nil {
			fmt.Println(err)
			return
		}
		c := o.Circumstances()
		fmt.Printf("%.0f N: %-7v %.2f covered\n", lat, c.Geometry, c.Obscuration)
	}
	// Output:
	// 30 N: partial 0.82 covered
	// 36 N: total   1.00 covered
	// 42 N: partial 0.80 covered
	// 48 N: partial 0.55 covered
}

// What the eclipse is for the Earth as a whole.
func ExampleElements_Greatest() {
	g := august2027.Greatest()
	fmt.Printf("%v, gamma %.4f\n", g.Type, g.Gamma)
	// Output:
	// total, gamma 0.1421
}

// Between the first contact and the second the discs close in.
func ExampleObserver_Aspect() {
	o, err := eclipse.NewObserver(august2027, sun.Site{Lat: 36.0, Lon: -5.6, Height: 10}, eclipse.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	first := o.Circumstances().C1.TT
	for _, minutes := range []float64{5, 20, 40, 60} {
		a := o.Aspect(first + timescale.TT(60*minutes))
		fmt.Printf("%2.0f min: magnitude %.2f, obscuration %.2f, Sun at %.0f degrees\n", minutes, a.Magnitude, a.Obscuration, a.Alt)
	}
	// Output:
	// 5 min: magnitude 0.08, obscuration 0.03, Sun at 26 degrees
	// 20 min: magnitude 0.32, obscuration 0.21, Sun at 29 degrees
	// 40 min: magnitude 0.63, obscuration 0.56, Sun at 33 degrees
	// 60 min: magnitude 0.94, obscuration 0.94, Sun at 37 degrees
}

// How far to drive: Seville lies north of the path of 2 August 2027.
func ExampleObserver_CentralLine() {
	o, err := eclipse.NewObserver(august2027, sun.Site{Lat: 37.39, Lon: -5.99, Height: 7}, eclipse.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	line := o.CentralLine()
	fmt.Println(o.Circumstances().Seen)
	fmt.Printf("%.0f km to the central line\n", line.Km)
	// Output:
	// partial
	// 189 km to the central line
}
