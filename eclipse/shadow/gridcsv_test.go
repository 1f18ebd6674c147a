package shadow

import (
	"bytes"
	"encoding/csv"
	"errors"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// What is written reads back bit by bit, and what does not exist is empty.
func TestGridCSV(t *testing.T) {
	e := gridElements(t, "2027-08-02")
	for _, name := range []string{"maximum", "", "my own, in \"s\""} {
		g := mustGrid(t, e, Area{South: -60, North: 60, West: 170, East: -100, LatStep: 7.3, LonStep: 9.1}, Maximum, GridOptions{})
		g.Name = name
		var out bytes.Buffer
		require.NoError(t, g.WriteCSV(&out))
		lines, err := csv.NewReader(&out).ReadAll()
		require.NoError(t, err)
		require.Len(t, lines, 1+len(g.Values))
		want := map[string]string{"maximum": "maximum", "": "value", "my own, in \"s\"": "my_own__in__s_"}[name]
		if h := lines[0]; h[0] != "lat_deg" || h[1] != "lon_deg" || h[2] != want {
			t.Errorf("header %q, want the last to be %q", h, want)
		}
		empty := 0
		for i, v := range g.Values {
			line := lines[i+1]
			if line[2] == "" {
				empty++
				if !math.IsNaN(v) {
					t.Errorf("site %d is empty, want %g", i, v)
				}
				line[2] = "NaN"
			}
			for k, w := range []float64{g.Y(i / g.Cols), g.X(i % g.Cols), v} {
				got, err := strconv.ParseFloat(line[k], 64)
				require.NoError(t, err)
				if math.Float64bits(got) != math.Float64bits(w) && !(math.IsNaN(got) && math.IsNaN(w)) {
					t.Errorf("site %d, field %d: %v, want %v", i, k, got, w)
				}
			}
		}
		if empty == 0 || empty == len(g.Values) {
			t.Errorf("%d of %d empty, want some", empty, len(g.Values))
		}
	}
}

type full struct{}

var errFull = errors.New("card full")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestGridCSVReportsTheCard(t *testing.T) {
	g := mustGrid(t, gridElements(t, "2027-08-02"), Earth(5), Obscuration, GridOptions{})
	if err := g.WriteCSV(full{}); !errors.Is(err, errFull) {
		t.Errorf("%v, want the writer's error", err)
	}
	if err := new(Grid).WriteCSV(full{}); !errors.Is(err, errFull) {
		t.Errorf("no sites: %v, want the writer's error", err)
	}
}
