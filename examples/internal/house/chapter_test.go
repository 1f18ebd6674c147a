package house_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// chapter is what the doc.go of every room has, beside what it teaches: lines of code or
// of formulas, how well the answers hold, where they end, and whence they come. Package
// logfile computes nothing; what it must keep is time and memory.
var chapter = map[string]*regexp.Regexp{
	"lines set as code":  regexp.MustCompile(`(?m)^//\t\S`),
	"# Accuracy":         regexp.MustCompile(`(?m)^// # (Accuracy|Speed and memory)$`),
	"# Limits":           regexp.MustCompile(`(?m)^// # Limits$`),
	"# Sources":          regexp.MustCompile(`(?m)^// # Sources$`),
	"no line over 120":   regexp.MustCompile(`\A([^\n]{0,120}\n)*\z`),
	"a line for go list": regexp.MustCompile(`\A// Package \w+ [^.]*\.`),
}

func TestEveryRoomIsAChapter(t *testing.T) {
	for room := range rooms {
		text, err := os.ReadFile(filepath.Join(filepath.FromSlash(room), "doc.go"))
		require.NoError(t, err)
		for _, lack := range unwritten(string(text)) {
			t.Errorf("%s/doc.go has not: %s", room, lack)
		}
	}
}

// unwritten lists what a chapter lacks.
func unwritten(text string) (lacks []string) {
	for what, want := range chapter {
		if !want.MatchString(text) {
			lacks = append(lacks, what)
		}
	}
	return lacks
}

// The check itself must be able to fail.
func TestUnwritten(t *testing.T) {
	long := "// Package x\n// " + strings.Repeat("x", 120) + "\npackage x\n"
	if got := unwritten(long); len(got) != len(chapter) {
		t.Errorf("a page with nothing lacks %q", got)
	}
	good := "// Package x does a thing.\n//\n//\tx.Do()\n//\n// # Accuracy\n//\n// # Limits\n//\n// # Sources\npackage x\n"
	if got := unwritten(good); len(got) > 0 {
		t.Errorf("a page with all of it lacks %q", got)
	}
}
