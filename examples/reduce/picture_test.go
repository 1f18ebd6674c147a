package main

import (
	"flag"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

var regen = flag.Bool("regen", false, "write testdata anew: light.svg, the README's picture, and demo.txt")

// The README's picture is the one that the demo station gives: the same strokes and
// words, every coordinate within two points.
func TestPictureOfTheReadme(t *testing.T) {
	dir := t.TempDir()
	_, err := reduce(t, "-out", dir)
	require.NoError(t, err)
	got, err := os.ReadFile(filepath.Join(dir, "light.svg"))
	require.NoError(t, err)
	const golden = "testdata/light.svg"
	if *regen {
		require.NoError(t, os.MkdirAll("testdata", 0o777))
		require.NoError(t, os.WriteFile(golden, got, 0o666))
	}
	want, err := os.ReadFile(golden)
	require.NoError(t, err)
	number := regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)
	a, b := number.FindAllString(string(got), -1), number.FindAllString(string(want), -1)
	if len(a) != len(b) || number.ReplaceAllString(string(got), "#") != number.ReplaceAllString(string(want), "#") {
		t.Fatalf("the picture has %d coordinates or other words, the golden one %d; look at it and run go test ./examples/reduce -regen", len(a), len(b))
	}
	for i := range a {
		x, errX := strconv.ParseFloat(a[i], 64)
		y, errY := strconv.ParseFloat(b[i], 64)
		if errX != nil || errY != nil || !(math.Abs(x-y) <= 2) {
			t.Fatalf("coordinate %d is %s, the golden one %s", i, a[i], b[i])
		}
	}
}
