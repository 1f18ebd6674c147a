// Genlimb makes the embedded limb of the Moon from a map of its heights. It is run
// by go generate in the limb folder, where the map must lie as LDEM_4.IMG:
//
//	go run ./internal/genlimb -in LDEM_4.IMG -out limb.bin -marched testdata/marched.bin
//
// The map is not kept with the code. It is the product LDEM_4, four samples a degree,
// of the data set LRO-L-LOLA-4-GDR-V1.0, "gridded data records of the lunar orbiter
// laser altimeter", in the planetary data archive (node for geosciences), a work of
// the United States government and in the public domain; the program refuses any file
// whose SHA-256 is not
//
//	972d66d7f330abca62abc21aae270661516c00dd1a881ec102b94df9563656b5
//
// The same map gives the same output, byte for byte. Besides the limb it writes, for
// the tests, a few profiles as they were marched, between the nodes of the grid.
package main

import (
	"crypto/sha256"
	"encoding/hex"
	"flag"
	"fmt"
	"io"
	"os"

	"example.org/noonfall/eclipse/limb/internal/march"
	"example.org/noonfall/eclipse/limb/internal/packed"
)

const (
	command = "go run ./internal/genlimb -in LDEM_4.IMG -out limb.bin -marched testdata/marched.bin"
	hash    = "972d66d7f330abca62abc21aae270661516c00dd1a881ec102b94df9563656b5"
	source  = "LDEM_4 of LRO-L-LOLA-4-GDR-V1.0, lunar orbiter laser altimeter, planetary data archive; public domain; centre of mass, mean-Earth axes"
)

// layout is the grid: every libration that a solar eclipse can have, half a degree
// and three tenths apart, and heights in steps of 50 m.
var layout = packed.Header{
	Command: command, SHA256: hash, Source: source,
	Lon:    packed.Axis{First: -6.5, Step: 0.5, Count: 27},
	Lat:    packed.Axis{First: -1.2, Step: 0.3, Count: 9},
	Points: march.Points, Unit: 0.05, Radius: march.Radius,
}

// between are librations away from the nodes, with heights in steps that a byte can
// just hold.
var between = packed.Header{
	Command: command, SHA256: hash, Source: source,
	Lon:    packed.Axis{First: -5.8, Step: 2.27, Count: 6},
	Lat:    packed.Axis{First: -1.07, Step: 1.04, Count: 3},
	Points: march.Points, Unit: 0.043, Radius: march.Radius,
}

func main() {
	in := flag.String("in", "", "map of heights, LDEM_4.IMG")
	out := flag.String("out", "", "limb to write")
	marched := flag.String("marched", "", "profiles between the nodes to write, for tests")
	flag.Parse()
	if *in == "" || *out == "" || *marched == "" || flag.NArg() != 0 {
		flag.Usage()
		os.Exit(2)
	}
	if err := run(*in, *out, *marched, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "genlimb:", err)
		os.Exit(1)
	}
}

func run(in, out, marched string, report io.Writer) error {
	file, err := os.ReadFile(in)
	if err != nil {
		return err
	}
	sum := sha256.Sum256(file)
	if got := hex.EncodeToString(sum[:]); got != hash {
		return fmt.Errorf("%s: SHA-256 %s, want %s: it is not the map that the limb is made from", in, got, hash)
	}
	m, err := march.Read(file)
	if err != nil {
		return fmt.Errorf("%s: %w", in, err)
	}
	for _, job := range []struct {
		name   string
		layout packed.Header
	}{{out, layout}, {marched, between}} {
		b, err := packed.Encode(job.layout, profiles(m, job.layout))
		if err != nil {
			return fmt.Errorf("%s: %w", job.name, err)
		}
		if err := os.WriteFile(job.name, b, 0o644); err != nil {
			return err
		}
		if _, err := fmt.Fprintf(report, "%s: %d profiles, %d bytes\n", job.name, job.layout.Lon.Count*job.layout.Lat.Count, len(b)); err != nil {
			return err
		}
	}
	return nil
}

// profiles marches over the map for every node.
func profiles(m *march.Map, h packed.Header) [][]float64 {
	var out [][]float64
	for i := range h.Lon.Count {
		for j := range h.Lat.Count {
			out = append(out, m.Profile(h.Lon.At(i), h.Lat.At(j)))
		}
	}
	return out
}
