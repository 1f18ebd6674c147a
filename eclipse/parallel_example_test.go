package eclipse_test

import (
	"fmt"

	"example.org/noonfall/eclipse"
)

// A walk along the parallel of the Strait, from before dawn into totality.
func ExampleParallel() {
	p, err := eclipse.Prepare(august2027, eclipse.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	row, err := p.Parallel(36, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	for lon := -95.6; lon <= 0; lon += 18 {
		if !row.At(lon) {
			fmt.Printf("%.1f: nothing\n", lon)
			continue
		}
		_, seen := row.Seen()
		fmt.Printf("%.1f: %v, %.0f %% covered, %.0f %% seen, Sun at %.0f\n",
			lon, row.Geometry(), 100*row.Obscuration(), 100*seen, row.SunAlt())
	}
	// Output:
	// -95.6: partial, 17 % covered, 0 % seen, Sun at -26
	// -77.6: partial, 35 % covered, 0 % seen, Sun at -17
	// -59.6: partial, 57 % covered, 15 % seen, Sun at -7
	// -41.6: partial, 78 % covered, 78 % seen, Sun at 6
	// -23.6: partial, 96 % covered, 96 % seen, Sun at 21
	// -5.6: total, 100 % covered, 100 % seen, Sun at 38
}
