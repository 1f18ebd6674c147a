package main

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// The pictures that come without flags: the same strokes and words, every coordinate
// within two points. The README shows the first.
func TestPictures(t *testing.T) {
	dir := t.TempDir()
	told(t, "-out", dir)
	for _, name := range []string{"counts.svg", "octaves.svg"} {
		got, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		golden := filepath.Join("testdata", name)
		if *regen {
			require.NoError(t, os.WriteFile(golden, got, 0o666))
		}
		want, err := os.ReadFile(golden)
		require.NoError(t, err)
		samePicture(t, name, string(got), string(want))
	}
}

var coordinate = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)

func samePicture(t *testing.T, name, got, want string) {
	t.Helper()
	a, b := coordinate.FindAllString(got, -1), coordinate.FindAllString(want, -1)
	if len(a) != len(b) || coordinate.ReplaceAllString(got, "#") != coordinate.ReplaceAllString(want, "#") {
		t.Errorf("%s has %d coordinates or other words, the golden one %d; look at it and run go test ./examples/divider -regen", name, len(a), len(b))
		return
	}
	for i := range a {
		x, errX := strconv.ParseFloat(a[i], 64)
		y, errY := strconv.ParseFloat(b[i], 64)
		if errX != nil || errY != nil || !(math.Abs(x-y) <= 2) {
			t.Errorf("%s: coordinate %d is %s, the golden one %s", name, i, a[i], b[i])
			return
		}
	}
}
