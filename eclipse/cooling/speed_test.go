package cooling_test

import (
	"context"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/cooling"
	"example.org/noonfall/sun"
)

// BenchmarkMeasure asks twenty hours of readings, one a second, for the air's answer.
func BenchmarkMeasure(b *testing.B) {
	curve, err := curveOf("2027-08-02", sun.Site{Lat: 36, Lon: -5.6})
	require.NoError(b, err)
	max := curve.Circumstances().Max.UTC
	var readings []cooling.Reading
	for s := -36000.0; s <= 36000; s++ {
		m := s / 60
		dip := 3 * math.Exp(-(m-12)*(m-12)/(2*27*27))
		c := 24 + m/100 - dip + 0.1*math.Sin(m/7) + 0.05*math.Sin(37*m)
		readings = append(readings, cooling.Reading{UTC: max.Add(time.Duration(s) * time.Second), C: math.Round(c*10) / 10})
	}
	b.ReportAllocs()
	for b.Loop() {
		_, err := cooling.Measure(context.Background(), readings, curve, cooling.Options{})
		require.NoError(b, err)
	}
}
