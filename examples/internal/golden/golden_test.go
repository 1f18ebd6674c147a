package golden

import (
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A recorder is a test that may fail without harm.
type recorder struct {
	testing.TB
	failed bool
}

func (r *recorder) Helper()               {}
func (r *recorder) Errorf(string, ...any) { r.failed = true }

// Each comparison must go red for what it is there for, and stay green for the rest.
func TestComparisons(t *testing.T) {
	const json = `{"a":1.5,"b":["x",null,0.001],"c":{"d":true}}`
	const svg = `<path d="M10.5 20"/><text>C2</text>`
	for i, tt := range []struct {
		golden, got string
		compare     func(t testing.TB, path, got string)
		same        bool
	}{
		{"a page\n", "a page\n", Page, true},
		{"a page\n", "a page", Page, false},
		{json, json, parts, true},
		{json, `{"c":{"d":true},"b":["x",null,0.0010000001],"a":1.500001}`, parts, true},
		{json, `{"a":1.51,"b":["x",null,0.001],"c":{"d":true}}`, parts, false},
		{json, `{"a":1.5,"b":["x",null,0.002],"c":{"d":true}}`, parts, false},
		{json, `{"a":1.5,"b":["x",0,0.001],"c":{"d":true}}`, parts, false},
		{json, `{"a":1.5,"b":["x",null],"c":{"d":true}}`, parts, false},
		{json, `{"a":1.5,"b":["x",null,0.001],"e":{"d":true}}`, parts, false},
		{json, `{"a":1.5,"b":["x",null,0.001],"c":{"d":"true"}}`, parts, false},
		{json, `{"a":null,"b":["x",null,0.001],"c":{"d":true}}`, parts, false},
		{svg, svg, Picture, true},
		{svg, `<path d="M12.4 18.1"/><text>C2</text>`, Picture, true},
		{svg, `<path d="M12.6 20"/><text>C2</text>`, Picture, false},
		{svg, `<path d="M10.5 20 30"/><text>C2</text>`, Picture, false},
		{svg, `<path d="M10.5 20"/><text>D2</text>`, Picture, false},
		{grey(0x80, 0), grey(0x80, 0), Dots, true},
		{grey(0x80, 0), grey(0x90, 0), Dots, true},
		{grey(0x80, 0), grey(0xa0, 0), Dots, false},
		{grey(0x80, 0), grey(0x80, 4), Dots, true},
		{grey(0x80, 0), grey(0x80, 5), Dots, false},
		{grey(0x80, 0), "no picture", Dots, false},
	} {
		path := filepath.Join(t.TempDir(), fmt.Sprint(i))
		if err := os.WriteFile(path, []byte(tt.golden), 0o600); err != nil {
			t.Fatal(err)
		}
		r := &recorder{TB: t}
		tt.compare(r, path, tt.got)
		if r.failed == tt.same {
			t.Errorf("%q and %q: red is %t", tt.golden, tt.got, r.failed)
		}
	}
}

func parts(t testing.TB, path, got string) { JSON(t, path, got, 1e-5) }

// grey is a PNG of 400 grey dots, the first of them black.
func grey(tone uint8, black int) string {
	img := image.NewGray(image.Rect(0, 0, 20, 20))
	for i := range img.Pix {
		if i >= black {
			img.Pix[i] = tone
		}
	}
	var b strings.Builder
	if err := png.Encode(&b, img); err != nil {
		panic(err)
	}
	return b.String()
}
