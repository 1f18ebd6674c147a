package look

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// pictures are all that the examples write, by the golden files that their tests hold them to,
// with words that name the unit of each axis and words of their captions.
var pictures = []struct {
	file    string
	axes    []string
	caption []string
}{
	{"plan/testdata/light.svg", []string{"(lx)", clock}, computed},
	{"plan/testdata/limb.svg", []string{"(arcsec)", "(degrees from north"}, computed},
	{"plan/testdata/map.svg", []string{"(degrees north)", "(degrees east"}, append(computed, "Natural Earth")},
	{"plan/testdata/suns.svg", nil, append(computed, "filter")},
	{"divider/testdata/counts.svg", []string{"(counts)", "(lx)"}, computed[:1]},
	{"divider/testdata/octaves.svg", []string{"(counts)", "(lx)"}, computed[:1]},
	{"calibrate/testdata/law.svg", []string{"(ohm)", "(lx)"}, invented},
	{"calibrate/testdata/langley.svg", []string{"(klx)", "(times the way"}, invented},
	{"rehearse/testdata/bench.svg", []string{"counts", "(hours and minutes)"}, []string{"invented"}},
	{"rehearse/testdata/day.svg", []string{"(counts)", clock}, invented},
	{"rehearse/testdata/fears.svg", []string{"(in words)", "(s)"}, invented},
	{"reduce/testdata/light.svg", []string{"(lx)", "(per cent)", clock}, append(invented, "JPL DE431")},
	{"reduce/testdata/air.svg", []string{"(degrees Celsius)", clock}, append(invented, "JPL DE431")},
	{"check/testdata/residuals.svg", []string{"(name in the claims)", "(in units of"}, []string{"NASA RP 1398", "JPL DE431"}},
	{"pool/testdata/curve.svg", []string{"sky's light (per cent)", "area (per cent)"}, append(invented, "JPL DE431")},
	{"pool/testdata/map.svg", []string{"(degrees north)", "(degrees east"}, append(invented, "JPL DE431", "Natural Earth")},
}

const clock = "UTC (hours and minutes)"

var (
	computed = []string{"Computed, not measured", "JPL DE431"}
	invented = []string{"Invented demo data: nothing was measured"}
)

var (
	colour  = regexp.MustCompile(`#[0-9A-Fa-f]{6}\b`)
	family  = regexp.MustCompile(`font-family:([^;]*);`)
	size    = regexp.MustCompile(`font-size:([0-9.]+)px`)
	written = regexp.MustCompile(`<text[^>]*>([^<]*)</text>`)
	frame   = regexp.MustCompile(`viewBox="0 0 ([0-9.]+) `)
)

// Every picture has the one look: width, letters, inks, units on its axes, a caption with its source.
func TestAllPictures(t *testing.T) {
	var inks []string
	for _, c := range Palette() {
		inks = append(inks, fmt.Sprintf("#%02X%02X%02X", c.R, c.G, c.B))
	}
	for _, p := range pictures {
		text, err := os.ReadFile(filepath.Join("..", "..", p.file))
		require.NoError(t, err)
		svg, words := string(text), ""
		for _, w := range written.FindAllStringSubmatch(svg, -1) {
			words += strings.ReplaceAll(w[1], "&#39;", "'") + " "
		}
		for _, want := range slices.Concat(p.axes, p.caption) {
			if !strings.Contains(words, want) {
				t.Errorf("%s lacks %q", p.file, want)
			}
		}
		for _, c := range colour.FindAllString(svg, -1) {
			if !slices.Contains(inks, strings.ToUpper(c)) {
				t.Errorf("%s has the colour %s, which is no ink of the palette", p.file, c)
			}
		}
		for _, f := range family.FindAllStringSubmatch(svg, -1) {
			if f[1] != "Liberation Sans,sans-serif" {
				t.Errorf("%s has letters of %s", p.file, f[1])
			}
		}
		for _, s := range size.FindAllStringSubmatch(svg, -1) {
			if !slices.Contains([]string{"10", "11", "13"}, s[1]) {
				t.Errorf("%s has letters of %s points", p.file, s[1])
			}
		}
		if w := frame.FindStringSubmatch(svg); w == nil || w[1] != "480" {
			t.Errorf("%s is %q wide, want 480 points", p.file, w)
		}
	}
}

// No picture is left out of the table above.
func TestNoPictureLeftOut(t *testing.T) {
	found, err := filepath.Glob("../../*/testdata/*.svg")
	require.NoError(t, err)
	if len(found) != len(pictures) {
		t.Errorf("%d golden pictures, %d in the table: %v", len(found), len(pictures), found)
	}
}
