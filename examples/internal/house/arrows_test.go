package house_test

import (
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const module = "example.org/noonfall"

// forTests are packages that only tests import, under testdata, where ./... does not come, and
// what they open onto. They are no rooms. The tables that tests are held against are read by
// the first, which opens onto nothing, so that the tests of every room can have it; the second
// is of tests that count over many made-up logs.
var forTests = map[string][]string{
	"testdata/references": {},
	"testdata/study":      {"eclipse", "eclipse/canon"},
}

const (
	gonum = "gonum.org/v1/gonum"
	meeus = "github.com/soniakeys/meeus/v3"
	units = "github.com/soniakeys/unit" // the angles in meeus' signatures
)

// rooms lists what each room of the library may import beside the standard
// library and its own internal packages. A room may stand here before it exists.
// Data flows one way; an arrow that is not in this table is a decision to make,
// not a line to add.
var rooms = map[string][]string{
	"sun/timescale":     {meeus, units},
	"sun":               {"sun/timescale", meeus, units},
	"sensor":            {gonum},
	"sensor/air":        {},
	"sensor/crystal":    {},
	"sensor/dips":       {gonum},
	"logfile":           {},
	"eclipse/disc":      {gonum},
	"eclipse":           {"eclipse/disc", "sun", "sun/timescale", gonum},
	"eclipse/shadow":    {"eclipse", "eclipse/internal/bracket", "eclipse/disc", "sun", "sun/timescale"}, // the root finder is shared
	"eclipse/canon":     {"eclipse", "sun", "sun/timescale"},
	"eclipse/ephemeris": {"eclipse", "sun/timescale", meeus, units, gonum},
	"eclipse/limb":      {"eclipse", "eclipse/disc", "sun/timescale", meeus, units},
	"eclipse/cooling":   {"eclipse", "sun", "sensor/air", gonum},
	"eclipse/fit":       {"eclipse", "eclipse/disc", "eclipse/limb", "sun", "sun/timescale", "sensor", gonum},
	"eclipse/rehearsal": {"eclipse", "eclipse/disc", "eclipse/limb", "sun", "sensor", "sensor/air", "logfile"},
	"eclipse/station": {"sun/timescale", "sun", "sensor", "sensor/air", "sensor/crystal", "sensor/dips", "logfile",
		"eclipse/disc", "eclipse", "eclipse/canon", "eclipse/limb", "eclipse/cooling", "eclipse/fit"},
	"eclipse/campaign": {"eclipse/station", "eclipse", "eclipse/shadow", "sun", gonum},
}

// generators lists programs inside a room that may import more than the room.
var generators = map[string][]string{
	"eclipse/canon/internal/gencanon": {"eclipse/ephemeris"},
}

// forbidden lists what no library package may import: flags, pictures, pages and
// logs belong to the programs in examples.
var forbidden = []string{"flag", "html", "html/template", "log", "log/slog", "net/http", "image", "gonum.org/v1/plot"}

type listed struct {
	ImportPath, Name, Dir string
	Imports, GoFiles      []string
}

// listPackages asks the go command, so that build constraints are honoured.
func listPackages(t *testing.T) []listed {
	t.Helper()
	args := []string{"list", "-e", "-json=ImportPath,Name,Dir,Imports,GoFiles", "./..."}
	for p := range forTests {
		args = append(args, "./"+p)
	}
	out, err := exec.Command("go", args...).Output()
	require.NoError(t, err)
	var all []listed
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else {
			require.NoError(t, err)
		}
		all = append(all, p)
	}
	require.NotEmpty(t, all)
	showToTestCache(t)
	return all
}

// showToTestCache opens every folder, Go file and page of the module. What another
// process reads is invisible to the go command's cache of test results, and so is a file by
// its relative name, since these tests left their folder before the go command
// began to look: it would go on saying ok after an arrow has been added.
func showToTestCache(t *testing.T) {
	t.Helper()
	root, err := filepath.Abs(".")
	require.NoError(t, err)
	err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && path != root && strings.HasPrefix(d.Name(), "."):
			return filepath.SkipDir
		case slices.Contains([]string{".go", ".md", ".mod"}, filepath.Ext(path)):
			_, err = os.ReadFile(path)
		}
		return err
	})
	require.NoError(t, err)
}

