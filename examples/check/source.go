package main

import (
	"embed"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// The demo is table 21 of NASA RP 1398 with the bulletin's own elements, and a few
// claims made up so that every verdict occurs; demo_test.go makes it from
// testdata/references.
//
//go:embed demo
var demo embed.FS

const (
	demoClaims = "claims.csv"
	demoName   = "claims.csv of the demo (NASA RP 1398, table 21, and five invented ones)"
)

// A source is a claims file and the folder that its elements lie in.
type source struct {
	io.ReadCloser
	name string
	// read returns a file named by a claim, relative to the claims' folder.
	read func(name string) ([]byte, error)
}

// open opens the claims of the command line, or the demo's.
func (o *settings) open() (*source, error) {
	if !o.given {
		folder, err := fs.Sub(demo, "demo")
		if err != nil {
			return nil, err
		}
		f, err := folder.Open(demoClaims)
		if err != nil {
			return nil, err
		}
		return &source{f, demoName, func(name string) ([]byte, error) { return fs.ReadFile(folder, name) }}, nil
	}
	f, err := os.Open(o.claims)
	if err != nil {
		return nil, fmt.Errorf("%w (name a CSV file of claims with -claims)", err)
	}
	beside := filepath.Dir(o.claims)
	return &source{f, o.claims, func(name string) ([]byte, error) {
		if !filepath.IsAbs(name) {
			name = filepath.Join(beside, name)
		}
		return readSmall(name)
	}}, nil
}

// smallFile bounds a file of elements; a real one has two kilobytes.
const smallFile = 1 << 20

func readSmall(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, smallFile+1))
	if err == nil && len(data) > smallFile {
		return nil, fmt.Errorf("%s is larger than %d bytes, want a file of elements", name, smallFile)
	}
	return data, err
}
