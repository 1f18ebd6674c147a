// Gencanon makes the embedded catalogue of eclipse elements from a file of
// positions of Sun and Moon. It is run by go generate in the canon folder:
//
//	go run ./internal/gencanon -in FILE.csv.gz -out FILE
//
// The same input gives the same output, byte for byte. It prints how many eclipses
// were written and the worst distance of their polynomials from the positions.
package main

import (
	"crypto/sha256"
	"encoding/hex"
	"flag"
	"fmt"
	"io"
	"os"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon/internal/packed"
	"example.org/noonfall/eclipse/ephemeris"
)

// command is written into the file; it names paths as seen from the canon folder.
const command = "go run ./internal/gencanon -in internal/gencanon/testdata/positions.csv.gz -out canon.bin"

// origin describes every eclipse of the file. Elements from these positions and
// from DE405 gave first and fourth contacts 0.014 s apart in the median of
// 1960-2059, 0.045 s at worst, as those who made the positions found; a median
// of 0.674 standard deviations makes that 0.02 s. Two ephemerides from one
// laboratory are not independent, so that it is a lower bound, but ranging to
// the Moon leaves centimetres.
var origin = ephemeris.Origin{
	Name:  "JPL DE431, IAU 2006/2000A precession and nutation; centre of mass of the Moon",
	TimeU: 0.02,
}

func main() {
	in := flag.String("in", "", "positions of Sun and Moon, gzipped CSV")
	out := flag.String("out", "", "catalogue to write")
	flag.Parse()
	if *in == "" || *out == "" || flag.NArg() != 0 {
		flag.Usage()
		os.Exit(2)
	}
	if err := run(*in, *out, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "gencanon:", err)
		os.Exit(1)
	}
}

func run(in, out string, report io.Writer) error {
	positions, err := os.ReadFile(in)
	if err != nil {
		return err
	}
	file, s, err := catalogue(positions)
	if err != nil {
		return fmt.Errorf("%s: %w", in, err)
	}
	if err := os.WriteFile(out, file, 0o644); err != nil {
		return err
	}
	_, err = fmt.Fprintf(report, "%d eclipses, %d bytes; at worst %.3f m from the positions (%s), condition %.2f\n",
		s.eclipses, len(file), s.worst.Largest(), s.worstDate, s.condition)
	return err
}

// A summary says how well the catalogue follows the positions.
type summary struct {
	eclipses  int
	worst     ephemeris.Residual
	worstDate string
	condition float64
}

// catalogue turns packed positions into a packed catalogue.
func catalogue(positions []byte) ([]byte, summary, error) {
	var s summary
	passages, err := readPositions(positions)
	if err != nil {
		return nil, s, err
	}
	var all []*eclipse.Elements
	for _, p := range passages {
		e, err := s.add(p)
		if err != nil {
			return nil, s, fmt.Errorf("%s: %w", p.date, err)
		}
		all = append(all, e)
	}
	sum := sha256.Sum256(positions)
	file, err := packed.Encode(packed.Header{
		Command: command, SHA256: hex.EncodeToString(sum[:]),
		Source: origin.Name, TimeU: origin.TimeU,
		Span: all[0].Span, K1: all[0].K1, K2: all[0].K2,
	}, all)
	return file, s, err
}

// add reduces one passage and notes how far its rounded elements are from the
// positions.
func (s *summary) add(p passage) (*eclipse.Elements, error) {
	r, err := ephemeris.Reduce(p.table, p.t0, ephemeris.Options{})
	if err != nil {
		return nil, err
	}
	e := r.Elements
	if e.Date != p.date {
		return nil, fmt.Errorf("greatest eclipse falls on %s", e.Date)
	}
	packed.Round(e)
	residual, err := ephemeris.Compare(e, p.table, 0.1)
	if err != nil {
		return nil, err
	}
	s.eclipses++
	s.condition = max(s.condition, r.Condition)
	if residual.Largest() > s.worst.Largest() {
		s.worst, s.worstDate = residual, e.Date
	}
	return e, nil
}
