package main

import (
	"bytes"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// The table in the package is what the generator makes of the published series today.
func TestTableIsUpToDate(t *testing.T) {
	got, err := Generate("../../../../testdata/references")
	require.NoError(t, err)
	want, err := os.ReadFile("../../deltat_table.go")
	require.NoError(t, err)
	if !bytes.Equal(got, want) {
		t.Error("deltat_table.go is stale: run go generate ./sun/timescale")
	}
}

func TestGenerateNamesTheMissingFile(t *testing.T) {
	if _, err := Generate(t.TempDir()); !os.IsNotExist(err) {
		t.Errorf("error %v, want one that says the file does not exist", err)
	}
}
