package main

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestReadLamp(t *testing.T) {
	rows, err := readLamp(strings.NewReader("\ufeff# a remark, with a comma\nlamp, Reading ,distance_m,distance_u_m,reading_u\n\nold,700.5,0.25,0.001,\n# moved\nold,\"950\",0.4,,2\n"))
	require.NoError(t, err)
	want := []lampRow{{line: 4, distance: 0.25, distanceU: 0.001, reading: 700.5}, {line: 6, distance: 0.4, reading: 950, readingU: 2}}
	require.Equal(t, want, rows)
}

// Whatever a sheet holds, it gives rows of numbers above 0, or an error.
func FuzzReadLamp(f *testing.F) {
	f.Add("distance_m,reading\n0.5,700\n")
	f.Add("distance_m,reading,reading_u\r\n0.5,700,\r\n1,\"2\"\"\",3\r\n")
	f.Add("\xef\xbb\xbfreading,distance_m\n1e400,0x1p-2\n")
	f.Fuzz(func(t *testing.T, text string) {
		rows, err := readLamp(strings.NewReader(text))
		if err != nil && (rows != nil || err.Error() == "") {
			t.Fatalf("%v with %v", err, rows)
		}
		for _, r := range rows {
			if !(r.distance > 0 && r.distance <= math.MaxFloat64 && r.reading > 0 && r.reading <= math.MaxFloat64 && r.distanceU >= 0 && r.readingU >= 0 && r.line > 1) {
				t.Fatalf("%+v", r)
			}
		}
	})
}
