package session

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"strconv"
	"strings"
	"testing"
)

// Every code that a check finds has its sentence, with a place for each value,
// and no sentence is left over.
func TestEveryFindingHasItsSentence(t *testing.T) {
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	used := map[string]bool{}
	finds := map[string]int{"ready": 0, "look": 1, "open": 1, "stop": 1, "ring": 1, "worded": 0} // where the code stands
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".go") || strings.HasSuffix(f.Name(), "_test.go") {
			continue
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), f.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(parsed, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				name := ""
				switch fun := n.Fun.(type) {
				case *ast.SelectorExpr:
					if on, ok := fun.X.(*ast.Ident); ok && on.Name == "v" {
						name = fun.Sel.Name
					}
				case *ast.Ident:
					if fun.Name == "worded" {
						name = "worded"
					} else if fun.Name == "about" { // its values are put in later
						if code, is := literal(n.Args[0]); is {
							used[code] = true
						}
					}
				}
				at, known := finds[name]
				if !known || len(n.Args) <= at {
					return true
				}
				code, is := literal(n.Args[at])
				if !is {
					return true
				}
				used[code] = true
				words, there := says[code]
				if !there {
					t.Errorf("%s: %q has no sentence", f.Name(), code)
					return true
				}
				if given := len(n.Args) - at - 1; !n.Ellipsis.IsValid() && given != strings.Count(strings.ReplaceAll(words, "%%", ""), "%") {
					t.Errorf("%s: %q is given %d values for %q", f.Name(), code, given, words)
				}
			case *ast.ReturnStmt: // of a function that gives a code and its values
				if len(n.Results) == 2 {
					if code, is := literal(n.Results[0]); is && says[code] != "" {
						used[code] = true
						if list, ok := n.Results[1].(*ast.CompositeLit); ok && len(list.Elts) != strings.Count(says[code], "%") {
							t.Errorf("%s: %q is given %d values for %q", f.Name(), code, len(list.Elts), says[code])
						}
					}
				}
			case *ast.KeyValueExpr:
				key, ok := n.Key.(*ast.Ident)
				sign, isSign := n.Key.(*ast.SelectorExpr)
				if isSign {
					room, named := sign.X.(*ast.Ident)
					isSign = named && room.Name == "access" // a sign and its code
				}
				if ok && (key.Name == "code" || key.Name == "rinsed") || isSign {
					if code, is := literal(n.Value); is {
						used[code] = true
						if says[code] == "" {
							t.Errorf("%s: %q has no sentence", f.Name(), code)
						}
					}
				}
			}
			return true
		})
	}
	if len(used) < 50 {
		t.Fatalf("only %d codes found in the source", len(used))
	}
	for code := range says {
		if !used[code] {
			t.Errorf("nothing says %q", code)
		}
	}
}

func literal(e ast.Expr) (string, bool) {
	b, ok := e.(*ast.BasicLit)
	if !ok || b.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(b.Value)
	return text, err == nil
}
