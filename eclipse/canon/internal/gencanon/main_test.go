package main

import (
	"bytes"
	"compress/gzip"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/canon/internal/packed"
)

const positionsFile = "testdata/positions.csv.gz"

// The committed catalogue is what the committed positions give, byte for byte on
// amd64, where it was made. Elsewhere the compiler may fuse multiplication and
// addition, and the last digit kept may differ by one.
func TestRegenerate(t *testing.T) {
	committed, err := os.ReadFile("../../canon.bin")
	require.NoError(t, err)
	out := filepath.Join(t.TempDir(), "canon.bin")
	var report bytes.Buffer
	require.NoError(t, run(positionsFile, out, &report))
	again, err := os.ReadFile(out)
	require.NoError(t, err)
	switch {
	case bytes.Equal(committed, again):
	case runtime.GOARCH == "amd64":
		t.Error("canon.bin is not what its generator makes: run go generate in the canon folder")
	default:
		sameButForLastDigits(t, committed, again)
	}
	twice, _, err := catalogue(mustRead(t, positionsFile))
	require.NoError(t, err)
	if !bytes.Equal(again, twice) {
		t.Error("two runs give different bytes")
	}
	if len(again) > 400_000 {
		t.Errorf("%d bytes, want at most 400 kB", len(again))
	}
	t.Log(report.String())
}

func mustRead(t *testing.T, name string) []byte {
	b, err := os.ReadFile(name)
	require.NoError(t, err)
	return b
}

func sameButForLastDigits(t *testing.T, committed, again []byte) {
	wantHeader, want, err := packed.Decode(committed)
	require.NoError(t, err)
	gotHeader, got, err := packed.Decode(again)
	require.NoError(t, err)
	require.Equal(t, wantHeader, gotHeader)
	for i, e := range want {
		for _, h := range []float64{-3.5, 0, 3.5} {
			for _, δ := range []float64{
				e.X.At(h) - got[i].X.At(h), e.Y.At(h) - got[i].Y.At(h), e.L1.At(h) - got[i].L1.At(h), e.L2.At(h) - got[i].L2.At(h),
				(e.D.At(h) - got[i].D.At(h)) / 10, (e.Mu.At(h) - got[i].Mu.At(h)) / 10, // degrees keep a digit less
			} {
				if !(math.Abs(δ) <= 2e-11) {
					t.Fatalf("%s: differs by %g, which is more than last digits", e.Date, δ)
				}
			}
		}
	}
}

// The stated error of the polynomials, rounding of the file included.
func TestPolynomialsFollowPositions(t *testing.T) {
	_, s, err := catalogue(mustRead(t, positionsFile))
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
	z, err := gzip.NewReader(bytes.NewReader(mustRead(t, positionsFile)))
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
