package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/limb/internal/packed"
)

// lunar is where the map lies, for whoever has it: go test ./eclipse/limb/internal/genlimb -map FILE
var lunar = flag.String("map", "", "LDEM_4.IMG, to make the committed files again")

// The committed files say how they were made and are laid out as they would be today.
func TestHeaders(t *testing.T) {
	for name, want := range map[string]packed.Header{"limb.bin": layout, "testdata/marched.bin": between} {
		b, err := os.ReadFile(filepath.Join("../..", name))
		require.NoError(t, err)
		got, _, err := packed.Decode(b)
		require.NoError(t, err)
		want.Lowest = got.Lowest
		require.Equal(t, want, got, name)
	}
}

// With the map they come out again, byte for byte where they were made, and twice the same.
func TestRegenerate(t *testing.T) {
	if *lunar == "" {
		t.Skip("the map is not kept with the code; -map FILE says where it is")
	}
	var made [2][]byte
	for i := range made {
		out, marched := filepath.Join(t.TempDir(), "limb.bin"), filepath.Join(t.TempDir(), "marched.bin")
		var report bytes.Buffer
		require.NoError(t, run(*lunar, out, marched, &report))
		a, err := os.ReadFile(out)
		require.NoError(t, err)
		b, err := os.ReadFile(marched)
		require.NoError(t, err)
		made[i] = append(a, b...)
		t.Log(report.String())
	}
	require.True(t, bytes.Equal(made[0], made[1]), "two runs give different bytes")
	a, err := os.ReadFile("../../limb.bin")
	require.NoError(t, err)
	b, err := os.ReadFile("../../testdata/marched.bin")
	require.NoError(t, err)
	if !bytes.Equal(made[0], append(a, b...)) && runtime.GOARCH == "amd64" {
		t.Error("limb.bin is not what its generator makes: run go generate in the limb folder")
	}
}

func TestRefusesAnotherMap(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "map")
	require.NoError(t, os.WriteFile(name, []byte("made up"), 0o644))
	var report bytes.Buffer
	err := run(name, filepath.Join(dir, "a"), filepath.Join(dir, "b"), &report)
	if err == nil || !strings.Contains(err.Error(), "SHA-256") {
		t.Errorf("another map: %v", err)
	}
	if err := run(filepath.Join(dir, "none"), "", "", &report); err == nil {
		t.Error("no map at all is taken")
	}
}
