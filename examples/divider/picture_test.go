package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/golden"
)

// The pictures that come without flags. The README shows the first.
func TestPictures(t *testing.T) {
	dir := t.TempDir()
	told(t, "-out", dir)
	for _, name := range []string{"counts.svg", "octaves.svg"} {
		got, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		golden.Picture(t, filepath.Join("testdata", name), string(got))
	}
	for _, name := range []string{"counts.png", "octaves.png"} {
		got, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		golden.Dots(t, filepath.Join("testdata", name), string(got))
	}
}
