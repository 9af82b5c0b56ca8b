package web

import (
	"context"
	"fmt"
	"html"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// keep puts entries into the household as they would come from a command.
func (h *house) keep(person string, bodies ...any) []string {
	h.t.Helper()
	var entries []record.Entry
	var ids []string
	for _, body := range bodies {
		e := record.Entry{ID: newID(), Kind: kindOf(h.t, body), Person: person, Body: body, By: "Test"}
		entries, ids = append(entries, e), append(ids, e.ID)
	}
	out, err := h.desk.Record(context.Background(), entries...)
	if err != nil || !out.Clear() {
		h.t.Fatalf("not taken: %v %v", err, firstFinding(out))
	}
	return ids
}

func kindOf(t *testing.T, body any) string {
	t.Helper()
	for _, k := range record.Kinds() {
		if fmt.Sprintf("%T", k.New()) == fmt.Sprintf("%T", body) {
			return k.Name
		}
	}
	t.Fatalf("%T is no kind", body)
	return ""
}

// settled is a household of one person with everything but a session.
func settled(t *testing.T) (*house, string) {
	h := home(t, 0, false)
	h.keep("person-ida", &record.Person{Name: "Ida Brook", BirthYear: 1971, Colour: "reed", Adult: true})
	h.keep("", &record.KidneyUnit{Name: "Unit by the mill (invented)", Day: "+000 1 23", Night: "+000 1 99", Ambulance: "112"})
	h.keep("", &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass"})
	rx := simulate.Prescription(unit.DateOf(h.now).Add(-20))
	h.keep("person-ida", &rx)
	return h, "/p/person-ida"
}

// see asks for a page that must be there.
func (h *house) see(path string) string {
	h.t.Helper()
	status, text := h.get(path)
	if status != http.StatusOK {
		h.t.Fatalf("GET %s: %d\n%s", path, status, problems(text))
	}
	return text
}

// says fails unless a page holds all of these.
func (h *house) says(path string, words ...string) {
	h.t.Helper()
	text := plainText(h.see(path))
	for _, w := range words {
		if !strings.Contains(text, w) {
			h.t.Errorf("%s does not say %q", path, w)
		}
	}
}

// silent fails when a page holds any of these.
func (h *house) silent(path string, words ...string) {
	h.t.Helper()
	text := plainText(h.see(path))
	for _, w := range words {
		if strings.Contains(text, w) {
			h.t.Errorf("%s says %q", path, w)
		}
	}
}

// plainText is what a reader sees of a page, in one line.
func plainText(text string) string {
	var b strings.Builder
	for rest := text; ; {
		before, after, tag := strings.Cut(rest, "<")
		_, next, whole := strings.Cut(after, ">")
		if !tag || !whole {
			b.WriteString(rest)
			break
		}
		b.WriteString(before)
		b.WriteByte(' ')
		rest = next
	}
	text = strings.ReplaceAll(html.UnescapeString(b.String()), "\u00a0", " ")
	return strings.Join(strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" \t\n\f\r", r) }), " ")
}

var inputs = regexp.MustCompile(`<input[^>]*\bname="([^"]*)"[^>]*\bvalue="([^"]*)"[^>]*>`)

// fieldsOf reads the form that is sent to an address off a page as a browser
// would send it: hidden and typed values, ticked boxes and radios.
func fieldsOf(t *testing.T, text, action string) url.Values {
	t.Helper()
	v := url.Values{}
	for _, part := range strings.Split(text, "<form ")[1:] {
		body, _, _ := strings.Cut(part, "</form>")
		if !strings.Contains(body, `action="`+action+`"`) {
			continue
		}
		for _, m := range inputs.FindAllStringSubmatch(body, -1) {
			if boxed := strings.Contains(m[0], `type="radio"`) || strings.Contains(m[0], `type="checkbox"`); boxed && !strings.Contains(m[0], " checked") {
				continue
			}
			v.Add(html.UnescapeString(m[1]), html.UnescapeString(m[2]))
		}
		return v
	}
	t.Fatalf("no form to %s on the page", action)
	return nil
}

// member reads one person's state.
func (h *house) member(id string, f func(m *record.Member)) {
	h.t.Helper()
	h.desk.View(func(s *record.Household) {
		m := s.Member(id)
		if m == nil {
			h.t.Fatalf("nobody is %s", id)
		}
		f(m)
	})
}

// A line break typed in a browser comes as two characters and is kept as one.
func TestOneLineEnd(t *testing.T) {
	h, ida := settled(t)
	h.saved(ida+"/question", "words", "Is the dry weight right?\r\nI cramp at the end.")
	h.member("person-ida", func(m *record.Member) {
		if got := m.Questions[0].Value.Words; got != "Is the dry weight right?\nI cramp at the end." {
			t.Errorf("kept as %q", got)
		}
	})
}
