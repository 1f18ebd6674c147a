package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/golden"
)

// The pictures of the demo station; the README shows the first.
func TestPictures(t *testing.T) {
	dir := t.TempDir()
	_, err := reduce(t, "-out", dir)
	require.NoError(t, err)
	for _, name := range []string{"light.svg", "air.svg"} {
		got, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		golden.Picture(t, "testdata/"+name, string(got))
	}
}
