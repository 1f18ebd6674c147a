package main

import (
	"bytes"
	"os"
	"testing"
)

func TestCompiledTablesAreGeneratedOnes(t *testing.T) {
	want, err := Generate("../../../testdata/references")
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile("../../terms_table.go")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("terms_table.go is not what genterms writes: run go generate ./sun")
	}
}
