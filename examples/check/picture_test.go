package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/golden"
)

// The demo's picture has a row for each quantity, and no number that is none.
func TestPictureOfTheDemo(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, run(context.Background(), new(bytes.Buffer), []string{"-out", folder}))
	svg, err := os.ReadFile(filepath.Join(folder, "residuals.svg"))
	require.NoError(t, err)
	for _, want := range []string{"c1", "max", "magnitude", "tolerance"} {
		if !bytes.Contains(svg, []byte(want)) {
			t.Errorf("the picture lacks %q", want)
		}
	}
	if strings.Contains(string(svg), "NaN") {
		t.Error("a coordinate is no number")
	}
	golden.Picture(t, filepath.Join("testdata", "residuals.svg"), string(svg))
}
