package rooms

import (
	"go/ast"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// longest is how many lines a file of the program may have.
const longest = 500

// longer lists the files that may be longer, each with the reason.
var longer = map[string]string{}

func TestNoFileIsTooLong(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range parsed(t) {
		if s.test || s.lines <= longest {
			continue
		}
		seen[s.path] = true
		if longer[s.path] == "" {
			t.Errorf("%s has %d lines, more than %d: one file holds one subject", s.path, s.lines, longest)
		}
	}
	for p := range longer {
		if !seen[p] {
			t.Errorf("%s is listed as long and is not", p)
		}
	}
}

// vague are names that say nothing about what a room is for.
var vague = []string{
	"util", "utils", "model", "models", "service", "services", "helper", "helpers", "common", "misc", "shared", "base", "lib",
	"types", "core", "manager", "managers", "interfaces",
}

func TestNoVagueNames(t *testing.T) {
	for _, s := range parsed(t) {
		names := append(strings.Split(s.dir, "/"), s.name, strings.TrimSuffix(path.Base(s.path), ".go"))
		for _, n := range names {
			if slices.Contains(vague, strings.TrimSuffix(n, "_test")) {
				t.Errorf("%s: %q says nothing about what is in it", s.path, n)
			}
		}
	}
}

// TestEveryFileIsTested: every file that holds a function has a test file or a
// script of its name, or holds something that the tests of its package come to:
// a name they mention, or one mentioned by what they mention, and so on.
func TestEveryFileIsTested(t *testing.T) {
	byDir := map[string][]source{}
	for _, s := range parsed(t) {
		byDir[s.dir] = append(byDir[s.dir], s)
	}
	for dir, all := range byDir {
		if isAid(dir) {
			continue
		}
		reached := reachedByTests(all)
		for _, s := range all {
			if s.test || ofOneSystem(s.path) || twin(s.path) {
				continue
			}
			own := functions(s)
			if len(own) > 0 && !slices.ContainsFunc(own, func(name string) bool { return reached[name] }) {
				t.Errorf("%s has no test: neither %s_test.go, nor does a test of its package come to any of %s",
					s.path, strings.TrimSuffix(path.Base(s.path), ".go"), strings.Join(own, ", "))
			}
		}
	}
}

// reachedByTests follows names through one package, from its tests and from
// what runs before them.
func reachedByTests(all []source) map[string]bool {
	tested := slices.ContainsFunc(all, func(s source) bool { return s.test })
	if !tested {
		return nil
	}
	says := map[string][]string{} // a declared name → the names in it
	var next []string
	for _, s := range all {
		for _, d := range s.tree.Decls {
			f, isFunc := d.(*ast.FuncDecl)
			switch {
			case s.test, isFunc && f.Name.Name == "init", !isFunc:
				next = append(next, names(d)...)
			default:
				says[f.Name.Name] = append(says[f.Name.Name], names(f)...)
			}
		}
	}
	reached := map[string]bool{}
	for len(next) > 0 {
		name := next[len(next)-1]
		next = next[:len(next)-1]
		if !reached[name] {
			reached[name] = true
			next = append(next, says[name]...)
		}
	}
	return reached
}

func names(n ast.Node) []string {
	var list []string
	if f, ok := n.(*ast.FuncDecl); ok && f.Body != nil {
		n = f.Body // its own name is no mention of it
	}
	ast.Inspect(n, func(n ast.Node) bool {
		if id, ok := n.(*ast.Ident); ok {
			list = append(list, id.Name)
		}
		return true
	})
	return list
}

// functions lists the functions and methods of a file that a caller names.
func functions(s source) []string {
	var list []string
	for _, d := range s.tree.Decls {
		if f, ok := d.(*ast.FuncDecl); ok && !slices.Contains([]string{"init", "main", "String", "Error", "Unwrap"}, f.Name.Name) {
			list = append(list, f.Name.Name)
		}
	}
	return list
}

// ofOneSystem reports whether a file is built for one system only; its tests are
// those of the file it stands in for.
func ofOneSystem(p string) bool {
	for _, system := range []string{"_linux", "_unix", "_windows", "_darwin", "_other"} {
		if strings.HasSuffix(strings.TrimSuffix(p, ".go"), system) {
			return true
		}
	}
	return false
}

func twin(p string) bool {
	stem := strings.TrimSuffix(path.Base(p), ".go")
	for _, other := range []string{stem + "_test.go", "testdata/" + stem + ".txtar"} {
		if _, err := os.Stat(filepath.Join(top, path.Dir(p), other)); err == nil {
			return true
		}
	}
	return false
}

// TestNoTestSkips: a test that can be passed over proves nothing on the day it
// is needed. (A property test that draws anew is another thing: what skips
// there is not a testing.T.)
func TestNoTestSkips(t *testing.T) {
	for _, s := range parsed(t) {
		if s.test || isAid(s.dir) {
			ast.Walk(skips{complain: t.Errorf}, s.tree)
		}
	}
}

// skips walks the functions of a test file and knows which names in them are
// tests.
type skips struct {
	tests    []string
	complain func(format string, args ...any)
}

func (v skips) Visit(n ast.Node) ast.Visitor {
	switch n := n.(type) {
	case *ast.FuncDecl:
		return v.within(n.Type)
	case *ast.FuncLit:
		return v.within(n.Type)
	case *ast.SelectorExpr:
		p, ok := n.X.(*ast.Ident)
		if ok && slices.Contains(v.tests, p.Name) && slices.Contains([]string{"Skip", "Skipf", "SkipNow"}, n.Sel.Name) {
			v.complain("%s: %s.%s", at(n), p.Name, n.Sel.Name)
		}
	}
	return v
}

func (v skips) within(f *ast.FuncType) skips {
	inner := slices.Clone(v.tests)
	for _, field := range f.Params.List {
		for _, name := range field.Names {
			inner = slices.DeleteFunc(inner, func(one string) bool { return one == name.Name })
			if star, ok := field.Type.(*ast.StarExpr); ok {
				if sel, ok := star.X.(*ast.SelectorExpr); ok {
					if p, ok := sel.X.(*ast.Ident); ok && p.Name == "testing" {
						inner = append(inner, name.Name)
					}
				}
			}
		}
	}
	v.tests = inner
	return v
}
