package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/golden"
)

func TestBenchGolden(t *testing.T) {
	folder := t.TempDir()
	text := told(t, "-bench", "demo", "-out", folder)
	golden.Page(t, "testdata/bench.txt", text)
	golden.JSON(t, "testdata/bench.json", told(t, "-bench", "demo", "-json"), 1e-3)
	svg, err := os.ReadFile(filepath.Join(folder, "bench.svg"))
	require.NoError(t, err)
	golden.Picture(t, "testdata/bench.svg", string(svg))
	saved, err := os.ReadFile(filepath.Join(folder, "bench.txt"))
	require.NoError(t, err)
	if string(saved) != text {
		t.Error("bench.txt is not what was printed")
	}
}

// What internal/genbench put in: contacts by Pythagoras, depths by the area of two discs,
// worked out apart from it with points on a grid.
func TestBenchTruth(t *testing.T) {
	var a struct {
		Dips []struct {
			Start, Least, End time.Time
			StartU            float64 `json:"u_start_s"`
			LeastU            float64 `json:"u_least_s"`
			EndU              float64 `json:"u_end_s"`
			Depth             float64
			DepthU            float64 `json:"u_depth"`
			Shape             string
		}
	}
	require.NoError(t, json.Unmarshal([]byte(told(t, "-bench", "demo", "-json", "-dark", "35")), &a))
	truth := []struct {
		least, speed, ball, impact float64
		shape                      string
	}{{90, 0.12, 1.5, 0.1, "total"}, {190, 0.15, 1.05, 0.7, "partial"}, {290, 0.10, 0.93, 0.02, "partial"}, {420, 0.12, 1.05, 1.4, "partial"}, {760, 0.06, 1.05, 0.3, "partial"}}
	require.Len(t, a.Dips, len(truth))
	start := time.Date(2027, 7, 20, 20, 15, 0, 0, time.UTC)
	for i, w := range truth {
		d := a.Dips[i]
		half := math.Sqrt((1+w.ball)*(1+w.ball)-w.impact*w.impact) / w.speed
		for _, x := range []struct {
			name         string
			got, want, u float64
		}{
			{"start", d.Start.Sub(start).Seconds(), w.least - half, d.StartU}, {"least", d.Least.Sub(start).Seconds(), w.least, d.LeastU},
			{"end", d.End.Sub(start).Seconds(), w.least + half, d.EndU}, {"depth", d.Depth, hidden(w.ball, w.impact), d.DepthU},
		} {
			if !(math.Abs(x.got-x.want) <= 3*x.u) {
				t.Errorf("passage %d: %s %.3f, want %.3f +- %.3f", i+1, x.name, x.got, x.want, x.u)
			}
		}
		if d.Shape != w.shape {
			t.Errorf("passage %d: %s, want %s", i+1, d.Shape, w.shape)
		}
	}
}

// hidden is the part of a unit disc under a ball, by counting points.
func hidden(ball, off float64) float64 {
	in, all := 0, 0
	for i := range 600 {
		for j := range 600 {
			x, y := (float64(i)+0.5)/300-1, (float64(j)+0.5)/300-1
			if math.Hypot(x, y) < 1 {
				all++
				if math.Hypot(x-off, y) < ball {
					in++
				}
			}
		}
	}
	return float64(in) / float64(all)
}

// The embedded log is the generator's, byte for byte, and says that it is invented.
func TestBenchIsGenerated(t *testing.T) {
	folder := t.TempDir()
	out, err := exec.Command("go", "run", "./internal/genbench", "-out", folder).CombinedOutput()
	require.NoError(t, err, string(out))
	made, err := os.ReadFile(filepath.Join(folder, "bench.csv"))
	require.NoError(t, err)
	if !bytes.Equal(made, demoBench) || !bytes.HasPrefix(made, []byte("# invented data")) {
		t.Error("demo/bench.csv is not what internal/genbench makes: go generate ./examples/rehearse")
	}
}
