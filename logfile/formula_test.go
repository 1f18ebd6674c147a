package logfile

import (
	"testing"

	"pgregory.net/rapid"
)

func TestGuard(t *testing.T) {
	for _, tt := range []struct{ text, want, why string }{
		{"", "", "nothing to run"},
		{"cloud from the west", "cloud from the west", "plain text"},
		{"=1+1", "'=1+1", "a formula, CWE-1236"},
		{"+A1", "'+A1", "a formula"},
		{"-A1", "'-A1", "a formula"},
		{"@SUM(A1)", "'@SUM(A1)", "a formula"},
		{"\t=1", "'\t=1", "a tab at the front is dropped by some"},
		{" =1", "' =1", "so are blanks"},
		{"\ufeff=1", "'\ufeff=1", "and a byte order mark"},
		{"＝1+1", "'＝1+1", "the wide sign"},
		{"-12.5", "-12.5", "a negative number survives"},
		{"+3e4", "+3e4", "a number with a sign"},
		{"-12.5+A1", "'-12.5+A1", "a number that goes on is a formula"},
		{"'=1", "''=1", "guarded once is guarded twice, or Unguard could not tell"},
		{"3,5", "'3,5", "a decimal comma is not that of the file"},
		{"-,5 m", "'-,5 m", "nor is one with a unit"},
		{"3, then", "'3, then", "nor one that ends with its comma"},
		{", then 5", ", then 5", "a comma alone is no number"},
		{"'tis dark", "'tis dark", "an apostrophe alone runs nothing"},
	} {
		if got := Guard(tt.text); got != tt.want {
			t.Errorf("Guard(%q) = %q, want %q: %s", tt.text, got, tt.want, tt.why)
		}
		if got := Unguard(Guard(tt.text)); got != tt.text {
			t.Errorf("%q came back as %q", tt.text, got)
		}
	}
}

// Whatever the text, nothing that is written runs, and it comes back.
func TestGuardComesBack(t *testing.T) {
	piece := rapid.SampledFrom([]string{"'", " ", "=", "+", "-", "@", "\t", "1", ".5", ",5", "e3", "a", "\ufeff", "＝", "\xff"})
	rapid.Check(t, func(t *rapid.T) {
		text := ""
		for _, s := range rapid.SliceOfN(piece, 0, 8).Draw(t, "pieces") {
			text += s
		}
		cell := Guard(text)
		if got := Unguard(cell); got != text {
			t.Fatalf("%q came back as %q by way of %q", text, got, cell)
		}
		if cell != text && cell[0] != '\'' || cell == text && runs(text) {
			t.Fatalf("%q is written as %q, which runs", text, cell)
		}
	})
}
