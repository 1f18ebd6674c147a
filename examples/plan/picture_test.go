package main

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The picture that comes without flags: the same strokes and words, every coordinate
// within two points.
func TestPicture(t *testing.T) {
	folder, golden := t.TempDir(), filepath.Join("testdata", "limb.svg")
	answerOf(t, "-out", folder)
	got, err := os.ReadFile(filepath.Join(folder, "limb.svg"))
	require.NoError(t, err)
	if *regen {
		require.NoError(t, os.WriteFile(golden, got, 0o666))
	}
	want, err := os.ReadFile(golden)
	require.NoError(t, err)
	samePicture(t, golden, string(got), string(want))
}

var coordinate = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)

func samePicture(t *testing.T, name, got, want string) {
	t.Helper()
	a, b := coordinate.FindAllString(got, -1), coordinate.FindAllString(want, -1)
	if len(a) != len(b) || coordinate.ReplaceAllString(got, "#") != coordinate.ReplaceAllString(want, "#") {
		t.Errorf("%s has %d coordinates or other words, the golden one %d; look at it and run go test ./examples/plan -regen", name, len(a), len(b))
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

// A site without second and third contact has the limb alone, one without an eclipse
// no picture.
func TestPictureWithoutContacts(t *testing.T) {
	for site, touches := range map[string]int{"51.5,-0.1": 0, "36,-5.6": 2, "36.77,-5.6": 2} {
		folder := t.TempDir()
		answerOf(t, "-site", site, "-out", folder)
		svg, err := os.ReadFile(filepath.Join(folder, "limb.svg"))
		require.NoError(t, err)
		if n := strings.Count(string(svg), "touches at"); n != touches || strings.Contains(string(svg), "NaN") {
			t.Errorf("%s: %d contacts, want %d, and no NaN", site, n, touches)
		}
	}
	folder := t.TempDir()
	answerOf(t, "-site", "-70,100", "-out", folder)
	if _, err := os.Stat(filepath.Join(folder, "limb.svg")); err == nil {
		t.Error("a picture without an eclipse")
	}
}
