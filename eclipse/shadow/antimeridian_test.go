package shadow

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/noonfall/sun"
)

// plain closes a ring for the tests' own measures.
func plain(r []position) (out [][2]float64) {
	for _, p := range append(r[:len(r):len(r)], r[0]) {
		out = append(out, p)
	}
	return out
}

// wholePieces holds pieces of a cut against the ring's area, degrees squared.
func wholePieces(t *rapid.T, pieces [][]position, want float64) {
	var sum float64
	for _, p := range pieces {
		r := plain(p)
		a := area(r)
		if !(a > 0) {
			t.Errorf("a piece of area %g", a)
		}
		sum += a
		if i, j := crossing(r); i >= 0 {
			t.Errorf("sides %d and %d of %v cross", i, j, r)
		}
		for _, v := range p {
			if !(math.Abs(v[0]) <= 180 && math.Abs(v[1]) <= 90) {
				t.Errorf("vertex %v", v)
			}
		}
	}
	if !(math.Abs(sum-want) <= 1e-3) { // rounding to 1e-6 degrees along a thousand degrees
		t.Errorf("pieces of %.6f square degrees, the ring has %.6f", sum, want)
	}
}

// A comb whose teeth reach over longitude 180 by random lengths: cut into as many
// pieces as it takes, none lost, whichever way round it is given.
func TestSplitRingKeepsTheArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		teeth := rapid.IntRange(1, 8).Draw(t, "teeth")
		base := rapid.Float64Range(150, 210).Draw(t, "base")
		ring := []position{{base - 20, 0}}
		for i := range teeth {
			low, high := float64(4*i), float64(4*i+2)
			reach := base + rapid.Float64Range(1, 60).Draw(t, "reach")
			notch := base + rapid.Float64Range(-15, 0.5).Draw(t, "notch")
			ring = append(ring, position{reach, low}, position{reach, high}, position{notch, high}, position{notch, high + 2})
		}
		ring = append(ring, position{base - 20, float64(4 * teeth)})
		want := math.Abs(area(plain(ring)))
		for i := range ring {
			ring[i][0] = math.Remainder(ring[i][0], 360)
		}
		if rapid.Bool().Draw(t, "other way") {
			for i, j := 0, len(ring)-1; i < j; i, j = i+1, j-1 {
				ring[i], ring[j] = ring[j], ring[i]
			}
		}
		wholePieces(t, splitRing(ring), want)
	})
}

// A ring about a pole, of any shape that has one latitude for each longitude.
func TestSplitRingAboutAPole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(6, 40).Draw(t, "corners")
		first := rapid.Float64Range(-180, 180).Draw(t, "first")
		pole := 90.0
		if rapid.Bool().Draw(t, "south") {
			pole = -90
		}
		var ring []position
		var want float64
		for range n {
			ring = append(ring, position{0, math.Copysign(rapid.Float64Range(50, 89).Draw(t, "lat"), pole)})
		}
		for i := range n {
			ring[i][0] = math.Remainder(first+360*float64(i)/float64(n), 360)
			want += (math.Abs(pole-ring[i][1]) + math.Abs(pole-ring[(i+1)%n][1])) / 2 * 360 / float64(n)
		}
		if rapid.Bool().Draw(t, "other way") {
			for i, j := 0, n-1; i < j; i, j = i+1, j-1 {
				ring[i], ring[j] = ring[j], ring[i]
			}
		}
		wholePieces(t, splitRing(ring), want)
	})
}

func TestSplitLine(t *testing.T) {
	got := splitLine([]position{{170, 0}, {-170, 10}, {-160, 10}, {170, 20}})
	if len(got) != 3 || got[0][1] != (position{180, 5}) || got[1][0] != (position{-180, 5}) ||
		got[1][len(got[1])-1] != (position{-180, 20 - 10*1.0/3}) || got[2][0] != (position{180, 20 - 10*1.0/3}) {
		t.Errorf("%v", got)
	}
}

// A step of 100 degrees of longitude near a pole goes by the great circle.
func TestSmoothNearAPole(t *testing.T) {
	a, b := sun.Site{Lat: 89, Lon: -50}, sun.Site{Lat: 89, Lon: 50}
	line := smooth([]sun.Site{a, b}, false)
	top := 0.0
	for i, p := range line {
		top = math.Max(top, p[1])
		if i > 0 && !(math.Abs(p[0]-line[i-1][0]) <= 4) {
			t.Errorf("from %v to %v", line[i-1], p)
		}
	}
	// Midway the distance from the pole is tan x = tan 1° cos 50°.
	if want := 90 - math.Atan(math.Tan(1*deg)*math.Cos(50*deg))/deg; !(math.Abs(top-want) <= 1e-3) {
		t.Errorf("highest latitude %.5f, want %.5f", top, want)
	}
}

func TestBounds(t *testing.T) {
	for _, tt := range []struct {
		parts [][]position
		want  [4]float64
	}{
		{[][]position{{{10, 1}, {20, 5}}}, [4]float64{10, 1, 20, 5}},
		{[][]position{{{170, 1}, {180, 5}}, {{-180, 5}, {-160, 8}}}, [4]float64{170, 1, -160, 8}},
		{[][]position{{{-180, 60}, {180, 60}, {180, 90}, {-180, 90}}}, [4]float64{-180, 60, 180, 90}},
		{[][]position{{{5, 6}}}, [4]float64{5, 6, 5, 6}},
	} {
		if got := [4]float64(bounds(tt.parts)); got != tt.want {
			t.Errorf("%v: %v, want %v", tt.parts, got, tt.want)
		}
	}
}
