package calc

import (
	"bytes"
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the pages that are made from code")

// TestFormulasAreHeld checks each line, and that every test it names stands in
// the room it names.
func TestFormulasAreHeld(t *testing.T) {
	inRoom := testsOfTheTree(t)
	names := map[string]bool{}
	for _, f := range Formulas() {
		if f.Name == "" || f.Formula == "" || f.Takes == "" || f.Source == "" || !slices.Contains(standings, f.Standing) {
			t.Errorf("the line of %q (%s) is not whole", f.Name, f.Room)
		}
		if names[f.Room+f.Name] {
			t.Errorf("%q stands twice", f.Name)
		}
		names[f.Room+f.Name] = true
		if len(f.Tests) == 0 {
			t.Errorf("no test holds %q", f.Name)
		}
		for _, name := range f.Tests {
			if !inRoom[f.Room][name] {
				t.Errorf("%q is said to be held by %s, which is not in %s", f.Name, name, f.Room)
			}
		}
	}
	if len(names) < 40 {
		t.Errorf("only %d formulas are listed", len(names))
	}
	for _, v := range OutsideValues() {
		if v.ID == "" || v.Quantity == "" || v.Expected == "" || v.Source == "" || v.Provenance == "" {
			t.Errorf("the value from outside %q is not whole", v.ID)
		}
		if !inRoom[v.Room][v.Test] {
			t.Errorf("%s is said to be held by %s, which is not in %s", v.ID, v.Test, v.Room)
		}
	}
}

// TestScienceIsCurrent compares docs/science.md with what it is made from.
func TestScienceIsCurrent(t *testing.T) {
	var want bytes.Buffer
	if err := WriteScience(&want); err != nil {
		t.Fatal(err)
	}
	page := filepath.Join("..", "..", "docs", "science.md")
	if *update {
		if err := os.WriteFile(page, want.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	got, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want.Bytes()) {
		t.Errorf("%s is not current; make it again with: go generate ./internal/calc", page)
	}
}

// testsOfTheTree lists the tests of every package, by its folder.
func testsOfTheTree(t *testing.T) map[string]map[string]bool {
	t.Helper()
	root := filepath.Join("..", "..")
	tests := map[string]map[string]bool{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if name := d.Name(); name == "testdata" || name == "node_modules" || (strings.HasPrefix(name, ".") && path != root) {
				return fs.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(path, "_test.go") {
			return nil
		}
		room, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, decl := range file.Decls {
			f, ok := decl.(*ast.FuncDecl)
			if !ok || f.Recv != nil || !strings.HasPrefix(f.Name.Name, "Test") {
				continue
			}
			room := filepath.ToSlash(room)
			if tests[room] == nil {
				tests[room] = map[string]bool{}
			}
			tests[room][f.Name.Name] = true
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(tests["kinetics"]) == 0 {
		t.Fatal("no tests were found in the tree")
	}
	return tests
}
