package rooms

import (
	"go/ast"
	"path"
	"slices"
	"strings"
	"testing"
)

// rows is the rule of direction: a room imports only rooms of a lower row. A
// folder inside a room belongs to it.
var rows = map[string]int{
	"unit": 0, "trend": 0,
	"fluid": 1, "kinetics": 1, "access": 1, "water": 1, "stock": 1,
	"session": 2,
	"record":  3,
	"report":  4, "exchange": 4, "internal/journal": 4,
	"internal/household": 5,
	"internal/web":       6, "internal/calc": 6, "internal/simulate": 6,
	"cmd/ebbline": 7,
}

// aids hold nothing of the program: only tests import them, and they may
// import any room.
var aids = []string{"internal/rooms", "internal/browsertest", "internal/invented", "internal/kineticsbench", "internal/quiet", "report/internal/golden"}

// outside says which rooms may use a module of somebody else's in the program
// itself. Tests may use any.
var outside = map[string][]string{
	"codeberg.org/go-pdf/fpdf": {"report"},
	"golang.org/x/crypto":      {"internal/journal"},
	"golang.org/x/term":        {"cmd/ebbline"},
	"golang.org/x/sys":         {"internal/journal", "cmd/ebbline"},
	"golang.org/x/text":        {"stock"},
	"gonum.org/v1/gonum":       {"kinetics", "trend", "fluid", "stock", "internal/simulate"},
	"rsc.io/qr":                {"internal/web"},
	"modernc.org/sqlite":       {"internal/journal"},
}

// world is what only internal/ and cmd/ may import.
var world = []string{
	"os", "os/exec", "os/signal", "os/user", "net", "net/http", "net/url", "syscall", "io/ioutil", "path/filepath",
	"math/rand", "math/rand/v2", "crypto/rand", "database/sql", "log", "log/slog", "plugin", "unsafe",
}

// clock is what of package time depends on when and where it is called.
var clock = []string{"Now", "Since", "Until", "Sleep", "After", "AfterFunc", "Tick", "NewTicker", "NewTimer", "Local"}

// room gives the room that a folder belongs to, and false for a folder that is
// in none.
func room(dir string) (string, bool) {
	for r := dir; r != "."; r = path.Dir(r) {
		if _, ok := rows[r]; ok {
			return r, true
		}
	}
	return "", false
}

func isAid(dir string) bool { return slices.Contains(aids, dir) }

// wrongImport says what is wrong with a file in one folder importing another
// of ours, or nothing.
func wrongImport(from, to string, test bool) string {
	switch {
	case isAid(from):
		return ""
	case isAid(to):
		if test {
			return ""
		}
		return "is for tests only"
	}
	mine, ok := room(from)
	if !ok {
		return "the importing folder stands in no row: give it one in internal/rooms, or put the file into a room"
	}
	theirs, ok := room(to)
	switch {
	case !ok:
		return "stands in no row"
	case mine == theirs, rows[theirs] < rows[mine]:
		return ""
	case test && theirs == "internal/simulate":
		return "" // a household with known truth is what many tests need
	case rows[theirs] == rows[mine]:
		return "goes sideways: both stand in the same row"
	}
	return "goes up"
}

func TestDirection(t *testing.T) {
	for _, s := range parsed(t) {
		if _, ok := room(s.dir); !ok && !isAid(s.dir) {
			t.Errorf("%s stands in no row", s.path)
			continue
		}
		for _, i := range s.imports() {
			if to, ours := strings.CutPrefix(i, module+"/"); ours {
				if wrong := wrongImport(s.dir, to, s.test); wrong != "" {
					t.Errorf("%s imports %s: %s", s.path, i, wrong)
				}
			}
		}
	}
}

// TestTheRuleOfDirection holds the rule itself against imports that do and do
// not keep it.
func TestTheRuleOfDirection(t *testing.T) {
	for _, tt := range []struct {
		from, to string
		test, ok bool
	}{
		{"session", "fluid", false, true},
		{"session", "unit", false, true},
		{"report/chart", "report/fonts", false, true},
		{"internal/web", "session", false, true},
		{"session", "internal/simulate", true, true},
		{"report/chart", "report/internal/golden", true, true},
		{"fluid", "session", false, false},
		{"fluid", "kinetics", false, false},
		{"unit", "trend", false, false},
		{"internal/web", "internal/calc", false, false},
		{"session", "internal/simulate", false, false},
		{"session", "internal/household", true, false},
		{"report/chart", "report/internal/golden", false, false},
		{"somewhere", "unit", false, false},
	} {
		if wrong := wrongImport(tt.from, tt.to, tt.test); (wrong == "") != tt.ok {
			t.Errorf("%s importing %s (test: %v): %q", tt.from, tt.to, tt.test, wrong)
		}
	}
}

func TestModulesOfOthers(t *testing.T) {
	for _, s := range parsed(t) {
		if s.test || isAid(s.dir) {
			continue
		}
		for _, i := range s.imports() {
			first, _, _ := strings.Cut(i, "/")
			if !strings.Contains(first, ".") {
				continue // the standard library, or ours
			}
			r, _ := room(s.dir)
			if !slices.ContainsFunc(moduleOf(i), func(m string) bool { return slices.Contains(outside[m], r) }) {
				t.Errorf("%s imports %s, which this room may not use", s.path, i)
			}
		}
	}
}

// moduleOf lists the modules of the table that an import belongs to.
func moduleOf(path string) []string {
	var in []string
	for m := range outside {
		if path == m || strings.HasPrefix(path, m+"/") {
			in = append(in, m)
		}
	}
	return in
}

// TestNothingOfTheWorld keeps clock, disk, network and chance out of the rooms
// that compute.
func TestNothingOfTheWorld(t *testing.T) {
	for _, s := range parsed(t) {
		if s.test || strings.HasPrefix(s.dir, "internal/") || strings.HasPrefix(s.dir, "cmd/") || isAid(s.dir) {
			continue
		}
		for _, i := range s.imports() {
			if slices.Contains(world, i) || strings.HasPrefix(i, "net/") {
				t.Errorf("%s imports %s: what it needs must be passed in", s.path, i)
			}
		}
		ast.Inspect(s.tree, func(n ast.Node) bool {
			if x, ok := n.(*ast.SelectorExpr); ok {
				if p, ok := x.X.(*ast.Ident); ok && p.Name == "time" && slices.Contains(clock, x.Sel.Name) {
					t.Errorf("%s: time.%s: the moment must be passed in", at(x), x.Sel.Name)
				}
			}
			return true
		})
	}
}
