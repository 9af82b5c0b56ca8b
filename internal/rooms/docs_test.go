package rooms

import (
	"fmt"
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

// TestNamedTestsExist: every test that a page, or the script of all checks, names
// is there.
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
	look := func(p, text string) {
		for _, name := range testName.FindAllString(text, -1) {
			named++
			if !tests[name] {
				t.Errorf("%s names %s, which is not there", p, name)
			}
		}
	}
	script, err := os.ReadFile(filepath.Join(top, "check"))
	if err != nil {
		t.Fatal(err)
	}
	if look("check", string(script)); named == 0 {
		t.Error("the script of all checks names no test that is left out with the race detector")
	}
	pages(t, func(p, text string) {
		look(p, text)
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

// TestHazardsAreControlled: each row of the tables of hazards says what is done
// about it and names a test that holds it, or says "not yet".
func TestHazardsAreControlled(t *testing.T) {
	more, err := filepath.Glob(filepath.Join(top, "docs/hazards.d/*.md"))
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string]string{} // id → where it stands
	for _, p := range append([]string{filepath.Join(top, "docs/hazards.md")}, more...) {
		text, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		for i, line := range strings.Split(string(text), "\n") {
			if !hazardRow.MatchString(line) {
				continue
			}
			where := fmt.Sprintf("%s:%d", filepath.ToSlash(p), i+1)
			cells := strings.Split(strings.Trim(line, "| "), "|")
			id := strings.TrimSpace(cells[0])
			if other := rows[id]; other != "" {
				t.Errorf("%s: %s stands at %s already", where, id, other)
			}
			rows[id] = where
			if len(cells) < 3 || strings.TrimSpace(cells[1]) == "" || strings.TrimSpace(cells[2]) == "" {
				t.Errorf("%s: %s does not say what can go wrong and what is done", where, id)
			}
			if !testName.MatchString(line) && !scriptName.MatchString(line) && !strings.Contains(strings.ToLower(line), "not yet") {
				t.Errorf("%s: %s names no test and does not say “not yet”", where, id)
			}
		}
	}
	for n := 1; n <= 144; n++ { // of the analysis
		if id := fmt.Sprintf("H-%02d", n); rows[id] == "" {
			t.Errorf("%s stands in no table of hazards", id)
		}
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

// fileName is how a page names a file of the program.
var fileName = regexp.MustCompile("`((?:internal/|cmd/)?[a-z]+/[a-z_]+\\.go)`")

// TestNamedFilesExist: every file that docs/architecture.md names is there, and there are
// some.
func TestNamedFilesExist(t *testing.T) {
	page, err := os.ReadFile("../../docs/architecture.md")
	if err != nil {
		t.Fatal(err)
	}
	named := fileName.FindAllStringSubmatch(string(page), -1)
	if len(named) < 30 {
		t.Errorf("only %d files are named", len(named))
	}
	for _, one := range named {
		if _, err := os.Stat(filepath.Join("../..", one[1])); err != nil {
			t.Errorf("docs/architecture.md names a file that is not there: %s", one[1])
		}
	}
}
