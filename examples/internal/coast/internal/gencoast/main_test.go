package main

import (
	"encoding/binary"
	"math"
	"testing"
)

// The triangle's arc is read by its differences, and the seam left out.
func TestCoasts(t *testing.T) {
	lines, err := coasts([]byte(`{"transform":{"scale":[0.5,0.25],"translate":[-180,-90]},
		"arcs":[[[0,400],[2,-4],[2,4]],[[716,400],[4,4],[0,4],[-4,4],[-712,0]]]}`))
	if err != nil {
		t.Fatal(err)
	}
	want := [][]point{{{-180, 10}, {-179, 9}, {-178, 10}}, {{178, 10}, {180, 11}}, {{180, 12}, {178, 13}}, {{-178, 13}}}
	if len(lines) != len(want) {
		t.Fatalf("%v, want %v", lines, want)
	}
	for i := range want {
		for j := range want[i] {
			if lines[i][j] != want[i][j] {
				t.Errorf("%v, want %v", lines[i], want[i])
			}
		}
	}
	for _, bad := range []string{"", "{}", `{"arcs":[[[0,0]]]}`} {
		if _, err := coasts([]byte(bad)); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
}

// No point that is left out is farther from the line that remains than the tolerance.
func TestThinned(t *testing.T) {
	var line []point
	for i := range 1001 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 1000)
		line = append(line, point{20 + 5*cos + 0.01*math.Sin(float64(i)), 60 + 3*sin})
	}
	line[1000] = line[0]
	const tolerance = 0.03
	kept := thinned(line, tolerance)
	if len(kept) > 200 || kept[0] != line[0] || kept[len(kept)-1] != line[1000] {
		t.Errorf("%d points are kept of 1001", len(kept))
	}
	for _, c := range line {
		near := math.Inf(1)
		for i := range kept[1:] {
			near = math.Min(near, aside(kept[i], kept[i+1], c))
		}
		if !(near <= tolerance) {
			t.Fatalf("%v is %g from the line", c, near)
		}
	}
}

func TestPacked(t *testing.T) {
	got := packed([][]point{{{1, 2}, {3.004, -1}}, {{5, 5}, {5.01, 5}, {5, 5}}}, 0.03)
	want := []int64{100, 200, 200, -300}
	n, at := binary.Uvarint(got)
	if n != 2 {
		t.Fatalf("%d points, want 2", n)
	}
	for _, w := range want {
		v, size := binary.Varint(got[at:])
		if v != w {
			t.Errorf("%d, want %d", v, w)
		}
		at += size
	}
	if at != len(got) {
		t.Errorf("%d bytes beyond: the island is too small", len(got)-at)
	}
}
