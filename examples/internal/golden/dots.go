package golden

import (
	"bytes"
	"image"
	"image/png"
	"path/filepath"
	"testing"
)

// Dots compares a PNG: the same size, and all but one dot in a hundred of the same colour, a
// tenth of the way from black to white either way. Rounding on another machine shifts the
// edges of strokes and no more.
func Dots(t testing.TB, path, got string) {
	t.Helper()
	a, b := dots(t, got), dots(t, wanted(t, path, got))
	if a == nil || b == nil {
		return
	}
	size := a.Bounds()
	if size != b.Bounds() {
		t.Errorf("%s is %v large, the golden one %v", filepath.Base(path), size, b.Bounds())
		return
	}
	const most = 0.01
	other := 0
	for y := size.Min.Y; y < size.Max.Y; y++ {
		for x := size.Min.X; x < size.Max.X; x++ {
			if !near(a, b, x, y) {
				other++
			}
		}
	}
	if all := size.Dx() * size.Dy(); float64(other) > most*float64(all) {
		t.Errorf("%s: %d of %d dots are others than in the golden one: look at it, and go test -regen", filepath.Base(path), other, all)
	}
}

func near(a, b image.Image, x, y int) bool {
	const tenth = 0xffff / 10
	r, g, h, _ := a.At(x, y).RGBA()
	s, i, j, _ := b.At(x, y).RGBA()
	for _, d := range []int{int(r) - int(s), int(g) - int(i), int(h) - int(j)} {
		if d < -tenth || d > tenth {
			return false
		}
	}
	return true
}

func dots(t testing.TB, text string) image.Image {
	t.Helper()
	img, err := png.Decode(bytes.NewReader([]byte(text)))
	if err != nil {
		t.Errorf("no PNG: %v", err)
		return nil
	}
	return img
}
