// Gencoast makes the coastlines of the examples' maps from a copy of Natural Earth's, which is in
// the public domain (naturalearthdata.com, "Terms of use").
//
//	npm pack world-atlas@2.0.2 && tar xzf world-atlas-2.0.2.tgz
//	go run ./examples/internal/coast/internal/gencoast -in package/land-50m.json -out examples/internal/coast/coast.bin
//
// That package repeats Natural Earth's land boundaries 1:50m, version 4.1.0, as TopoJSON.
// Any other file is refused by its SHA-256.
//
// Lines are thinned (D. Douglas & T. Peucker, Canadian Cartographer 10 (1973) 112, from
// memory) to within a tolerance in degrees, islands smaller than some tolerances are left
// out, and what remains is written in hundredths of a degree, a kilometre: for each line the
// number of its points and their differences, longitude first, as varints. Seams, where the
// source cuts the land at longitude 180 and closes Antarctica along the pole, are no coast
// and are left out.
package main

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
)

func main() {
	in, out := flag.String("in", "", "TopoJSON `file`"), flag.String("out", "coast.bin", "`file` to write")
	tolerance := flag.Float64("tolerance", 0.03, "`degrees` by which a line may move")
	flag.Parse()
	if err := run(*in, *out, *tolerance); err != nil {
		fmt.Fprintln(os.Stderr, "gencoast:", err)
		os.Exit(1)
	}
}

// source is the SHA-256 of the file that the coastlines were made from.
const source = "619477ff690c086885e45cb91707d783805561bd75ae8e437b7d4694b0204e0f"

func run(in, out string, tolerance float64) error {
	text, err := os.ReadFile(in)
	if err != nil {
		return err
	}
	if sum := fmt.Sprintf("%x", sha256.Sum256(text)); sum != source {
		return fmt.Errorf("%s: its SHA-256 is %s, want %s: take land-50m.json of world-atlas 2.0.2", in, sum, source)
	}
	lines, err := coasts(text)
	if err != nil {
		return fmt.Errorf("%s: %w", in, err)
	}
	return os.WriteFile(out, packed(lines, tolerance), 0o666)
}

type point struct{ lon, lat float64 }

// coasts reads the arcs of a quantised topology: each point is the difference to the one
// before, in units of the scale.
func coasts(text []byte) (lines [][]point, err error) {
	var topology struct {
		Arcs      [][][2]float64
		Transform struct{ Scale, Translate [2]float64 }
	}
	if err := json.Unmarshal(text, &topology); err != nil {
		return nil, err
	}
	s, t := topology.Transform.Scale, topology.Transform.Translate
	if s[0] == 0 || s[1] == 0 || len(topology.Arcs) == 0 {
		return nil, fmt.Errorf("want a quantised topology with arcs")
	}
	for _, arc := range topology.Arcs {
		var x, y float64
		var line []point
		for _, d := range arc {
			x, y = x+d[0], y+d[1]
			at := point{x*s[0] + t[0], y*s[1] + t[1]}
			if n := len(line); n > 0 && seam(line[n-1], at) {
				lines, line = append(lines, line), nil
			}
			line = append(line, at)
		}
		lines = append(lines, line)
	}
	return lines, nil
}

// seam says that a step runs along longitude 180 or the pole, or around the Earth.
func seam(a, b point) bool {
	const edge = 179.99
	return math.Abs(a.lon-b.lon) > 180 || math.Abs(a.lon) > edge && math.Abs(b.lon) > edge || a.lat < -89.9 || b.lat < -89.9
}

// thinned leaves out what is within the tolerance of the line that remains.
func thinned(line []point, tolerance float64) []point {
	if len(line) < 3 {
		return line
	}
	a, b := line[0], line[len(line)-1]
	far, at := 0.0, 0
	for i, c := range line[1 : len(line)-1] {
		if d := aside(a, b, c); d > far {
			far, at = d, i+1
		}
	}
	if far <= tolerance {
		return []point{a, b}
	}
	first := thinned(line[:at+1], tolerance)
	return append(first[:len(first)-1:len(first)-1], thinned(line[at:], tolerance)...)
}

// aside is how far c is from the segment of a and b, degrees; those of longitude count as
// many as at c's latitude.
func aside(a, b, c point) float64 {
	cos := math.Cos(c.lat * math.Pi / 180)
	ux, uy := (b.lon-a.lon)*cos, b.lat-a.lat
	vx, vy := (c.lon-a.lon)*cos, c.lat-a.lat
	if along := (ux*vx + uy*vy) / (ux*ux + uy*uy); along > 0 { // NaN where a and b are one
		along = math.Min(1, along)
		vx, vy = vx-along*ux, vy-along*uy
	}
	return math.Hypot(vx, vy)
}

// small says that a line does not leave the neighbourhood of its first point.
func small(line []point, within float64) bool {
	for _, c := range line {
		if aside(line[0], line[0], c) > within {
			return false
		}
	}
	return true
}

const perDegree = 100

func packed(lines [][]point, tolerance float64) (out []byte) {
	for _, line := range lines {
		if small(line, 4*tolerance) {
			continue
		}
		kept := thinned(line, tolerance)
		out = binary.AppendUvarint(out, uint64(len(kept)))
		var x, y int64
		for _, at := range kept {
			lon, lat := int64(math.Round(at.lon*perDegree)), int64(math.Round(at.lat*perDegree))
			out = binary.AppendVarint(binary.AppendVarint(out, lon-x), lat-y)
			x, y = lon, lat
		}
	}
	return out
}
