package timescale_test

import (
	"fmt"
	"time"

	"example.org/noonfall/sun/timescale"
)

// The total eclipse of 8 April 2024 on three clocks. UTC and UT differed by 16 ms.
func ExampleScale() {
	var s timescale.Scale
	utc := time.Date(2024, 4, 8, 18, 0, 0, 0, time.UTC)
	t := s.TT(utc)
	noon := timescale.FromJulianDate(2460409, 0) // 2024-04-08T12:00:00 TT
	fmt.Printf("TT   noon + %.3f s\n", float64(t-noon))
	fmt.Println("UTC ", s.UTC(t).Format("15:04:05.00"))
	fmt.Println("UT  ", s.UT1(t).Time().Format("15:04:05.00"))
	fmt.Printf("Delta T %.2f s\n", s.DeltaT(t).Seconds)
	// Output:
	// TT   noon + 21669.184 s
	// UTC  18:00:00.00
	// UT   17:59:59.98
	// Delta T 69.20 s
}

// A bulletin's tables come out with the bulletin's own Delta T.
func ExampleFixedDeltaT() {
	bulletin := timescale.FixedDeltaT(64.6)
	t := timescale.FromJulianDate(2451402, 0) // 1999 August 11, 12h TT
	fmt.Println(bulletin.UT1(t).Time().Format("15:04:05.0"))
	// Output: 11:58:55.4
}

// Long after the last announced leap second a civil time is a label with a
// caveat; the Earth's own reading is the one to print, with its doubt.
func ExampleScale_UTCHeld() {
	var s timescale.Scale
	t := timescale.FromJulianDate(2484803, 0.5) // in the year 2091
	fmt.Println(s.UTCHeld(t))
	fmt.Println("UTC, 37 s held ", s.UTC(t).Format("15:04:05"))
	fmt.Println("UT             ", s.UT1(t).Time().Format("15:04:05"))
	fmt.Printf("Delta T %.0f +- %.0f s, the label UTC +- %.0f s\n", s.DeltaT(t).Seconds, s.DeltaT(t).SecondsU, s.UTCU(t))
	// Output:
	// true
	// UTC, 37 s held  23:58:50
	// UT              23:57:05
	// Delta T 175 +- 57 s, the label UTC +- 69 s
}

// A catalogue of 2006 expected the Earth to be later by 2045 than is thought now.
func ExampleEspenakMeeus2006() {
	t := timescale.FromJulianDate(2468205, 0) // 2045 August 12
	for _, s := range []timescale.Scale{timescale.EspenakMeeus2006(), {}} {
		d := s.DeltaT(t)
		fmt.Printf("%.0f +- %.0f s\n", d.Seconds, d.SecondsU)
	}
	// Output:
	// 89 +- 13 s
	// 82 +- 7 s
}

// Since 2017 atomic time has been 37 s ahead of UTC.
func ExampleTAIMinusUTC() {
	var s timescale.Scale
	fmt.Println(timescale.TAIMinusUTC(s.TT(time.Date(2024, 4, 8, 18, 0, 0, 0, time.UTC))))
	fmt.Println(timescale.TAIMinusUTC(s.TT(time.Date(1961, 2, 15, 8, 0, 0, 0, time.UTC))))
	// Output:
	// 37 true
	// 0 false
}
