package main

import (
	"io"

	"example.org/noonfall/examples/internal/cli"
)

// save writes everything into the folder; none is asked for with an empty name.
func (p *pooling) save(folder string) error {
	if folder == "" {
		return nil
	}
	for _, f := range []struct {
		name  string
		write func(io.Writer) error
		when  bool
	}{
		{"pool.txt", p.writeText, true},
		{"pool.json", p.WriteJSON, true},
		{"curve.svg", p.writeCurve, len(p.Curve) > 0},
		{"map.svg", p.writeMap, true},
		{"report.html", p.writePage, true},
	} {
		if !f.when {
			continue
		}
		if err := cli.WriteFile(folder, f.name, f.write); err != nil {
			return err
		}
	}
	return nil
}
