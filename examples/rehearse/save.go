package main

import (
	"io"

	"example.org/noonfall/examples/internal/cli"
)

// save writes everything into the folder; none is asked for with an empty name.
func (r *result) save(folder string) error {
	if folder == "" {
		return nil
	}
	type piece struct {
		name  string
		write func(io.Writer) error
	}
	pieces := []piece{{"rehearse.txt", r.writeText}, {"rehearse.json", r.writeJSON}}
	for _, f := range r.fears {
		pieces = append(pieces,
			piece{f.key + ".csv", func(w io.Writer) error { _, err := w.Write(f.text); return err }},
			piece{f.key + ".truth.json", func(w io.Writer) error { return cli.WriteJSON(w, f.first.Truth) }})
	}
	if len(r.fears) > 0 {
		pieces = append(pieces, piece{"station.json", func(w io.Writer) error {
			s := *r.o.desc
			s.Files = []string{r.fears[0].key + ".csv"}
			return cli.WriteJSON(w, s)
		}}, piece{"day.svg", r.writeDay}, piece{"fears.svg", r.writeFears})
	}
	for _, p := range pieces {
		if err := cli.WriteFile(folder, p.name, p.write); err != nil {
			return err
		}
	}
	return nil
}