// within reports whether a package is the given one or lies beneath it.
func within(path, root string) bool { return path == root || strings.HasPrefix(path, root+"/") }

// roomOf returns the room that a package of the module belongs to: the longest
// that it is or lies under the internal folder of.
func roomOf(path string) (string, bool) {
	rel := strings.TrimPrefix(path, module+"/")
	room, _, _ := strings.Cut(rel, "/internal/")
	_, ok := rooms[room]
	return room, ok
}

func isExample(path string) bool { return within(path, module+"/examples") }

func isForTests(path string) bool {
	_, ok := forTests[strings.TrimPrefix(path, module+"/")]
	return ok
}

func TestEveryPackageIsARoom(t *testing.T) {
	for _, p := range listPackages(t) {
		if p.ImportPath == module || isForTests(p.ImportPath) || isExample(p.ImportPath) {
			continue
		}
		room, ok := roomOf(p.ImportPath)
		if !ok {
			t.Errorf("%s: no room %q in the table", p.ImportPath, room)
		}
		if p.ImportPath == module+"/"+room && !slices.Contains(p.GoFiles, "doc.go") {
			t.Errorf("%s: has no doc.go", p.ImportPath)
		}
	}
}

func TestArrows(t *testing.T) {
	for _, p := range listPackages(t) {
		if p.ImportPath == module && len(p.Imports) > 0 {
			t.Errorf("the root package imports %v, want nothing", p.Imports)
		}
		room, ok := roomOf(p.ImportPath)
		if !ok && !isForTests(p.ImportPath) {
			if i := slices.IndexFunc(p.Imports, isForTests); i >= 0 {
				t.Errorf("%s imports %s: only tests may", p.ImportPath, p.Imports[i])
			}
			continue
		}
		rel := strings.TrimPrefix(p.ImportPath, module+"/")
		allowed := slices.Concat(rooms[room], generators[rel], forTests[rel])
		for _, imp := range p.Imports {
			if why := refuse(p, room, imp, allowed); why != "" {
				t.Errorf("%s imports %s: %s", p.ImportPath, imp, why)
			}
		}
	}
}

// refuse says why a package may not import another, or nothing.
func refuse(p listed, room, imp string, allowed []string) string {
	if p.Name != "main" {
		for _, f := range forbidden {
			if within(imp, f) {
				return "no library package may"
			}
		}
	}
	rel, ours := strings.CutPrefix(imp, module+"/")
	if !ours {
		first, _, _ := strings.Cut(imp, "/")
		if !strings.Contains(first, ".") { // the standard library
			return ""
		}
		if slices.ContainsFunc(allowed, func(a string) bool { return within(imp, a) }) {
			return ""
		}
		return "this room may not"
	}
	if other, ok := roomOf(imp); ok && other == room {
		return "" // its own inside, or a generator reading its own room
	}
	if slices.Contains(allowed, rel) {
		return ""
	}
	if other, ok := roomOf(imp); ok && slices.Contains(allowed, other) {
		return "" // what a room below shares with those inside its folder: the compiler keeps all others out
	}
	return "no such arrow"
}

// The check itself must be able to fail.
func TestRefuse(t *testing.T) {
	library := listed{Name: "fit"}
	for _, tt := range []struct {
		room, imp string
		ok        bool
	}{
		{"eclipse/fit", module + "/eclipse", true},
		{"eclipse/fit", gonum + "/mat", true},
		{"eclipse/fit", module + "/eclipse/internal/quantile", true},
		{"eclipse/fit", "math", true},
		{"eclipse/fit", module + "/eclipse/station", false},
		{"sensor", module + "/logfile", false},
		{"logfile", module + "/sensor", false},
		{"logfile", gonum + "/stat", false},
		{"eclipse", meeus + "/solar", false},
		{"eclipse/fit", "gonum.org/v1/plot/vg", false},
		{"eclipse/fit", "flag", false},
		{"eclipse/fit", "html/template", false},
		{"eclipse/fit", module + "/testdata/references", false},
		{"testdata/references", module + "/sun/timescale", false},
		{"testdata/references", "encoding/csv", true},
	} {
		if why := refuse(library, tt.room, tt.imp, rooms[tt.room]); (why == "") != tt.ok {
			t.Errorf("%s imports %s: %q, want allowed %t", tt.room, tt.imp, why, tt.ok)
		}
	}
}
