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
	if len(files) != 4 {
		t.Errorf("%d files, want 4", len(files))
	}
	for name, text := range files {
		have, err := os.ReadFile(filepath.Join("..", "..", "demo", name))
		require.NoError(t, err, "go generate ./examples/calibrate makes it")
		if !bytes.Equal(have, text) {
			t.Errorf("%s is not what the program makes: run go generate ./examples/calibrate", name)
		}
		if !bytes.Contains(bytes.ToLower(text), []byte("invented")) {
			t.Errorf("%s does not say that it is invented", name)
		}
	}
}

func TestSameBytesEveryTime(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new", "folder")
	require.NoError(t, run(context.Background(), io.Discard, []string{"-out", folder}))
	files, err := makeFiles(context.Background())
	require.NoError(t, err)
	for name, text := range files {
		have, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		if !bytes.Equal(have, text) {
			t.Errorf("%s differs from run to run", name)
		}
	}
}
