package web

import (
	"html"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// A call is one press under a trouble, with what was said; one that reached nobody is a
// note, since it answers nothing. No button of a call leaves out what the record needs.
func TestACallIsOnePressWithWhatWasSaid(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(30 * time.Minute)
	part := h.troubleOn(base, session.TroubleHeart)
	for _, whom := range []string{"the ambulance", "your unit, by day", "your unit, at night"} {
		if !strings.Contains(part, "I rang "+whom+": what was said") {
			t.Errorf("no call to %s: %s", whom, plainText(part))
		}
	}
	forms := regexp.MustCompile(`(?s)<form method="post" action="`+base+`/(rang|note)".*?</form>`).FindAllStringSubmatch(part, -1)
	pressed := 0
	for _, f := range forms {
		for _, b := range regexp.MustCompile(`<button name="(said|words)" value="([^"]*)">`).FindAllStringSubmatch(f[0], -1) {
			form := fieldsOf(t, f[0], base+"/"+f[1])
			form.Set("id", newID())
			form.Add(b[1], html.UnescapeString(b[2]))
			if status, to, text := h.post(base+"/"+f[1], form); status != http.StatusSeeOther || !strings.HasSuffix(to, "#wrong-heart-taps") {
				t.Errorf("%s %q: %d to %s %s", f[1], b[2], status, to, problems(text))
			}
			pressed++
		}
	}
	calls, notes := 0, 0
	h.desk.View(func(rec *record.Household) {
		one := rec.Session(base[strings.LastIndex(base, "/")+1:])
		session.Each(one, func(b *session.Rang, _ *session.Event) { calls++ })
		session.Each(one, func(b *session.Note, _ *session.Event) {
			notes++
			if session.ReachedBy(b.Words) != session.Nobody {
				t.Errorf("%q says that somebody was reached", b.Words)
			}
		})
	})
	if pressed != 7 || calls != 4 || notes != 3 {
		t.Errorf("%d buttons, %d calls, %d notes", pressed, calls, notes)
	}
}

// Before the treatment a call answers the stops of the start line: there what was said is
// written in words, and no ready answer clears them.
func TestNoReadyAnswerBeforeTheTreatment(t *testing.T) {
	h := home(t, 2, false)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	part := h.troubleOn(base, session.TroubleHeart)
	if !strings.Contains(part, "I rang the ambulance: what was said") || strings.Contains(part, `name="said" value=`) {
		t.Errorf("%s", plainText(part))
	}
}

// No page of a session names the insides of the program.
func TestNoPageNamesAKind(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(30 * time.Minute)
	insides := regexp.MustCompile("`[^`]*`")
	for _, k := range record.Kinds() {
		if !k.Session || k.Name == "session_opened" {
			continue
		}
		status, text := h.get(base + "/" + k.Name)
		if status != http.StatusOK {
			continue
		}
		if found := insides.FindString(plainText(text)); found != "" {
			t.Errorf("%s: %s", k.Name, found)
		}
		if _, _, text = h.post(base+"/"+k.Name, formOf("id", newID())); insides.MatchString(plainText(text)) {
			t.Errorf("%s, sent empty: %s", k.Name, insides.FindString(plainText(text)))
		}
	}
}
