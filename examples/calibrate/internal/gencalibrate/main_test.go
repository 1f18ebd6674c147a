package main

import (
	"bytes"
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/golden"
)

func TestKeptFilesAreUpToDate(t *testing.T) { golden.Made(t, run, "../../demo", 4) }

func TestFilesSayThatTheyAreInvented(t *testing.T) {
	files, err := makeFiles(context.Background())
	require.NoError(t, err)
	for name, text := range files {
		if !bytes.Contains(bytes.ToLower(text), []byte("invented")) {
			t.Errorf("%s does not say that it is invented", name)
		}
	}
}
