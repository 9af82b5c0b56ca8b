package session

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// The program never says that something is safe, and never praises a dose.
func TestForbiddenWords(t *testing.T) {
	forbidden := regexp.MustCompile(`(?i)\bsafe|\bunsafe|ok to dial|normal dose|all well|nothing to worry`)
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	strings_ := 0
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".go") || strings.HasSuffix(f.Name(), "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), f.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				strings_++
				if forbidden.MatchString(lit.Value) {
					t.Errorf("%s says %s", f.Name(), lit.Value)
				}
			}
			return true
		})
	}
	if strings_ < 200 {
		t.Errorf("only %d strings were looked at", strings_)
	}
}

func TestThousands(t *testing.T) {
	for n, want := range map[int64]string{0: "0", 999: "999", 1000: "1\u00a0000", 10000: "10\u00a0000", 1234567: "1\u00a0234\u00a0567", -25000: "-25\u00a0000"} {
		if got := thousands(n); got != want {
			t.Errorf("%d written %q", n, got)
		}
	}
}

func TestAgo(t *testing.T) {
	for passed, want := range map[time.Duration]string{0: "just now", 59 * time.Second: "just now", time.Minute: "1\u00a0min ago", 75 * time.Minute: "1\u00a0h\u00a015\u00a0min ago"} {
		if got := ago(evening, evening.Add(passed)); got != want {
			t.Errorf("after %s: %q, want %q", passed, got, want)
		}
	}
}

func TestHoursText(t *testing.T) {
	for m, want := range map[unit.Minutes]string{0: "0\u00a0min", 45: "45\u00a0min", 60: "1\u00a0h", 267: "4\u00a0h\u00a027\u00a0min"} {
		if got := hoursText(m); got != want {
			t.Errorf("%d min written %q", m, got)
		}
	}
}

func TestWhoseLimits(t *testing.T) {
	for _, tt := range []struct {
		rx   Prescription
		want string
	}{
		{Prescription{Limits: Limits{SetBy: "Dr Lind", SetOn: date(t, "2026-03-03")}}, "set by Dr Lind on 3 March 2026"},
		{Prescription{OrderedBy: "Dr Moe", OrderedOn: date(t, "2026-02-01")}, "set by Dr Moe on 1 February 2026"},
		{Prescription{}, "set by your unit"},
	} {
		if got := setByUnit(&tt.rx); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
	if got := insideWords(nil); got != "inside the limits your unit set" {
		t.Error(got)
	}
}
