// Package golden compares what an example answers with what it answered when somebody
// looked. Goldens guard words and layout; numbers have tests of their own, with sources.
//
//	golden.Page(t, "testdata/demo.txt", text)         // to the letter
//	golden.JSON(t, "testdata/demo.json", text, 1e-5)  // numbers within a part or a digit
//	golden.Picture(t, "testdata/law.svg", svg)        // coordinates within two points
//	golden.Dots(t, "testdata/law.png", png)           // all but one dot in a hundred
//
// With -regen the files are written anew, and are to be looked at before they are
// committed. Last digits and the widths of letters are at the mercy of other machines,
// hence the room that numbers and coordinates have. Tests alone import it.
package golden

import (
	"encoding/json"
	"flag"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
)

var regen = flag.Bool("regen", false, "write the golden files anew; look at what they say")

// Page compares a text to the letter.
func Page(t testing.TB, path, got string) {
	t.Helper()
	if want := wanted(t, path, got); got != want {
		t.Errorf("differs from %s (go test -regen writes it anew):\n%s", path, got)
	}
}

// JSON compares keys and texts exactly, and numbers within tolerance: of themselves, or of 1
// where they are less.
func JSON(t testing.TB, path, got string, tolerance float64) {
	t.Helper()
	if !SameJSON(t, wanted(t, path, got), got, tolerance) {
		t.Errorf("differs from %s (go test -regen writes it anew):\n%s", path, got)
	}
}

// SameJSON says whether two texts hold the same, numbers within tolerance as of JSON.
func SameJSON(t testing.TB, a, b string, tolerance float64) bool {
	t.Helper()
	var v, w any
	for text, into := range map[*any]string{&v: a, &w: b} {
		if err := json.Unmarshal([]byte(into), text); err != nil {
			t.Fatalf("%v in %s", err, into)
		}
	}
	return Same(v, w, tolerance)
}

// Same compares what JSON was read into.
func Same(a, b any, tolerance float64) bool {
	switch a := a.(type) {
	case float64:
		b, ok := b.(float64)
		return ok && math.Abs(a-b) <= tolerance*math.Max(1, math.Abs(a))
	case map[string]any:
		b, ok := b.(map[string]any)
		if !ok || len(a) != len(b) {
			return false
		}
		for k := range a {
			if v, ok := b[k]; !ok || !Same(a[k], v, tolerance) {
				return false
			}
		}
		return true
	case []any:
		b, ok := b.([]any)
		if !ok || len(a) != len(b) {
			return false
		}
		for i := range a {
			if !Same(a[i], b[i], tolerance) {
				return false
			}
		}
		return true
	}
	return a == b
}

var number = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)

// Picture compares an SVG: the same strokes and words, every coordinate within two points.
func Picture(t testing.TB, path, got string) {
	t.Helper()
	const points = 2
	want := wanted(t, path, got)
	a, b := number.FindAllString(got, -1), number.FindAllString(want, -1)
	if len(a) != len(b) || number.ReplaceAllString(got, "#") != number.ReplaceAllString(want, "#") {
		t.Errorf("%s has %d coordinates or other words, the golden one %d: look at it, and go test -regen", filepath.Base(path), len(a), len(b))
		return
	}
	for i := range a {
		x, errX := strconv.ParseFloat(a[i], 64)
		y, errY := strconv.ParseFloat(b[i], 64)
		if errX != nil || errY != nil || !(math.Abs(x-y) <= points) {
			t.Errorf("%s: coordinate %d is %s, the golden one %s", filepath.Base(path), i, a[i], b[i])
			return
		}
	}
}

// wanted reads a golden file, once it is written anew if that is asked for.
func wanted(t testing.TB, path, got string) string {
	t.Helper()
	if *regen {
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(want)
}
