package disc_test

import (
	"encoding/json"
	"fmt"
	"log"

	"example.org/noonfall/eclipse/disc"
)

// Nine tenths of the Sun's area covered leave less than a tenth of its light,
// because what is left is the dark limb.
func ExampleLaw_Flux() {
	const p, z = 1.03, 0.20
	fmt.Printf("covered %.1f %% of the area\n", 100*disc.Overlap(p, z))
	fmt.Printf("uniform disc: %.1f %% of the light left\n", 100*disc.Uniform().Flux(p, z))
	fmt.Printf("real disc:    %.1f %%\n", 100*disc.Visible().Flux(p, z))
	// Output:
	// covered 90.0 % of the area
	// uniform disc: 10.0 % of the light left
	// real disc:    7.2 %
}

// The Moon's edge through the centre of a Sun of the same size.
func ExampleOverlap() {
	fmt.Printf("%.4f\n", disc.Overlap(1, 1))
	// Output: 0.3910
}

// The Sun's limb is darker in blue light than in red: a blue sensor sees the
// light go sooner.
func ExampleNeckelLabs() {
	for _, nm := range []float64{450, 550, 650} {
		law, err := disc.NeckelLabs(nm)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%.0f nm: mean %.3f of the centre, crescent %.4f\n", nm, law.Mean(), law.Flux(1.03, 0.1))
	}
	_, err := disc.NeckelLabs(1500)
	fmt.Println(err)
	// Output:
	// 450 nm: mean 0.762 of the centre, crescent 0.0194
	// 550 nm: mean 0.803 of the centre, crescent 0.0226
	// 650 nm: mean 0.831 of the centre, crescent 0.0248
	// disc: no Neckel & Labs limb darkening at 1500 nm, it runs from 303.327 to 1098.95 nm
}

// A law is written beside a result and read back to the same bits.
func ExampleLaw_MarshalJSON() {
	law, err := disc.Power(0.503)
	if err != nil {
		log.Fatal(err)
	}
	text, err := json.Marshal(law)
	if err != nil {
		log.Fatal(err)
	}
	var back disc.Law
	if err := json.Unmarshal(text, &back); err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%s\n%v\n", text, back == law)
	// Output:
	// {"version":1,"law":"power","coefficients":[0.503]}
	// true
}

// Coefficients that would make part of the disc darker than black are refused.
func ExampleQuadratic() {
	_, err := disc.Quadratic(0.9, 0.2)
	fmt.Println(err)
	// Output: disc: quadratic law with coefficients [0.9 0.2]: the brightness is -0.1 of the centre's at mu = 0.000, it must not be below zero
}

func ExamplePresets() {
	for p := range disc.Presets() {
		if p.NM > 540 && p.NM < 560 {
			fmt.Printf("%-26s mean %.3f\n", p.Name, p.Law.Mean())
		}
	}
	// Output:
	// neckel-labs-541.760        mean 0.800
	// neckel-labs-559.950        mean 0.806
	// hestroffer-magnan-541.760  mean 0.796
	// hestroffer-magnan-559.950  mean 0.801
	// hestroffer-magnan-552.200  mean 0.799
	// handbook-550               mean 0.805
	// pierce-slaughter-552.2     mean 0.811
}
