package record

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ebbline/session"
)

var (
	wordRow  = regexp.MustCompile(`(?m)^\| ([^|]+) \| ([^|]+) \| ([^|]+) \|([^|]*)\|$`)
	wordCode = regexp.MustCompile("`([^`]+)`")
)

// inTable reports whether what the page of words names in code font is in the program: a
// kind, a key of one, a choice of a key, or a check of the start line.
func inTable(code string) bool {
	if id, is := strings.CutPrefix(code, "check:"); is {
		return session.CheckTitle(id) != id
	}
	name, choice, chosen := strings.Cut(code, "=")
	name, key, keyed := strings.Cut(name, ".")
	kind, ok := Find(name)
	if !ok || !keyed {
		return ok && !chosen
	}
	field, ok := kind.Field(key)
	if !ok || !chosen {
		return ok
	}
	return slices.ContainsFunc(field.Choices, func(c Choice) bool { return c.Value == choice })
}

// What docs/words.md names is in the program, each word once, and no label of the table has
// a name that is not taken.
func TestWordsAreInTheTable(t *testing.T) {
	for _, code := range []string{"no_such", "plan.no_such", "machine.kind=no_such", "check:no_such", "plan=batch"} {
		if inTable(code) {
			t.Errorf("%s is found", code)
		}
	}
	page, err := os.ReadFile("../docs/words.md")
	if err != nil {
		t.Fatal(err)
	}
	var labels []string
	for _, k := range Kinds() {
		labels = append(labels, k.Title, k.Doc)
		for _, f := range k.Fields {
			labels = append(labels, f.Label, f.Doc)
			for _, c := range f.Choices {
				labels = append(labels, c.Label)
			}
		}
	}
	_, tables, _ := strings.Cut(string(page), "\n## ")
	words, codes := map[string]bool{}, 0
	for _, row := range wordRow.FindAllStringSubmatch(tables, -1) {
		word, where := row[1], wordCode.FindAllStringSubmatch(row[3], -1)
		if word == "word" || strings.HasPrefix(word, "---") {
			continue
		}
		if words[word] {
			t.Errorf("%s stands there twice", word)
		}
		words[word] = true
		if len(where) == 0 {
			t.Errorf("%s: not said where it is written", word)
		}
		for _, code := range where {
			codes++
			if !inTable(code[1]) {
				t.Errorf("%s: %s is not in the program", word, code[1])
			}
		}
		for other := range strings.SplitSeq(row[4], ",") {
			if other = strings.TrimSpace(other); other == "" {
				continue
			}
			is := regexp.MustCompile(`(?i)\b` + regexp.QuoteMeta(other) + `s?\b`)
			for _, label := range labels {
				if is.MatchString(label) {
					t.Errorf("%q is called %s in %q", word, other, label)
				}
			}
		}
	}
	if len(words) < 45 || codes < 90 {
		t.Errorf("%d words and %d codes found", len(words), codes)
	}
}
