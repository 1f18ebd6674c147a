package timescale_test

import (
	"fmt"
	"time"

	"example.org/noonfall/sun/timescale"
)

func ExampleScale() {
	var s timescale.Scale
	t := s.TT(time.Date(2024, 4, 8, 18, 0, 0, 0, time.UTC))
	fmt.Printf("TT - UTC  %.3f s\n", 37+32.184)
	fmt.Printf("Delta T   %.2f s\n", s.DeltaT(t).Seconds)
	fmt.Println("UT      ", s.UT1(t).Time().Format("15:04:05.00"))
	// Output:
	// TT - UTC  69.184 s
	// Delta T   69.18 s
	// UT       18:00:00.00
}
