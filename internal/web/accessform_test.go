package web

import (
	"regexp"
	"strings"
	"testing"

	"ebbline/record"
	"ebbline/session"
)

// A form of a catheter has no word of needles, thrill or bruit, and one of a
// fistula none of a catheter: not the form, not its correction, not the start line.
func TestEachAccessHasItsOwnWords(t *testing.T) {
	ofVein, ofCatheter := regexp.MustCompile(`(?i)needl|thrill|bruit|bulge|listen`), regexp.MustCompile(`(?i)catheter|exit site`)
	check := func(h *house, base string) (id, line string) {
		h.member("person-ida", func(m *record.Member) {
			if _, e := session.Last[session.AccessCheck](m.Open()); e != nil {
				id = e.ID
			}
		})
		_, line, _ = strings.Cut(h.see(base), `id="check-access"`)
		line, _, _ = strings.Cut(line, `class="check-do"`)
		line, _, _ = strings.Cut(line, "</li>")
		return id, line
	}
	clean := func(h *house, page string, words *regexp.Regexp) {
		t.Helper()
		if found := words.FindString(mainText(t, h.see(page))); found != "" {
			t.Errorf("%s says %q", page, found)
		}
	}

	h, _, base := openAfter(t, 2)
	clean(h, base+"/access_check", ofCatheter)
	h.saved(base+"/access_check", "thrill", "present", "bruit", "present", "skin", "clean")
	id, line := check(h, base)
	clean(h, base+"/entry/"+id, ofCatheter)
	if found := ofCatheter.FindString(line); found != "" {
		t.Errorf("the start line of a fistula says %q", found)
	}
	if text := h.see(base); !strings.Contains(text, `href="`+base+`/needling"`) || !strings.Contains(text, "before you needle") {
		t.Error("the page of a fistula does not lead to its needles")
	}

	h, ida := settled(t)
	rx := *mustRx(t, h)
	rx.Access, rx.AccessSide, rx.Technique, rx.GaugeA, rx.GaugeV = "catheter", "neck_or_chest", "none", 0, 0
	h.keep("person-ida", &rx)
	base = h.saved(ida+"/session", "place", "home", "source", "live", "session", newID(), "person_confirmed", "yes")
	page := base + "/access_check"
	if _, line := check(h, base); !strings.Contains(line, "Not looked at. Look at the exit site.") {
		t.Errorf("nothing looked at: %s", line)
	}
	clean(h, page, ofVein)
	if text := h.see(page); !strings.Contains(text, "<legend>At the exit site</legend>") {
		t.Error("the signs have no heading")
	}
	h.refused(page, "is still blank") // nothing answered is no look
	form := fieldsOf(t, h.see(page), page)
	form.Set("cuff", "hidden")
	form.Set("outer_length", "as_before")
	if status, _, text := h.post(page, form); status != 303 {
		t.Fatalf("%d %s", status, problems(text))
	}
	if _, line := check(h, base); !strings.Contains(line, "Skin not looked at.") {
		t.Errorf("sent with nothing chosen: %s", line)
	}
	form = fieldsOf(t, h.see(page), page)
	form.Set("skin", "clean")
	for _, key := range []string{"cuff", "outer_length"} { // the page asks for both
		form.Set("cuff", "hidden")
		form.Set("outer_length", "as_before")
		form.Del(key)
		if status, _, text := h.post(page, form); status != 422 || !strings.Contains(text, "is still blank: look, then choose") {
			t.Errorf("%s left out: %d %s", key, status, problems(text))
		}
	}
	form = fieldsOf(t, h.see(page), page)
	for key, value := range map[string]string{"skin": "clean", "cuff": "hidden", "outer_length": "as_before"} {
		form.Set(key, value)
	}
	if status, _, text := h.post(page, form); status != 303 {
		t.Fatalf("%d %s", status, problems(text))
	}
	id, line = check(h, base)
	if found := ofVein.FindString(line); found != "" || !strings.Contains(line, "Exit site looked at, cuff not showing, length as before.") {
		t.Errorf("the start line of a catheter says %q in %s", found, line)
	}
	clean(h, base+"/entry/"+id, ofVein)
	if text := h.see(base); strings.Contains(text, `/needling"`) || strings.Contains(text, "before you needle") {
		t.Error("the page of a catheter leads to needles")
	}
}

// mainText is what a page says between its head and its foot, without addresses
// and values.
func mainText(t *testing.T, text string) string {
	t.Helper()
	_, text, ok := strings.Cut(text, "<main")
	text, _, ok2 := strings.Cut(text, "</main>")
	if !ok || !ok2 {
		t.Fatal("the page has no main part")
	}
	return plainText(text)
}
