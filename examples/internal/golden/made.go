package golden

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"example.org/noonfall/examples/internal/cli"
)

// Made runs a generator of invented files twice, into folders that are not there: both times it must make what is
// kept in a folder, byte for byte, and as many files as are told. Other machines fuse multiplications and
// additions, so that a count may round the other way there: it looks at amd64 only.
func Made(t *testing.T, run cli.Run, kept string, count int) {
	t.Helper()
	if runtime.GOARCH != "amd64" {
		t.Skip("the files were made on amd64")
	}
	for range 2 {
		folder := filepath.Join(t.TempDir(), "new", "folder")
		if err := run(context.Background(), io.Discard, []string{"-out", folder}); err != nil {
			t.Fatal(err)
		}
		n := 0
		err := filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			n++
			name, err := filepath.Rel(folder, path)
			if err != nil {
				return err
			}
			made, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			have, err := os.ReadFile(filepath.Join(kept, name))
			if err != nil || !bytes.Equal(have, made) {
				t.Errorf("%s is not what the program makes (%v): run go generate", name, err)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		if n != count {
			t.Errorf("%d files are made, want %d", n, count)
		}
	}
}
