package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/golden"
)

// The README's picture is the one that the demo station gives.
func TestPictureOfTheReadme(t *testing.T) {
	dir := t.TempDir()
	_, err := reduce(t, "-out", dir)
	require.NoError(t, err)
	got, err := os.ReadFile(filepath.Join(dir, "light.svg"))
	require.NoError(t, err)
	golden.Picture(t, "testdata/light.svg", string(got))
}
