package disc_test

import (
	"fmt"

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

func ExampleOverlap() {
	// The Moon's edge through the centre of a Sun of the same size.
	fmt.Printf("%.4f\n", disc.Overlap(1, 1))
	// Output: 0.3910
}
