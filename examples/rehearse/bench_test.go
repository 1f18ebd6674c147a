package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/golden"
)

func TestBenchGolden(t *testing.T) {
	folder := t.TempDir()
	text := told(t, "-bench", "demo", "-out", folder)
	golden.Page(t, "testdata/bench.txt", text)
	var a struct {
		Version int
		Dips    []map[string]any
	}
	require.NoError(t, json.Unmarshal([]byte(told(t, "-bench", "demo", "-json")), &a))
	keys := slices.Sorted(maps.Keys(a.Dips[0]))
	if want := strings.Fields("base bottom depth end least readings shape signal start u_depth u_end_s u_least_s u_start_s"); a.Version != 1 || !slices.Equal(keys, want) {
		t.Errorf("version %d, keys %v, want %v", a.Version, keys, want)
	}
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

// A log whose clock only counts milliseconds since the logger's start is read too: the instants
// count from midnight then.
func TestBenchSinceStart(t *testing.T) {
	var b bytes.Buffer
	b.WriteString("millis,light\n")
	for i := range 200 {
		light := 900 + i%3
		if i >= 100 && i < 110 {
			light = 300 + 20*(i-105)*(i-105)
		}
		fmt.Fprintf(&b, "%d,%d\n", 500*i, light)
	}
	name := filepath.Join(t.TempDir(), "millis.csv")
	require.NoError(t, os.WriteFile(name, b.Bytes(), 0o600))
	var a struct{ Dips []struct{ Least time.Time } }
	require.NoError(t, json.Unmarshal([]byte(told(t, "-bench", name, "-json")), &a))
	require.Len(t, a.Dips, 1)
	want := time.Date(2027, 8, 2, 0, 0, 52, 500e6, time.UTC)
	if off := a.Dips[0].Least.Sub(want).Abs(); off > 300*time.Millisecond {
		t.Errorf("least at %v, want %v", a.Dips[0].Least, want)
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
