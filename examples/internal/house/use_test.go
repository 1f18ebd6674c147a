package house_test

import (
	"fmt"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// given declares what the typical use in a room's doc.go takes for granted.
var given = map[string]string{
	"sun":               "var utc time.Time; var madrid *time.Location; var t timescale.TT",
	"sensor/air":        "var readings []air.Sample",
	"sensor/crystal":    "var points []crystal.Point; var set, eclipse time.Time",
	"sensor/dips":       "var ctx context.Context; var readings []dips.Sample",
	"logfile":           "var file *os.File; func use(time.Time, float64) {}",
	"eclipse":           "var elements *eclipse.Elements",
	"eclipse/shadow":    "var elements *eclipse.Elements",
	"eclipse/canon":     "var site sun.Site; var from, to time.Time",
	"eclipse/ephemeris": "var ctx context.Context; var site sun.Site; var from, to timescale.TT",
	"eclipse/limb":      "var elements *eclipse.Elements; var site sun.Site",
	"eclipse/cooling":   "var ctx context.Context; var readings []cooling.Reading; var curve *eclipse.Curve",
	"eclipse/fit":       "var ctx context.Context; var samples []fit.Sample; var curve *eclipse.Curve",
	"eclipse/rehearsal": "var ctx context.Context; var e *eclipse.Elements; var site sun.Site; var file *os.File",
	"eclipse/station":   "var ctx context.Context; var dir string",
	"eclipse/campaign":  "var ctx context.Context; var jobs iter.Seq[campaign.Job]; var elements *eclipse.Elements",
}

// The typical use in each chapter is code that compiles: what stands there set as code, in
// the order of the page, is the body of one function. That it leaves a variable unused is
// the one thing that is forgiven.
func TestTypicalUseCompiles(t *testing.T) {
	run := outside(t, "package main\n\nfunc main() {}\n")
	folder := strings.TrimSpace(run("go", "list", "-f", "{{.Dir}}"))
	for room := range rooms {
		text, err := os.ReadFile(filepath.Join(filepath.FromSlash(room), "doc.go"))
		require.NoError(t, err)
		dir := filepath.Join(folder, strings.ReplaceAll(room, "/", "_"))
		require.NoError(t, os.Mkdir(dir, 0o777))
		use := typicalUse(string(text), given[room])
		if !strings.Contains(use, path.Base(room)+".") {
			t.Errorf("%s/doc.go has no typical use", room)
		}
		require.NoError(t, os.WriteFile(filepath.Join(dir, "use.go"), []byte(use), 0o666))
		c := exec.Command("go", "build", "-mod=mod", "-gcflags=-e", ".")
		c.Dir, c.Env = dir, append(os.Environ(), "GOWORK=off", "GOFLAGS=-buildvcs=false", "GOSUMDB=off")
		out, err := c.CombinedOutput()
		for line := range strings.Lines(string(out)) {
			if !strings.HasPrefix(line, "#") && !strings.Contains(line, "declared and not used") {
				t.Errorf("%s/doc.go, typical use: %s", room, strings.TrimSpace(line))
			}
		}
		if _, failed := err.(*exec.ExitError); err != nil && !failed {
			t.Fatal(err)
		}
	}
}

// qualified finds the packages that code speaks of.
var qualified = regexp.MustCompile(`\b([a-z]+)\.[A-Z]`)

// typicalUse is a file whose one function is the code of a chapter: every block set as code
// that declares something. Formulas and drawings declare nothing.
func typicalUse(page, given string) string {
	var code, block string
	for line := range strings.Lines(page + "\n") {
		rest, isCode := strings.CutPrefix(line, "//\t")
		switch {
		case isCode:
			block += rest
		case strings.TrimSpace(line) == "//" && block != "":
			block += "\n"
		default:
			if strings.Contains(block, ":=") {
				code += block
			}
			block = ""
		}
	}
	code = strings.ReplaceAll(code, "{ ... }", "{}")
	imports := map[string]string{"context": "context", "errors": "errors", "fmt": "fmt", "iter": "iter", "os": "os", "time": "time", "log": "log"}
	for room := range rooms {
		imports[path.Base(room)] = module + "/" + room
	}
	if regexp.MustCompile(`\blog\b[^\n]*:?= rehearsal`).MatchString(code) {
		delete(imports, "log") // a variable there
	}
	head, seen := "package use\n", map[string]bool{}
	for _, m := range qualified.FindAllStringSubmatch(given+code, -1) {
		if from := imports[m[1]]; from != "" && !seen[from] {
			seen[from] = true
			head += fmt.Sprintf("import %q\n", from)
		}
	}
	return head + given + "\n\nfunc typical() error {\n" + code + "\nreturn nil\n}\n\nvar _ = typical\n"
}
