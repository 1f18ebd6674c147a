package main

import (
	"bytes"
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const positionsFile = "testdata/positions.csv.gz"

// The committed catalogue is what the committed positions give, byte for byte.
func TestRegenerate(t *testing.T) {
	committed, err := os.ReadFile("../../canon.bin")
	require.NoError(t, err)
	out := filepath.Join(t.TempDir(), "canon.bin")
	var report bytes.Buffer
	require.NoError(t, run(positionsFile, out, &report))
	again, err := os.ReadFile(out)
	require.NoError(t, err)
	if !bytes.Equal(committed, again) {
		t.Error("canon.bin is not what its generator makes: run go generate in the canon folder")
	}
	if len(again) > 400_000 {
		t.Errorf("%d bytes, want at most 400 kB", len(again))
	}
	t.Log(report.String())
}

// The stated error of the polynomials, rounding of the file included.
func TestPolynomialsFollowPositions(t *testing.T) {
	positions, err := os.ReadFile(positionsFile)
	require.NoError(t, err)
	_, s, err := catalogue(positions)
	require.NoError(t, err)
	t.Logf("%d eclipses, worst %s: %+v, condition %.2f", s.eclipses, s.worstDate, s.worst, s.condition)
	if s.eclipses != 452 {
		t.Errorf("%d eclipses, want 452", s.eclipses)
	}
	if !(s.worst.Largest() <= 0.3) || !(s.worst.Largest() > 0) {
		t.Errorf("polynomials are up to %.3f m from the positions, want 0.3 m at most (README of the positions)", s.worst.Largest())
	}
}

// damage rewrites the file of positions through an edit of its text.
func damage(t *testing.T, edit func(string) string) []byte {
	packed, err := os.ReadFile(positionsFile)
	require.NoError(t, err)
	z, err := gzip.NewReader(bytes.NewReader(packed))
	require.NoError(t, err)
	text, err := io.ReadAll(z)
	require.NoError(t, err)
	lines := strings.SplitAfterN(string(text), "\n", 20)
	var out bytes.Buffer
	w := gzip.NewWriter(&out)
	_, err = io.WriteString(w, edit(strings.Join(lines[:19], "")))
	require.NoError(t, err)
	require.NoError(t, w.Close())
	return out.Bytes()
}

func TestReadPositionsSaysWhatIsWrong(t *testing.T) {
	first18 := func(s string) string { return strings.Join(strings.SplitAfter(s, "\n")[:18], "") }
	for _, c := range []struct {
		name, text string
		edit       func(string) string
	}{
		{"untouched", "", first18},
		{"a row too many", "1 rows, want 17", func(s string) string { return s }},
		{"a column lost", `no column "moon_dec_deg"`, func(s string) string { return strings.Replace(s, "moon_dec_deg", "moon", 1) }},
		{"a letter in a number", "line 3", func(s string) string { return strings.Replace(s, "52.303563265", "52.3o3563265", 1) }},
		{"an instant moved", "row 4", func(s string) string { return strings.Replace(s, "0.145833333333", "0.155833333333", 1) }},
		{"a moon in metres", "Moon.Distance", func(s string) string { return strings.Replace(first18(s), "359401.2602", "359401260.2", 1) }},
		{"a field lost", "wrong number of fields", func(s string) string { return strings.Replace(s, ",359338.1078", "", 1) }},
		{"empty", "header", func(string) string { return "" }},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := readPositions(damage(t, c.edit))
			if c.text == "" {
				require.NoError(t, err)
				return
			}
			if err == nil || !strings.Contains(err.Error(), c.text) {
				t.Errorf("error %v, want one that says %q", err, c.text)
			}
		})
	}
	if _, err := readPositions([]byte("plain text")); err == nil {
		t.Error("a file that is not packed was accepted")
	}
}
