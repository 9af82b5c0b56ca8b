package rooms

import (
	"go/ast"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// testName is how a page names the test that proves what it says.
var testName = regexp.MustCompile(`\b(?:Test|Fuzz|Benchmark|Example)[A-Z][A-Za-z0-9_]*`)

// scriptName is how it names a script of the command line.
var scriptName = regexp.MustCompile("`([a-z0-9_/]*testdata/[a-z0-9_]+\\.txtar)`")

// TestNamedTestsExist: every test that a page names is there.
func TestNamedTestsExist(t *testing.T) {
	tests := map[string]bool{}
	for _, s := range parsed(t) {
		if !s.test {
			continue
		}
		for _, d := range s.tree.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && f.Recv == nil {
				tests[f.Name.Name] = true
			}
		}
	}
	named := 0
	pages(t, func(p, text string) {
		for _, name := range testName.FindAllString(text, -1) {
			named++
			if !tests[name] {
				t.Errorf("%s names %s, which is not there", p, name)
			}
		}
		for _, script := range scriptName.FindAllStringSubmatch(text, -1) {
			named++
			if _, err := os.Stat(filepath.Join(top, script[1])); err != nil {
				t.Errorf("%s names %s, which is not there", p, script[1])
			}
		}
	})
	if named == 0 {
		t.Error("no page names any test")
	}
}

// TestHazardsAreControlled: each row of the table of hazards says what is done
// about it and names a test that proves it.
func TestHazardsAreControlled(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(top, "docs/hazards.md"))
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for i, line := range strings.Split(string(text), "\n") {
		if !hazardRow.MatchString(line) {
			continue
		}
		rows++
		if !testName.MatchString(line) && !scriptName.MatchString(line) {
			t.Errorf("docs/hazards.md, line %d: no test is named for %s", i+1, strings.TrimSpace(strings.Split(line, "|")[1]))
		}
	}
	if rows < 30 {
		t.Errorf("docs/hazards.md has only %d rows", rows)
	}
}

// hazardRow begins a row of the table: a letter and a number, "H-19".
var hazardRow = regexp.MustCompile(`^\|\s*[A-Z]-?\d+[a-z]?\s*\|`)

// link is a link inside a page to a file of the tree.
var link = regexp.MustCompile(`\]\(([^)#\s]+)[^)]*\)`)

// TestLinksLead: a link from one page to another file of the tree finds it.
func TestLinksLead(t *testing.T) {
	pages(t, func(p, text string) {
		for _, m := range link.FindAllStringSubmatch(text, -1) {
			if strings.Contains(m[1], "://") || strings.HasPrefix(m[1], "mailto:") {
				continue
			}
			if _, err := os.Stat(filepath.Join(top, path.Dir(p), m[1])); err != nil {
				t.Errorf("%s leads to %s, which is not there", p, m[1])
			}
		}
	})
}

// pages calls f for every written page of the project.
func pages(t *testing.T, f func(path, text string)) {
	t.Helper()
	n := 0
	err := walk(func(p string) error {
		if path.Ext(p) != ".md" {
			return nil
		}
		n++
		text, err := os.ReadFile(filepath.Join(top, p))
		f(p, string(text))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if n < 5 {
		t.Fatalf("only %d pages found", n)
	}
}
