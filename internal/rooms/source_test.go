package rooms

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
)

// top is the folder of the module, seen from this one.
const top = "../.."

const module = "ebbline"

// A source is one Go file of the module.
type source struct {
	path  string // from the top, with forward slashes
	dir   string // its package's folder, likewise
	name  string // of the package
	test  bool
	lines int
	tree  *ast.File
}

var files = token.NewFileSet()

// sources parses every Go file of the module, once.
var sources = sync.OnceValues(func() ([]source, error) {
	var all []source
	err := walk(func(p string) error {
		if path.Ext(p) != ".go" {
			return nil
		}
		text, err := os.ReadFile(filepath.Join(top, p))
		if err != nil {
			return err
		}
		tree, err := parser.ParseFile(files, p, text, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		all = append(all, source{
			path: p, dir: path.Dir(p), name: tree.Name.Name,
			test:  strings.HasSuffix(p, "_test.go"),
			lines: strings.Count(string(text), "\n"),
			tree:  tree,
		})
		return nil
	})
	return all, err
})

// walk calls f for every file of the module: not for other modules inside it,
// nor for what tests read, nor for what is hidden.
func walk(f func(path string) error) error {
	return filepath.WalkDir(top, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(top, p)
		if err != nil {
			return err
		}
		if !d.IsDir() {
			return f(filepath.ToSlash(rel))
		}
		if rel == "." {
			return nil
		}
		if strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata" || d.Name() == "node_modules" {
			return fs.SkipDir
		}
		if _, err := os.Stat(filepath.Join(p, "go.mod")); err == nil {
			return fs.SkipDir
		}
		return nil
	})
}

// parsed gives all Go files and fails when there are hardly any, for then the
// rules would hold of nothing.
func parsed(t *testing.T) []source {
	t.Helper()
	all, err := sources()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 50 {
		t.Fatalf("only %d Go files found; the rules would be held against nothing", len(all))
	}
	return all
}

// imports lists what a file imports.
func (s source) imports() []string {
	var list []string
	for _, i := range s.tree.Imports {
		if p, err := strconv.Unquote(i.Path.Value); err == nil {
			list = append(list, p)
		}
	}
	return list
}

// at says where something stands, for a complaint.
func at(n ast.Node) token.Position { return files.Position(n.Pos()) }

// texts calls f for every text in the code of a file; import paths and the tags
// of structs are no texts.
func (s source) texts(f func(at token.Position, text string)) {
	no := map[*ast.BasicLit]bool{}
	ast.Inspect(s.tree, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ImportSpec:
			no[n.Path] = true
		case *ast.Field:
			no[n.Tag] = true
		case *ast.BasicLit:
			if n.Kind == token.STRING && !no[n] {
				if text, err := strconv.Unquote(n.Value); err == nil {
					f(at(n), text)
				}
			}
		}
		return true
	})
}

// TestNothingExportedCanBeSet: what a package gives to others is a type, a
// function or a constant, never a variable that anybody could set for all. An
// error to compare with is the one exception.
func TestNothingExportedCanBeSet(t *testing.T) {
	functions := 0
	for _, s := range parsed(t) {
		if s.test {
			continue
		}
		for _, d := range s.tree.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && f.Name.IsExported() {
				functions++
			}
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != token.VAR {
				continue
			}
			for _, spec := range g.Specs {
				for _, name := range spec.(*ast.ValueSpec).Names {
					if name.IsExported() && !strings.HasPrefix(name.Name, "Err") {
						t.Errorf("%s exports the variable %s: make it a function or a constant", s.path, name.Name)
					}
				}
			}
		}
	}
	if functions < 100 {
		t.Errorf("only %d exported functions were seen", functions)
	}
}
