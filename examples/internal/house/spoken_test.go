package house_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every exported name of the library is spoken of: a function, method or type has a
// comment; so has a constant or variable, or the group that it stands in; and so has a
// field, unless another comment of its struct names it.
func TestEveryNameIsSpokenOf(t *testing.T) {
	for _, p := range listPackages(t) {
		if p.Name == "main" || strings.Contains(p.ImportPath, "/internal/") || isExample(p.ImportPath) {
			continue
		}
		for _, name := range p.GoFiles {
			for _, mute := range unspoken(t, filepath.Join(p.Dir, name), nil) {
				t.Errorf("%s has no comment", mute)
			}
		}
	}
}

// unspoken lists the exported names of a file that no comment speaks of; src is nil to
// read the file.
func unspoken(t *testing.T, path string, src any) (mute []string) {
	t.Helper()
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, path, src, parser.ParseComments|parser.SkipObjectResolution)
	require.NoError(t, err)
	missing := func(name *ast.Ident, of string) {
		if name.IsExported() {
			mute = append(mute, fset.Position(name.Pos()).String()+": "+of+name.Name)
		}
	}
	for _, d := range file.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Doc == nil && ofExported(d.Recv) {
				missing(d.Name, "")
			}
		case *ast.GenDecl:
			for _, s := range d.Specs {
				unspokenSpec(s, d.Doc, missing)
			}
		}
	}
	return mute
}

// ofExported says that a function has no receiver, or one that others can name.
func ofExported(recv *ast.FieldList) bool {
	if recv == nil {
		return true
	}
	kind := recv.List[0].Type
	if p, ok := kind.(*ast.StarExpr); ok {
		kind = p.X
	}
	name, ok := kind.(*ast.Ident)
	return ok && name.IsExported()
}

// unspokenSpec reports what a declaration leaves without a comment; group is that of all
// that is declared with it.
func unspokenSpec(s ast.Spec, group *ast.CommentGroup, missing func(name *ast.Ident, of string)) {
	switch s := s.(type) {
	case *ast.ValueSpec:
		for _, name := range s.Names {
			if s.Doc == nil && s.Comment == nil && group == nil {
				missing(name, "")
			}
		}
	case *ast.TypeSpec:
		if !s.Name.IsExported() {
			return
		}
		if s.Doc == nil && group == nil {
			missing(s.Name, "")
		}
		body, ok := s.Type.(*ast.StructType)
		if !ok {
			return
		}
		text := group.Text() + s.Doc.Text()
		for _, f := range body.Fields.List {
			text += f.Doc.Text() + f.Comment.Text()
		}
		for _, f := range body.Fields.List {
			for _, name := range f.Names {
				if f.Doc == nil && f.Comment == nil && !regexp.MustCompile(`\b`+name.Name+`\b`).MatchString(text) {
					missing(name, s.Name.Name+".")
				}
			}
		}
	}
}

// The check itself must be able to fail.
func TestUnspoken(t *testing.T) {
	got := unspoken(t, "x.go", `package x

// A Said has a comment. Its B is named here.
type Said struct {
	A int // has its own
	B int
	C int
	d int
}

func (s Said) Mute() {}
func (s hidden) Method() {}

type Bare int

// A group.
const (
	One = iota
	Two
)

var Loose = 1
`)
	if len(got) != 4 {
		t.Errorf("found %q, want Said.C, Mute, Bare and Loose", got)
	}
}
