package house_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// loud lists what a library package must not do behind its caller's back: print,
// read the clock, look at the machine's zone or environment, end the process. The
// answer may depend on nothing but what was passed in.
var loud = map[string][]string{
	"fmt":  {"Print", "Printf", "Println", "Scan", "Scanf", "Scanln"},
	"os":   {"Stdout", "Stderr", "Stdin", "Exit", "Getenv", "LookupEnv", "Args"},
	"time": {"Now", "Since", "Until", "Local"},
}

func TestLibraryIsQuiet(t *testing.T) {
	for _, p := range listPackages(t) {
		if p.Name == "main" || isExample(p.ImportPath) || isForTests(p.ImportPath) {
			continue
		}
		for _, name := range p.GoFiles {
			for _, found := range loudness(t, filepath.Join(p.Dir, name), nil) {
				t.Error(found)
			}
		}
	}
}

// loudness lists the places in a file that use something in the table above; src
// is nil to read the file.
func loudness(t *testing.T, path string, src any) (found []string) {
	t.Helper()
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, path, src, parser.SkipObjectResolution)
	require.NoError(t, err)
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			if pkg, ok := n.X.(*ast.Ident); ok && slices.Contains(loud[pkg.Name], n.Sel.Name) {
				found = append(found, fset.Position(n.Pos()).String()+": "+pkg.Name+"."+n.Sel.Name)
			}
		case *ast.CallExpr:
			if f, ok := n.Fun.(*ast.Ident); ok && (f.Name == "print" || f.Name == "println") {
				found = append(found, fset.Position(n.Pos()).String()+": "+f.Name)
			}
		}
		return true
	})
	return found
}

// The check itself must be able to fail.
func TestLoudness(t *testing.T) {
	got := loudness(t, "x.go", `package x
import ("fmt"; "os"; "time")
func f() { fmt.Println(time.Now()); println(os.Args); fmt.Sprint(time.UTC) }`)
	if len(got) != 4 {
		t.Errorf("found %v, want fmt.Println, time.Now, println and os.Args", got)
	}
}
