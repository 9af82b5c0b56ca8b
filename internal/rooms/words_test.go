package rooms

import (
	"go/token"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// promises are words that a page or a command must not say of a session or a
// number: the program watches over nobody and prescribes nothing.
var promises = regexp.MustCompile(`(?i)\b(` + strings.Join([]string{
	`(is|are|be|was|were|now|perfectly|completely) safe`,
	`safe (to|for you|level|dose|rate|limit)s?`,
	`ok(ay)? to (dialyse|start|go on|needle)`,
	`(normal|recommended|usual|suggested|correct|right|standard) doses?`,
	`we (recommend|advise|suggest)`,
	`you should (take|inject|increase|reduce|lower|raise)`,
	`(increase|reduce|lower|raise|change) (the|your) (dose|dry weight)`,
	`nothing to worry`,
}, "|") + `)\b`)

// named are words of the trade that hold one of the above without promising
// anything.
var named = []string{
	"standard Kt/V",
}

func promised(text string) string {
	for _, word := range named {
		text = strings.ReplaceAll(text, word, "")
	}
	return promises.FindString(strings.Join(strings.Fields(text), " "))
}

// TestNoPromises reads every text of the code, the templates and the scripts of
// the pages.
func TestNoPromises(t *testing.T) {
	for _, s := range parsed(t) {
		if s.test {
			continue
		}
		s.texts(func(at token.Position, text string) {
			if word := promised(text); word != "" {
				t.Errorf("%s says %q", at, word)
			}
		})
	}
	pages := 0
	err := walk(func(p string) error {
		if !slices.Contains([]string{".html", ".tmpl", ".js", ".ts", ".svg", ".txt"}, path.Ext(p)) {
			return nil
		}
		pages++
		text, err := os.ReadFile(filepath.Join(top, p))
		if word := promised(string(text)); word != "" {
			t.Errorf("%s says %q", p, word)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if pages < 3 {
		t.Errorf("only %d pages found", pages)
	}
}

func TestPromisesAreSeen(t *testing.T) {
	for text, want := range map[string]bool{
		"This rate is safe.":                              true,
		"It is now safe\n  to start":                      true,
		"OK to dialyse":                                   true,
		"The recommended dose is 2000 IU":                 true,
		"Lower the dry weight by 0.5 kg":                  true,
		"inside the limits your unit set on 3 March":      false,
		"Ask your unit whether the dry weight still fits": false,
		"a standard Kt/V of 2.1":                          false,
		"the heparin dose that was prescribed":            false,
	} {
		if got := promised(text) != ""; got != want {
			t.Errorf("%q: seen %v, want %v", text, got, want)
		}
	}
}
