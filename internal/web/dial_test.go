package web

import (
	"io/fs"
	"strings"
	"testing"
)

// No page dials a number as it was typed: each link asks what a telephone dials.
func TestEveryNumberIsDialledByOneRule(t *testing.T) {
	names, err := fs.Glob(files, "pages/*.html")
	if err != nil {
		t.Fatal(err)
	}
	links := 0
	for _, name := range names {
		text, err := files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		parts := strings.Split(string(text), `href="tel:`)
		for i, link := range parts[1:] {
			links++
			if !strings.HasPrefix(link, `{{.Dial}}"`) && !(strings.HasPrefix(link, `{{.}}"`) && strings.HasSuffix(parts[i], `{{with .Dial}} `)) {
				t.Errorf("%s dials %.30s", name, link)
			}
		}
	}
	if links < 4 {
		t.Errorf("only %d links are looked at", links)
	}
}
