package look

import (
	"image/color"
	"math"
)

// The inks. Black, Blue and Orange are for data, from dark to light; Yellow is the Sun's
// disc alone.
var (
	Black  = color.RGBA{A: 0xff}
	Blue   = color.RGBA{R: 0x00, G: 0x72, B: 0xb2, A: 0xff}
	Orange = color.RGBA{R: 0xe6, G: 0x9f, B: 0x00, A: 0xff}
	Yellow = color.RGBA{R: 0xf0, G: 0xe4, B: 0x42, A: 0xff}
	Grey   = color.RGBA{R: 0x77, G: 0x77, B: 0x77, A: 0xff} // thin strokes that are no data
	Shade  = color.RGBA{R: 0xd6, G: 0xd6, B: 0xd6, A: 0xff} // areas behind data
	Faint  = color.RGBA{R: 0xec, G: 0xec, B: 0xec, A: 0xff} // the grid
	Paper  = color.RGBA{R: 0xff, G: 0xff, B: 0xff, A: 0xff}
)

// Palette lists all inks; a picture has no other.
func Palette() []color.RGBA {
	return []color.RGBA{Black, Blue, Orange, Yellow, Grey, Shade, Faint, Paper}
}

// Contrast is the ratio of the relative luminances of two inks, at least 1: how far apart they
// are without colour (WCAG 2.2, W3C 2023, definition of contrast ratio).
func Contrast(a, b color.RGBA) float64 {
	x, y := luminance(a), luminance(b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

// luminance is relative to white (IEC 61966-2-1, as WCAG 2.2 quotes it).
func luminance(c color.RGBA) float64 {
	linear := func(v uint8) float64 {
		if s := float64(v) / 255; s > 0.04045 {
			return math.Pow((s+0.055)/1.055, 2.4)
		}
		return float64(v) / 255 / 12.92
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}
