package shadow

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// A readBack is a feature collection as a stranger reads it: no type of the
// package's own.
type readBack struct {
	Type     string
	Bbox     []float64
	Features []struct {
		Type     string
		Bbox     []float64
		Geometry struct {
			Type        string
			Coordinates json.RawMessage
		}
		Properties map[string]any
	}
}

// check holds a map against RFC 7946 and returns the polygons by feature.
func (c *readBack) check(t *testing.T, name string) (polygons [][][][2]float64) {
	t.Helper()
	if c.Type != "FeatureCollection" || len(c.Bbox) != 4 {
		t.Errorf("%s: %s, bounding box %v", name, c.Type, c.Bbox)
	}
	for _, f := range c.Features {
		role := fmt.Sprint(name, " ", f.Properties["role"])
		if f.Type != "Feature" || len(f.Bbox) != 4 || f.Bbox[1] > f.Bbox[3] {
			t.Errorf("%s: %s, bounding box %v", role, f.Type, f.Bbox)
			continue
		}
		var lines [][][2]float64
		var rings [][][2]float64
		read := func(to any) {
			require.NoError(t, json.Unmarshal(f.Geometry.Coordinates, to), role)
		}
		switch f.Geometry.Type {
		case "Point":
			var p [2]float64
			read(&p)
			lines = [][][2]float64{{p, p}}
		case "LineString":
			lines = make([][][2]float64, 1)
			read(&lines[0])
		case "MultiLineString":
			read(&lines)
		case "Polygon":
			read(&rings)
			if len(rings) != 1 {
				t.Errorf("%s: %d rings, want one", role, len(rings))
			}
		case "MultiPolygon":
			var many [][][][2]float64
			read(&many)
			for _, p := range many {
				if len(p) != 1 {
					t.Errorf("%s: %d rings, want one", role, len(p))
				}
				rings = append(rings, p...)
			}
		default:
			t.Errorf("%s: geometry %s", role, f.Geometry.Type)
		}
		for _, l := range append(lines, rings...) {
			if len(l) < 2 {
				t.Errorf("%s: a line of %d points", role, len(l))
			}
			for i, p := range l {
				if !(math.Abs(p[0]) <= 180 && math.Abs(p[1]) <= 90) {
					t.Errorf("%s: point %v", role, p)
				}
				if !within(f.Bbox, p) || !within(c.Bbox, p) {
					t.Errorf("%s: %v outside %v", role, p, f.Bbox)
				}
				atPole := math.Abs(p[1]) == 90
				if i > 0 && !atPole && !(math.Abs(p[0]-l[i-1][0]) <= 30) && math.Abs(p[1]) < 89.9 {
					t.Errorf("%s: a leap from %v to %v", role, l[i-1], p)
				}
			}
		}
		for _, r := range rings {
			if len(r) < 4 || r[0] != r[len(r)-1] {
				t.Errorf("%s: ring of %d points from %v to %v", role, len(r), r[0], r[len(r)-1])
				continue
			}
			if a := area(r); !(a > 0) {
				t.Errorf("%s: area %g, want it wound anticlockwise", role, a)
			}
			if i, j := crossing(r); i >= 0 {
				t.Errorf("%s: side %d %v%v crosses side %d %v%v of %d", role, i, r[i], r[i+1], j, r[j], r[j+1], len(r)-1)
			}
		}
		if rings != nil {
			polygons = append(polygons, rings)
		}
	}
	return polygons
}

func within(box []float64, p [2]float64) bool {
	if !(p[1] >= box[1] && p[1] <= box[3]) {
		return false
	}
	if box[0] <= box[2] {
		return p[0] >= box[0] && p[0] <= box[2]
	}
	return p[0] >= box[0] || p[0] <= box[2]
}

func area(r [][2]float64) (a float64) {
	for i := range len(r) - 1 {
		a += (r[i][0]-r[0][0])*(r[i+1][1]-r[0][1]) - (r[i+1][0]-r[0][0])*(r[i][1]-r[0][1])
	}
	return a / 2
}

// crossing finds two sides of a closed ring that meet and are not neighbours, or
// -1: all pairs whose longitudes overlap, with exact signs but for rounding.
func crossing(r [][2]float64) (int, int) {
	n := len(r) - 1
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	west := func(i int) float64 { return min(r[i][0], r[i+1][0]) }
	slices.SortFunc(order, func(a, b int) int {
		if west(a) < west(b) {
			return -1
		}
		return 1
	})
	side := func(a, b, p [2]float64) float64 { return (b[0]-a[0])*(p[1]-a[1]) - (b[1]-a[1])*(p[0]-a[0]) }
	for k, i := range order {
		east := max(r[i][0], r[i+1][0])
		for _, j := range order[k+1:] {
			if west(j) > east {
				break
			}
			if d := (i - j + n) % n; d == 1 || d == n-1 {
				continue
			}
			a, b, p, q := r[i], r[i+1], r[j], r[j+1]
			if max(a[1], b[1]) < min(p[1], q[1]) || max(p[1], q[1]) < min(a[1], b[1]) {
				continue
			}
			if side(a, b, p)*side(a, b, q) <= 0 && side(p, q, a)*side(p, q, b) <= 0 {
				return i, j
			}
		}
	}
	return -1, -1
}

// readMap writes a shadow's map and reads it back.
func readMap(t *testing.T, s *Shadow) *readBack {
	t.Helper()
	text, err := s.GeoJSON()
	require.NoError(t, err)
	var back readBack
	require.NoError(t, json.Unmarshal(text, &back))
	return &back
}

// A map of 2 August 2027 holds what there is, each once, and nothing else.
func TestGeoJSONRoles(t *testing.T) {
	got := map[string]int{}
	for _, f := range readMap(t, august2027(t)).Features {
		got[fmt.Sprint(f.Properties["role"])]++
	}
	want := []string{
		"path", "central line", "northern limit", "southern limit", "penumbra, southern limit", "penumbra, northern limit",
		"greatest eclipse", "P1", "P2", "P3", "P4", "U1", "U2", "U3", "U4",
	}
	for _, role := range want {
		if got[role] != 1 {
			t.Errorf("%d times %q", got[role], role)
		}
	}
	if len(got) != len(want) {
		t.Errorf("roles %v", got)
	}
}

// A hybrid's path is one piece for each kind.
func TestGeoJSONOfAHybrid(t *testing.T) {
	var kinds []any
	for _, f := range readMap(t, cast(t, published(t, "canon5m", "2023-04-20"), 69.2)).Features {
		if f.Properties["role"] == "path" {
			kinds = append(kinds, f.Properties["kind"])
		}
	}
	if got := fmt.Sprint(kinds); got != "[annular total annular]" {
		t.Errorf("pieces %s", got)
	}
}
