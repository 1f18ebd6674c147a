package cli

import (
	"context"
	"io"
	"path/filepath"
)

// Generator returns a program for go generate: it writes the files that are made, by their names
// with slashes, into the folder of its one flag, -out.
func Generator(name string, files func(context.Context) (map[string][]byte, error)) Run {
	return func(ctx context.Context, out io.Writer, args []string) error {
		fs := NewFlagSet(name, "makes the invented files of an example")
		folder := fs.String("out", "", "`folder` to write to, made if absent")
		if err := Parse(fs, args, out); err != nil {
			return err
		}
		if *folder == "" || fs.NArg() != 0 {
			return Usagef("want -out and a folder, nothing else")
		}
		made, err := files(ctx)
		if err != nil {
			return err
		}
		for path, text := range made {
			within, file := filepath.Split(filepath.FromSlash(path))
			if err := WriteFile(filepath.Join(*folder, within), file, func(w io.Writer) error { _, err := w.Write(text); return err }); err != nil {
				return err
			}
		}
		return nil
	}
}
