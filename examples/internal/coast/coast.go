// Package coast has the world's coastlines, for maps in the examples.
package coast

import (
	_ "embed"
	"encoding/binary"

	"gonum.org/v1/plot/plotter"
)

// Coastlines: Natural Earth, land boundaries 1:50m, version 4.1.0, in the public domain,
// thinned to three hundredths of a degree by internal/gencoast.
//
//go:embed coast.bin
var coastBytes []byte

// Lines are the coastlines, degrees east and north, each call's its own. Gencoast says how they are written; bytes
// that are damaged end the map's lines early, and a test counts them.
func Lines() (lines []plotter.XYs) {
	const perDegree = 100
	rest := coastBytes
	for len(rest) > 0 {
		n, size := binary.Uvarint(rest)
		if size <= 0 {
			return lines
		}
		rest = rest[size:]
		var line plotter.XYs
		var x, y int64
		for range n {
			for _, v := range []*int64{&x, &y} {
				d, size := binary.Varint(rest)
				if size <= 0 {
					return lines
				}
				*v, rest = *v+d, rest[size:]
			}
			line = append(line, plotter.XY{X: float64(x) / perDegree, Y: float64(y) / perDegree})
		}
		lines = append(lines, line)
	}
	return lines
}
