package limb_test

import (
	"fmt"
	"log"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/limb"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// school is the observer of a made-up school on the Strait of Gibraltar, on 2 August
// 2027, with a Delta T that will not change when the forecast does.
func school() *eclipse.Observer {
	catalogue, err := canon.Load()
	if err != nil {
		log.Fatal(err)
	}
	e, err := catalogue.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	if err != nil {
		log.Fatal(err)
	}
	o, err := eclipse.NewObserver(e, sun.Site{Lat: 36.0, Lon: -5.6, Height: 20}, eclipse.Options{Scale: timescale.FixedDeltaT(69.2)})
	if err != nil {
		log.Fatal(err)
	}
	return o
}

// The smooth Moon's contacts beside the real limb's. The last bead shines where the
// position angle says, on the Sun's edge from north through east.
func ExampleMoon_Contacts() {
	o := school()
	m, err := limb.NewMoon(o, limb.Options{})
	if err != nil {
		log.Fatal(err)
	}
	smooth, c := o.Circumstances(), m.Contacts()
	fmt.Println(c.LimbKind)
	fmt.Printf("C2 %s, with the limb %s ± %.1f s at P %.0f°, beads for %.0f s before\n",
		smooth.C2.UTC.Format("15:04:05.0"), c.LimbC2.UTC.Format("15:04:05.0"), c.LimbC2.TimeU, c.LimbC2.P, c.LimbC2.Beads)
	fmt.Printf("C3 %s, with the limb %s ± %.1f s at P %.0f°, beads for %.0f s after\n",
		smooth.C3.UTC.Format("15:04:05.0"), c.LimbC3.UTC.Format("15:04:05.0"), c.LimbC3.TimeU, c.LimbC3.P, c.LimbC3.Beads)
	fmt.Printf("%.1f s of totality, with the limb %.1f s\n", smooth.Duration, c.LimbDuration)
	// Output:
	// total
	// C2 08:45:08.8, with the limb 08:45:07.8 ± 0.2 s at P 88°, beads for 13 s before
	// C3 08:49:48.6, with the limb 08:49:47.9 ± 0.2 s at P 304°, beads for 6 s after
	// 279.8 s of totality, with the limb 280.1 s
}

// The Sun may be a little larger than the almanacs have it; totality shrinks.
func ExampleOptions() {
	o := school()
	for _, radius := range []float64{limb.DefaultSunRadius, 959.95} {
		m, err := limb.NewMoon(o, limb.Options{SunRadius: radius})
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%.2f arcsec: %.1f s\n", radius, m.Contacts().LimbDuration)
	}
	// Output:
	// 959.63 arcsec: 280.1 s
	// 959.95 arcsec: 278.7 s
}

// How the Moon is turned, and what stands on its limb at the four points of its axis.
func ExampleMoon_Profile() {
	o := school()
	m, err := limb.NewMoon(o, limb.Options{})
	if err != nil {
		log.Fatal(err)
	}
	p := m.Profile(o.Circumstances().Max.TT)
	fmt.Printf("libration %.1f°, axis at %.1f°\n", p.Lon, p.Axis)
	for _, angle := range []float64{0, 90, 180, 270} {
		fmt.Printf("%3.0f° from the axis: %+.1f km, %+.1f arcsec\n", angle, p.Height(p.Axis+angle), p.Height(p.Axis+angle)*p.Arcsec)
	}
	f := p.Figure()
	fmt.Printf("the figure lies %.1f km east and %.1f km north of the centre of mass\n", f.East, f.North)
	// Output:
	// libration 1.1°, axis at 14.0°
	//   0° from the axis: +0.7 km, +0.4 arcsec
	//  90° from the axis: +1.7 km, +1.0 arcsec
	// 180° from the axis: +1.6 km, +0.9 arcsec
	// 270° from the axis: -2.4 km, -1.4 arcsec
	// the figure lies 1.0 km east and -0.8 km north of the centre of mass
}

// The light in the last seconds is the valleys': next to nothing where the smooth Moon
// still leaves a crescent, or the other way round.
func ExampleNewCurve() {
	m, err := limb.NewMoon(school(), limb.Options{})
	if err != nil {
		log.Fatal(err)
	}
	c, err := limb.NewCurve(m, eclipse.CurveOptions{})
	if err != nil {
		log.Fatal(err)
	}
	c2 := c.Circumstances().C2.TT
	for _, before := range []timescale.TT{600, 60, 10, 3} {
		fmt.Printf("%3.0f s before C2: smooth %.1e, real %.1e\n", float64(before), c.Round().Flux(c2-before), c.Flux(c2-before))
	}
	// Output:
	// 600 s before C2: smooth 1.4e-01, real 1.4e-01
	//  60 s before C2: smooth 5.1e-03, real 4.8e-03
	//  10 s before C2: smooth 3.1e-04, real 2.0e-04
	//   3 s before C2: smooth 4.7e-05, real 6.7e-06
}
