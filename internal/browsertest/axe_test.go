//go:build browser

package browsertest

import (
	"fmt"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"ebbline/record"
)

// A fault is what axe finds in a page.
type fault struct {
	ID, Impact, Help string
	At               []string
}

// only are the rules whose outcome changes with theme and width alone.
const only = `{runOnly: ["color-contrast", "target-size", "scrollable-region-focusable", "link-in-text-block"], ` + faultsOnly + `}`

// faultsOnly spares axe what nobody looks at: a list of all that is right, and a
// selector for each thing that is wrong.
const faultsOnly = `resultTypes: ["violations"], selectors: false`

// sees lets axe look at the page as it stands: by day and at night, on a
// telephone and on a desk. It looks from the top, since the line of what stops
// stays in sight: further down it lies over half of some button until one scrolls.
func (s *screen) sees(name string) {
	s.t.Helper()
	source, err := axe()
	if err != nil {
		s.t.Fatal(err)
	}
	eval[bool](s, source+"\n;true")
	for _, look := range []struct {
		theme   string
		width   int64
		options string
	}{
		{"day", phoneW, `{` + faultsOnly + `}`}, {"night", phoneW, only}, {"night", deskW, `{` + faultsOnly + `}`}, {"day", deskW, only},
	} {
		height := int64(phoneH)
		if look.width == deskW {
			height = deskH
		}
		s.size(look.width, height)
		eval[bool](s, `document.documentElement.dataset.theme = `+quoted(look.theme)+`, scrollTo({top: 0, behavior: "instant"}), true`)
		found := awaited[[]fault](s, `axe.run(document, `+look.options+`).then(r => r.violations.map(v => ({ID: v.id, Impact: v.impact, Help: v.help, At: v.nodes.map(n => n.html.slice(0, 160) + " · " + (n.any[0] ? n.any[0].message : "").slice(0, 160))})))`)
		for _, f := range found {
			s.t.Errorf("%s, %s, %d wide: %s (%s)\n    %s", name, look.theme, look.width, f.ID, f.Help, strings.Join(f.At[:min(len(f.At), 4)], "\n    "))
		}
		s.shot(fmt.Sprintf("%s-%s-%d", name, look.theme, look.width))
	}
	s.looked++
}

// numbered are the parts of an address that name one thing of many: a session,
// an entry, an item, a day, what a query asks for.
var numbered = regexp.MustCompile(`(/(?:session|entry|strike|prescription|kept|item|done|count|recall|sample|analyte|range|bloods)/)[^/?]+|(=)[^&]*`)

// crawl follows every link of the pages from an address on, and looks at two
// pages of each sort.
func (s *screen) crawl(name, from string) {
	s.t.Helper()
	todo, visited, seen := []string{from}, map[string]bool{}, map[string]int{}
	for len(todo) > 0 {
		at := todo[0]
		todo = todo[1:]
		sort := numbered.ReplaceAllString(at, "$1$2…")
		if visited[at] || seen[sort] == 2 {
			continue
		}
		visited[at] = true
		seen[sort]++
		s.open(at)
		if status := eval[int](s, `performance.getEntriesByType("navigation")[0].responseStatus`); status != 200 {
			s.t.Errorf("%s: %s leads to %d: %s", name, at, status, strings.Join(strings.Fields(s.words()), " "))
			continue
		}
		s.sees(name + strings.Map(func(r rune) rune {
			if strings.ContainsRune("/?&=…:%", r) {
				return '_'
			}
			return r
		}, strings.ReplaceAll(sort, vida, "")) + strings.Repeat("-2", seen[sort]-1))
		for _, link := range eval[[]string](s, `[...document.querySelectorAll("a[href]")].map(a => a.href)`) {
			u, err := url.Parse(link)
			if err != nil {
				s.t.Errorf("%s: %s has the link %q", name, at, link)
				continue
			}
			path := u.EscapedPath() // an item may have a stroke in its name
			if u.RawQuery != "" {
				path += "?" + u.RawQuery
			}
			if u.Scheme+"://"+u.Host == s.house.wire.url() && !strings.Contains(u.Path[strings.LastIndex(u.Path, "/")+1:], ".") {
				todo = append(todo, path)
			}
		}
	}
}

// No page that a link leads to has a fault that axe knows, by day or at night,
// on a telephone or a desk.
func TestAxeOnEveryPage(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	s := newScreen(t, h, "axe", phoneW, phoneH)
	s.crawl("home", "/")
	t.Logf("%d pages were looked at, each in four ways", s.looked)
	if s.looked < 100 {
		t.Errorf("only %d pages were looked at", s.looked)
	}
}

// Nor has the form of any kind of entry of a session.
func TestAxeOnEveryForm(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	s := newScreen(t, h, "form", phoneW, phoneH)
	base := h.begun()
	for _, k := range record.Kinds() {
		if !k.Session || k.Name == "session_opened" {
			continue
		}
		s.open(base + "/" + k.Name)
		s.sees("form-" + k.Name)
	}
	if s.looked < 40 {
		t.Errorf("only %d forms were looked at", s.looked)
	}
}

// Nor has a session in any of its states.
func TestAxeOnEveryState(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	s := newScreen(t, h, "state", tabletW, tabletH)
	stages(s, func(name string) {
		s.sees(name)
		s.theme("")
		s.size(tabletW, tabletH)
		eval[bool](s, `delete document.documentElement.dataset.theme`)
		s.shot(name + "-tablet")
	})
	t.Logf("%d states were looked at, each in four ways", s.looked)
}

// Nor has a household in which nothing is written yet.
func TestAxeOnNothing(t *testing.T) {
	t.Parallel()
	h := empty(t)
	s := newScreen(t, h, "empty", phoneW, phoneH)
	s.crawl("empty", "/")
}
