package main

import (
	"testing"

	"example.org/noonfall/examples/internal/golden"
)

func TestKeptFilesAreUpToDate(t *testing.T) { golden.Made(t, run, "../../demo", 1) }
