package house_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A fence is a block of a page between lines of three backquotes.
type fence struct {
	language, text string
	line           int // of its first line, from 1
}

func fences(t *testing.T, page string) (all []fence) {
	t.Helper()
	b, err := os.ReadFile(page)
	require.NoError(t, err)
	var open *fence
	for i, line := range strings.Split(string(b), "\n") {
		mark, isMark := strings.CutPrefix(line, "```")
		switch {
		case isMark && open == nil:
			open = &fence{language: mark, line: i + 2}
		case isMark:
			all, open = append(all, *open), nil
		case open != nil:
			open.text += line + "\n"
		}
	}
	require.Nil(t, open, "%s: a block is not closed", page)
	return all
}

// outside makes a module elsewhere in the file system as the README tells its
// reader to: it writes the program and runs the commands of the first block that
// holds a replace line, with this clone's path in place of the README's.
func outside(t *testing.T, program string) (run func(name string, args ...string) string) {
	t.Helper()
	here, err := filepath.Abs(".")
	require.NoError(t, err)
	folder := t.TempDir()
	run = func(name string, args ...string) string {
		t.Helper()
		c := exec.Command(name, args...)
		c.Dir = folder
		// The go.sum of this module has checked every hash already.
		c.Env = append(os.Environ(), "GOWORK=off", "GOFLAGS=-buildvcs=false", "GOSUMDB=off")
		out, err := c.CombinedOutput()
		require.NoError(t, err, "%s %s: %s", name, strings.Join(args, " "), out)
		return string(out)
	}
	require.NoError(t, os.WriteFile(filepath.Join(folder, "main.go"), []byte(program), 0o666))
	replaced := false
	for _, line := range importCommands(t) {
		if words := strings.Fields(line); words[0] == "go" {
			for i, w := range words {
				if strings.HasSuffix(w, "=../noonfall") {
					words[i], replaced = strings.TrimSuffix(w, "../noonfall")+here, true
				}
			}
			run(words[0], words[1:]...)
		}
	}
	require.True(t, replaced, "README: no command has the replace line")
	return run
}

// importCommands are the lines of the README's block with the replace line,
// without the last one, which runs the program.
func importCommands(t *testing.T) []string {
	t.Helper()
	for _, f := range fences(t, "README.md") {
		if f.language == "sh" && strings.Contains(f.text, "-replace") {
			lines := strings.Split(strings.TrimSpace(f.text), "\n")
			last := len(lines) - 1
			require.Equal(t, "go run .", lines[last])
			return lines[:last]
		}
	}
	t.Fatal("README: no block with a replace line")
	return nil
}

// Every Go block of the README is a whole program. It is compiled and run in a
// module outside this one, and where a text block follows, that is what it prints.
func TestReadmePrograms(t *testing.T) {
	programs := 0
	all := fences(t, "README.md")
	for i, f := range all {
		if f.language != "go" {
			continue
		}
		programs++
		t.Run(fmt.Sprintf("line %d", f.line), func(t *testing.T) {
			run := outside(t, f.text)
			run("go", "vet", ".")
			got := run("go", "run", ".")
			if want, ok := printed(all[i+1:]); ok && got != want {
				t.Errorf("README.md:%d: the program prints\n%s\nnot\n%s", f.line, got, want)
			}
		})
	}
	if programs == 0 {
		t.Error("README.md has no Go program")
	}
}

// printed finds the text block that follows, before the next program.
func printed(rest []fence) (string, bool) {
	for _, f := range rest {
		switch f.language {
		case "text":
			return f.text, true
		case "go":
			return "", false
		}
	}
	return "", false
}

// Commands grow stale faster than prose. Each folder, test and benchmark that a
// page's command names must exist.
func TestReadmeCommands(t *testing.T) {
	names := testNames(t)
	for _, page := range []string{"README.md", "DEVELOPERS.md"} {
		b, err := os.ReadFile(page)
		require.NoError(t, err)
		for _, m := range regexp.MustCompile(`\./((?:eclipse|sun|sensor|logfile|examples|testdata)[a-z/]*)`).FindAllStringSubmatch(string(b), -1) {
			if _, err := os.Stat(strings.TrimSuffix(m[1], "/")); err != nil {
				t.Errorf("%s names ./%s: %v", page, m[1], err)
			}
		}
		for _, m := range regexp.MustCompile(`-(?:bench|run) '?\^?((?:Test|Benchmark|Fuzz)\w+)`).FindAllStringSubmatch(string(b), -1) {
			if !slices.ContainsFunc(names, func(n string) bool { return strings.HasPrefix(n, m[1]) }) {
				t.Errorf("%s: there is no %s", page, m[1])
			}
		}
	}
}

// testNames lists the names of all tests, benchmarks and fuzz targets, with those of the module within.
func testNames(t *testing.T) (names []string) {
	t.Helper()
	for _, p := range append(listPackages(t), listed{Dir: nested}) {
		files, err := filepath.Glob(filepath.Join(p.Dir, "*_test.go"))
		require.NoError(t, err)
		for _, file := range files {
			b, err := os.ReadFile(file)
			require.NoError(t, err)
			for _, m := range regexp.MustCompile(`(?m)^func ((?:Test|Benchmark|Fuzz)\w+)\(`).FindAllStringSubmatch(string(b), -1) {
				names = append(names, m[1])
			}
		}
	}
	return names
}
