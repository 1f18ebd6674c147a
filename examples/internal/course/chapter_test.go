package course

import (
	"fmt"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// root is the module's folder, and examples that of the programs. The tests stay in their
// own folder: the go command, which keeps results, takes note of the files that they look at
// by the folder in which the tests began.
const (
	root     = "../../.."
	examples = root + "/examples"
)

// A step is something that a page tells its reader to do: files to write, commands to
// type, and what they print.
type step struct {
	files    map[string]string
	commands string
	excerpt  string // of the output of all the commands; empty where the page shows none
	at       string // page and line
}

// parts are the headings of a chapter, in order. Others may stand between them.
var parts = []string{"What you will learn", "The physics", "A run", "An exercise"}

var heading = regexp.MustCompile(`(?m)^# (.+)$`)

// programs lists the folders in examples with a main.go.
func programs(t *testing.T) (names []string) {
	t.Helper()
	pages, err := filepath.Glob(examples + "/*/main.go")
	require.NoError(t, err)
	require.NotEmpty(t, pages, "no programs in examples")
	for _, page := range pages {
		names = append(names, filepath.Base(filepath.Dir(page)))
	}
	return names
}

// chapters lists the programs of this module. One with a go.mod is a module of its own:
// what its page says is tested there, since building it here would fetch what it imports.
func chapters(t *testing.T) []string {
	t.Helper()
	return slices.DeleteFunc(programs(t), func(name string) bool {
		_, err := os.Stat(filepath.Join(examples, name, "go.mod"))
		return err == nil
	})
}

// comment returns the page of a program, without the comment's own marks.
func comment(t *testing.T, name string) string {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(examples, name, "main.go"), nil, parser.PackageClauseOnly|parser.ParseComments)
	require.NoError(t, err)
	return file.Doc.Text()
}

// section returns what stands under a heading of a chapter.
func section(page, name string) string {
	_, rest, found := strings.Cut(page, "\n# "+name+"\n")
	if !found {
		return ""
	}
	if next := heading.FindStringIndex(rest); next != nil {
		rest = rest[:next[0]]
	}
	return rest
}

// lacking lists what a chapter has not of what it must have.
func lacking(page string) (lacks []string) {
	var found []string
	for _, m := range heading.FindAllStringSubmatch(page, -1) {
		if slices.Contains(parts, m[1]) {
			found = append(found, m[1])
		}
	}
	if !slices.Equal(found, parts) {
		lacks = append(lacks, fmt.Sprintf("the headings %q, each once and in this order: it has %q", parts, found))
	}
	for _, part := range parts {
		if strings.TrimSpace(section(page, part)) == "" {
			lacks = append(lacks, "a word under "+part)
		}
	}
	physics := section(page, "The physics")
	if len(indented(physics)) == 0 {
		lacks = append(lacks, "a formula, set as code, under The physics")
	}
	if !regexp.MustCompile(`(?m)^Sources?: \S`).MatchString(physics) {
		lacks = append(lacks, `a paragraph that begins with "Source:" under The physics`)
	}
	if n := len(indented(section(page, "A run"))); n != 2 {
		lacks = append(lacks, fmt.Sprintf("one command and one output, set as code, under A run: %d blocks", n))
	}
	return lacks
}

// indented returns the blocks of a text that are set as code, without the tab.
func indented(text string) (blocks []string) {
	open := false
	for _, line := range strings.Split(text, "\n") {
		code, isCode := strings.CutPrefix(line, "\t")
		switch {
		case isCode && !open:
			blocks, open = append(blocks, code+"\n"), true
		case isCode:
			blocks[len(blocks)-1] += code + "\n"
		case line == "" && open: // blank lines belong to a block if it goes on after them
			blocks[len(blocks)-1] += "\n"
		default:
			open = false
		}
	}
	return blocks
}

// Every program is a chapter, and its exercise is answered.
func TestEveryProgramIsAChapter(t *testing.T) {
	answered := answers(t)
	for _, name := range chapters(t) {
		for _, lack := range lacking(comment(t, name)) {
			t.Errorf("examples/%s/main.go has not: %s", name, lack)
		}
	}
	for _, name := range programs(t) {
		if len(answered[name]) == 0 {
			t.Errorf("examples/ANSWERS.md runs nothing under %q", "## "+name)
		}
	}
}

// The check itself must be able to fail.
func TestLacking(t *testing.T) {
	good := "Name does it.\n\n# What you will learn\n\nThat.\n\n# The physics\n\nAs\n\n\ta = b\n\nSource: from memory.\n\n" +
		"# Asides\n\n# A run\n\n\tgo run x\n\nprints\n\n\t1\n\n\t2\n\n# An exercise\n\nWhy?\n"
	if got := lacking(good); len(got) > 0 {
		t.Errorf("a page with all of it lacks %q", got)
	}
	for what, page := range map[string]string{
		"a heading": strings.Replace(good, "# An exercise\n", "", 1),
		"an order":  strings.Replace(strings.Replace(good, "# The physics", "# A run", 1), "Asides\n\n# A run", "The physics", 1),
		"a formula": strings.Replace(good, "\ta = b", "a = b", 1),
		"a source":  strings.Replace(good, "Source", "We say", 1),
		"a command": strings.Replace(good, "\tgo run x\n", "", 1),
		"a word":    strings.Replace(good, "Why?", "", 1),
	} {
		if len(lacking(page)) == 0 {
			t.Errorf("a page without %s passes", what)
		}
	}
}
