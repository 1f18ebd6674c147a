package cli

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// WriteFile makes the folder if it is absent and writes one file into it. A file
// of the same name is replaced. Errors name the path.
func WriteFile(folder, name string, write func(io.Writer) error) (err error) {
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return err
	}
	path := filepath.Join(folder, name)
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	defer func() {
		if e := f.Close(); err == nil && e != nil {
			err = e
		}
	}()
	w := bufio.NewWriter(f)
	if err := write(w); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return w.Flush()
}
