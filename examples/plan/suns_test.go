package main

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/examples/internal/golden"
	"example.org/noonfall/sun/timescale"
	"github.com/stretchr/testify/require"
)

// Where the Moon stands in the picture is told once more by another way: heights and
// azimuths of both from their right ascensions and the sidereal time (J. Meeus,
// Astronomical Algorithms, 2nd ed. 1998, formulae 13.5 and 13.6). North and south of the
// equator, in the morning and the evening.
func TestFacesStandRight(t *testing.T) {
	for _, tt := range []struct {
		day      string
		lat, lon float64
	}{
		{"2027-08-02", 36, -5.6}, {"2028-07-22", -33.9, 151.2}, {"2026-08-12", 43.36, -8.41}, {"2024-04-08", 25, -104},
	} {
		p := planned(t, tt.day, tt.lat, tt.lon, cli.Real)
		o := p.edge.moon.Observer()
		faces := p.faces()
		require.Len(t, faces, 12)
		for i, f := range faces {
			sun, moon := o.Places(f.TT)
			sunAlt, sunAz := horizontal(o, f.TT, sun)
			moonAlt, moonAz := horizontal(o, f.TT, moon)
			y := moonAlt - sunAlt
			x := math.Remainder(moonAz-sunAz, 360) * math.Cos(moonAlt*math.Pi/180)
			// On a plane, half a degree is known to a hundredth of itself.
			if d := math.Hypot(x-f.X, y-f.Y); !(d < 0.006) {
				t.Errorf("%s face %d: the Moon is %.4f right and %.4f up, want %.4f and %.4f", tt.day, i, f.X, f.Y, x, y)
			}
		}
	}
}

func horizontal(o *eclipse.Observer, t timescale.TT, at eclipse.Place) (alt, az float64) {
	const deg = math.Pi / 180
	site := o.Site()
	hour := (timescale.ApparentSidereal(o.Scale().UT1(t), t) + site.Lon - at.RA) * deg
	sinH, cosH := math.Sincos(hour)
	sinφ, cosφ := math.Sincos(site.Lat * deg)
	sinδ, cosδ := math.Sincos(at.Dec * deg)
	return math.Asin(sinφ*sinδ+cosφ*cosδ*cosH) / deg, math.Atan2(sinH, cosH*sinφ-sinδ/cosδ*cosφ)/deg + 180
}

// The dark area in the Sun's disc is the obscuration.
func TestBiteIsTrue(t *testing.T) {
	for _, p := range []*plan{planned(t, "2027-08-02", 36, -5.6, cli.Real), planned(t, "2028-01-26", 37.5, -5.6, cli.Real), planned(t, "2026-08-12", 40.8, 14.2, cli.Real)} {
		deepest := 0
		for i, f := range p.faces() {
			outline, twice := f.bite(), 0.0
			for j, a := range outline {
				b := outline[(j+1)%len(outline)]
				twice += float64(a.X*b.Y - a.Y*b.X)
			}
			if area := twice / 2 / math.Pi; !(math.Abs(area-f.Obscuration) <= 2e-3) {
				t.Errorf("face %d: %.4f of the Sun is dark, want %.4f", i, area, f.Obscuration)
			}
			if f.deepest {
				deepest++
				if f.TT != p.local.MaxSeen.TT {
					t.Errorf("face %d is not the deepest", i)
				}
			}
		}
		if deepest != 1 {
			t.Errorf("%d faces are the deepest", deepest)
		}
	}
}

// The pictures that come without flags.
func TestPictures(t *testing.T) {
	folder := t.TempDir()
	answerOf(t, "-out", folder)
	for _, name := range []string{"limb.svg", "light.svg", "suns.svg", "map.svg"} {
		got, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		golden.Picture(t, "testdata/"+name, string(got))
	}
}

// The other kinds of site have whole pictures too.
func TestPicturesElsewhere(t *testing.T) {
	for _, tt := range firmwareSites {
		p := planned(t, tt.day, tt.lat, tt.lon, cli.Real)
		var err error
		p.compiled, err = p.compile()
		require.NoError(t, err)
		for _, f := range p.files(t.Context()) {
			var b strings.Builder
			require.NoError(t, f.write(&b))
			if strings.Contains(b.String(), "NaN") || !strings.HasSuffix(b.String(), "</svg>\n") {
				t.Errorf("%s: %s is broken", tt.name, f.name)
			}
		}
	}
}
