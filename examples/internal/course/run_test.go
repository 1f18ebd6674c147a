package course

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Each chapter's run and each answer is typed as the page has it, and prints what the
// page says that it prints. The programs are built once.
func TestEveryChapterRuns(t *testing.T) {
	if testing.Short() {
		t.Skip("builds and runs all the programs: half a minute")
	}
	answered := answers(t)
	bin := build(t)
	for _, name := range chapters(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			blocks := indented(section(comment(t, name), "A run"))
			require.Len(t, blocks, 2, "a command and its output")
			follow(t, bin, []step{{commands: blocks[0], excerpt: blocks[1], at: "examples/" + name + "/main.go"}})
		})
	}
	for name, steps := range answered {
		t.Run("answers to "+name, func(t *testing.T) {
			t.Parallel()
			follow(t, bin, steps)
		})
	}
}

// build makes all the programs and returns their folder.
func build(t *testing.T) string {
	t.Helper()
	bin := t.TempDir()
	args := []string{"build", "-buildvcs=false", "-o", bin + string(filepath.Separator)}
	for _, name := range chapters(t) {
		args = append(args, "./examples/"+name)
	}
	inRoot(t, args...)
	lookAtSources(t)
	return bin
}

// inRoot runs the go command in the module's folder.
func inRoot(t *testing.T, args ...string) string {
	t.Helper()
	c := exec.Command("go", args...)
	c.Dir = root
	var stderr bytes.Buffer
	c.Stderr = &stderr
	out, err := c.Output()
	require.NoError(t, err, stderr.String())
	return string(out)
}

// lookAtSources asks for the size and time of every file that the programs are made of. The go
// command takes a test's last result for this one's while no file has changed that the test
// looked at; what the compiler reads it would not know of.
func lookAtSources(t *testing.T) {
	t.Helper()
	const files = `{{if and .Module .Module.Main}}{{$d := .Dir}}` +
		`{{range .GoFiles}}{{$d}}/{{.}}{{"\n"}}{{end}}{{range .EmbedFiles}}{{$d}}/{{.}}{{"\n"}}{{end}}{{end}}`
	args := []string{"list", "-deps", "-f", files}
	for _, name := range chapters(t) {
		args = append(args, "./examples/"+name)
	}
	for _, source := range strings.FieldsFunc(inRoot(t, args...), func(r rune) bool { return r == '\n' }) {
		_, err := os.Stat(source)
		require.NoError(t, err)
	}
}

// follow does the steps of a page in one new folder, as a reader would in the clone:
// with a copy of examples, so that no page can spoil the one here.
func follow(t *testing.T, bin string, steps []step) {
	t.Helper()
	folder := t.TempDir()
	require.NoError(t, os.CopyFS(filepath.Join(folder, "examples"), os.DirFS(examples)))
	for _, s := range steps {
		for name, text := range s.files {
			require.NoError(t, os.WriteFile(filepath.Join(folder, name), []byte(text), 0o666))
		}
		output := typed(t, bin, folder, s)
		if s.excerpt == "" {
			continue
		}
		if err := misquoted(s.excerpt, output); err != nil {
			t.Errorf("%s: %s%v\nThe output is\n%s", s.at, s.commands, err, output)
		}
	}
}

// typed gives the commands to a shell and returns what they print. The one liberty is
// that "go run ./examples/NAME" runs the program that was built.
func typed(t *testing.T, bin, folder string, s step) string {
	t.Helper()
	require.Contains(t, s.commands, "go run ./examples/", s.at)
	shell, err := exec.LookPath("sh")
	if err != nil {
		t.Skip("the pages are for a shell, and there is none here")
	}
	c := exec.Command(shell, "-e", "-c", strings.ReplaceAll(s.commands, "go run ./examples/", filepath.ToSlash(bin)+"/"))
	c.Dir = folder
	var stdout, stderr bytes.Buffer
	c.Stdout, c.Stderr = &stdout, &stderr
	require.NoError(t, c.Run(), "%s: %s%s", s.at, s.commands, &stderr)
	return stdout.String()
}
