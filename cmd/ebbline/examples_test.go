package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// An example is one command of a page and what the page says it prints.
type example struct {
	line    int
	command string
	want    string
}

// examples reads the console blocks of a page: a command behind "$ ", and below
// it what it prints on both outputs.
func examples(page string) []example {
	var list []example
	inside := false
	for i, line := range strings.Split(page, "\n") {
		switch {
		case strings.HasPrefix(line, "```"):
			inside = line == "```console"
		case !inside:
		case strings.HasPrefix(line, "$ "):
			list = append(list, example{line: i + 1, command: line[2:]})
		case len(list) > 0:
			list[len(list)-1].want += line + "\n"
		}
	}
	return list
}

// matches compares an output with what a page says; a line of three points
// stands for any lines.
func matches(want, got string) bool {
	var pattern strings.Builder
	for line := range strings.Lines(want) {
		if line == "...\n" {
			pattern.WriteString(`(?:.*\n)*`)
		} else {
			pattern.WriteString(regexp.QuoteMeta(line))
		}
	}
	return regexp.MustCompile(`^` + pattern.String() + `$`).MatchString(got)
}

// TestExamplesOfPages runs every example of the written pages, in their order,
// as somebody would who stands in a fresh clone.
func TestExamplesOfPages(t *testing.T) {
	for page, least := range map[string]int{"../../README.md": 1, "../../docs/commands.md": 12} {
		t.Run(filepath.Base(page), func(t *testing.T) {
			text, err := os.ReadFile(page)
			if err != nil {
				t.Fatal(err)
			}
			all := examples(string(text))
			if len(all) < least {
				t.Fatalf("only %d examples found", len(all))
			}
			clone := t.TempDir()
			if err := os.CopyFS(filepath.Join(clone, "docs/examples"), os.DirFS("../../docs/examples")); err != nil {
				t.Fatal(err)
			}
			for _, ex := range all {
				cmd := exec.Command("sh", "-c", ex.command)
				cmd.Dir = clone
				cmd.Env = append(os.Environ(), "TZ=Europe/Lisbon", "EBBLINE_FILE="+clone+"/household.ebb", "EBBLINE_ZONE=")
				got, _ := cmd.CombinedOutput() // a refusal is an example too: its words are compared
				if !matches(ex.want, string(got)) {
					t.Errorf("%s:%d: $ %s\nprints\n%s\nand the page says\n%s", page, ex.line, ex.command, got, ex.want)
				}
			}
		})
	}
}

func TestMatches(t *testing.T) {
	for _, tt := range []struct {
		want, got string
		ok        bool
	}{
		{"a\nb\n", "a\nb\n", true},
		{"a\n...\nd\n", "a\nb\nc\nd\n", true},
		{"a\n...\n", "a\n", true},
		{"a\nb\n", "a\n", false},
		{"a\n", "a\nb\n", false},
		{"a.c\n", "abc\n", false},
	} {
		if matches(tt.want, tt.got) != tt.ok {
			t.Errorf("matches(%q, %q) = %v", tt.want, tt.got, !tt.ok)
		}
	}
}
