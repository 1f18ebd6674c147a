package limb

import (
	"encoding/binary"
	"flag"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/limb/internal/march"
)

// lunar is where the map lies, for whoever has it: go test ./eclipse/limb -map FILE
var lunar = flag.String("map", "", "LDEM_4.IMG, for what its resolution costs")

// How far contacts move between a map whose samples are twice as wide and the one in
// use: the only witness at hand for what is lost below a sample. It is where valleyU and
// peakU come from.
func TestResolution(t *testing.T) {
	if *lunar == "" {
		t.Skip("the map is not kept with the code; -map FILE says where it is")
	}
	b, err := os.ReadFile(*lunar)
	require.NoError(t, err)
	fine, err := march.Read(b)
	require.NoError(t, err)
	coarse, err := march.Read(twiceAsWide(b))
	require.NoError(t, err)
	librations := [][2]float64{{-5.1, 0.2}, {-3.7, -0.3}, {-1.2, 0.1}, {0.4, -0.2}, {2.9, 0.3}, {4.8, 0}}
	limbs := map[*march.Map][][]float64{}
	for _, m := range []*march.Map{fine, coarse} {
		for _, l := range librations {
			limbs[m] = append(limbs[m], m.Profile(l[0], l[1]))
		}
	}
	for _, tt := range []struct {
		kind    eclipse.Kind
		heightU float64 // km
	}{{eclipse.Total, valleyU}, {eclipse.Annular, peakU}} {
		var squares, sum, heights, n float64
		for _, o := range centrals(t, tt.kind, 60) {
			m := moonOf(t, o)
			circ := o.Circumstances()
			middle, half, _ := m.span(&circ)
			for i := range librations {
				at := func(from *march.Map) (spell, float64, bool) {
					var s spells
					s.track, s.grid = m.follow(middle, half), m.grid
					for k, h := range limbs[from][i] {
						s.radius[k] = march.Radius + h
					}
					p, ok := s.only(tt.kind)
					return p, math.Hypot(s.x[1], s.y[1]) / half, ok
				}
				a, speed, okA := at(fine)
				b, _, okB := at(coarse)
				if !okA || !okB || circ.Duration < 60 {
					continue
				}
				for _, d := range []float64{(b.begin - a.begin) * half, (a.end - b.end) * half} {
					squares, sum, heights, n = squares+d*d, sum+d, heights+d*d*speed*speed, n+1
				}
			}
		}
		rms, height := math.Sqrt(squares/n), math.Sqrt(heights/n)
		if !(n > 300 && height <= 1.3*tt.heightU && height >= 0.7*tt.heightU) {
			t.Errorf("%v: contacts move by %.2f s rms, %.2f km, want about %g km", tt.kind, rms, height, tt.heightU)
		}
		t.Logf("%v: contacts move by %.2f s rms, %.2f s in the mean, %.2f km", tt.kind, rms, sum/n, height)
	}
}

// twiceAsWide replaces each sample by what the means of two by two samples interpolate to.
func twiceAsWide(b []byte) []byte {
	const rows, columns = 720, 1440
	at := func(j, i int) float64 {
		return float64(int16(binary.LittleEndian.Uint16(b[2*(min(max(j, 0), rows-1)*columns+(i+columns)%columns):])))
	}
	mean := func(j, i int) float64 { // of the block that begins there
		return (at(j, i) + at(j+1, i) + at(j, i+1) + at(j+1, i+1)) / 4
	}
	out := make([]byte, len(b))
	for j := range rows {
		for i := range columns {
			// The centre of the nearest block is a quarter of it away, that of the next three.
			j0, i0 := j&^1, i&^1
			j1, i1 := j0+4*(j&1)-2, i0+4*(i&1)-2
			v := (9*mean(j0, i0) + 3*mean(j1, i0) + 3*mean(j0, i1) + mean(j1, i1)) / 16
			binary.LittleEndian.PutUint16(out[2*(j*columns+i):], uint16(int16(math.Round(v))))
		}
	}
	return out
}
