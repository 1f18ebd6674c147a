package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
)

// What is embedded must be what the program makes. Other machines fuse
// multiplications and additions, so that a count may round the other way there.
func TestEmbeddedFilesAreUpToDate(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("the embedded files were made on amd64")
	}
	files, err := makeFiles(context.Background())
	require.NoError(t, err)
	if len(files) != 3+2*12+1 {
		t.Errorf("%d files, want 28", len(files))
	}
	for name, text := range files {
		have, err := os.ReadFile(filepath.Join("..", "..", "data", filepath.FromSlash(name)))
		require.NoError(t, err, "go generate ./examples/internal/demo makes it")
		if !bytes.Equal(have, text) {
			t.Errorf("%s is not what the program makes: run go generate ./examples/internal/demo", name)
		}
	}
}

func TestSameBytesEveryTime(t *testing.T) {
	a, b := t.TempDir(), filepath.Join(t.TempDir(), "new", "folder")
	require.NoError(t, run(context.Background(), io.Discard, []string{"-out", a}))
	require.NoError(t, run(context.Background(), io.Discard, []string{"-out", b}))
	files, err := makeFiles(context.Background())
	require.NoError(t, err)
	for name := range files {
		one, err := os.ReadFile(filepath.Join(a, filepath.FromSlash(name)))
		require.NoError(t, err)
		two, err := os.ReadFile(filepath.Join(b, filepath.FromSlash(name)))
		require.NoError(t, err)
		if !bytes.Equal(one, two) {
			t.Errorf("%s differs from run to run", name)
		}
	}
}
