package web

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// fitCheck is how "How am I?" stands at the start line of the open session.
func (h *house) fitCheck(member, id string) (found session.Check) {
	h.t.Helper()
	h.member(member, func(m *record.Member) {
		one := m.Open()
		for _, c := range session.StartLine(one, m.History(one), h.now) {
			if c.ID == id {
				found = c
			}
		}
	})
	return found
}

// An empty "How am I?" is no answer: it comes back with a sentence, and what was
// stopped stays stopped. What was said last stands on the form, with its time, and
// is ticked until somebody unticks it; that nothing of it is so any more is said
// with an answer of its own, and is then a look that names both (hazard H-140).
func TestAnEmptyHowAmIIsNoAnswer(t *testing.T) {
	h, _, base := openAfter(t, 2)
	page := base + "/fitness"
	entries := func() (n int) { h.desk.View(func(r *record.Household) { n = r.Entries() }); return n }
	const empty = "Nothing is ticked. Tick what is so, or press “No to all of these”."
	before := entries()
	h.refused(page, empty)
	h.refused(page, "slept badly", "note", "slept badly") // nothing typed is lost
	h.refused(page, empty, "note", "slept badly")
	if entries() != before {
		t.Error("something was written")
	}
	h.says(base, "Fit to start still open")

	h.saved(page, "heavy_legs", "yes", "fever", "yes")
	h.later(time.Minute)
	text := h.see(page)
	if !strings.Contains(plainText(text), "At 19:30 you said: fever, shivering or chills; heavy legs. It is ticked below: untick what is gone.") {
		t.Errorf("the form does not say what was said last:\n%.900s", plainText(text))
	}
	form := fieldsOf(t, text, page)
	if form.Get("heavy_legs") != "yes" || form.Get("fever") != "yes" || form.Get("weakness") != "" {
		t.Errorf("ticked: %v", form)
	}
	if !strings.Contains(text, `<button class="main" name="none_of_these" value="yes">No to all of these</button>`) {
		t.Error("there is no answer of its own for nothing")
	}
	h.refused(page, empty)
	h.refused(page, "No to all of these cannot be: something is ticked. Untick what is gone, or press Save.", "heavy_legs", "yes", "none_of_these", "yes")
	for _, id := range []string{session.CheckFit, session.CheckGap} {
		if c := h.fitCheck("person-ida", id); c.State != session.StopHere || !strings.Contains(c.Words, "Heavy legs. Ring the ambulance first") {
			t.Errorf("after an empty form: %s %s %q", id, c.State, c.Words)
		}
	}

	// A word more, sent as the form stands, takes nothing away.
	form.Set("medicine", "yes")
	if status, _, text := h.post(page, form); status != http.StatusSeeOther {
		t.Fatalf("%d %s", status, problems(text))
	}
	if c := h.fitCheck("person-ida", session.CheckFit); c.State != session.StopHere || !strings.Contains(c.Words, "Heavy legs") || !strings.Contains(c.Words, "fever") {
		t.Errorf("with a word more: %s %q", c.State, c.Words)
	}

	h.later(time.Minute)
	h.saved(page, "none_of_these", "yes")
	h.says(page, "At 19:32 you said no to all of these.")
	if got := fieldsOf(t, h.see(page), page); got.Get("heavy_legs")+got.Get("fever")+got.Get("none_of_these") != "" {
		t.Errorf("after a no to all: %v", got)
	}
	c := h.fitCheck("person-ida", session.CheckGap)
	if c.State != session.Look || !strings.Contains(c.Words, "Heavy legs") || !strings.Contains(c.Words, "19:31") {
		t.Errorf("said no to: %s %q", c.State, c.Words)
	}
	// The sheet holds the answer in words.
	h.says(base+"/sheet", "No to all of these yes")
}

// What the form says of the answer before is the truth for an older empty one too.
func TestHowAmIAfterAnOlderEmptyAnswer(t *testing.T) {
	h, _, base := openAfter(t, 2)
	e := record.Entry{ID: newID(), Kind: "fitness", Person: "person-ida", Session: base[strings.LastIndex(base, "/")+1:], Body: &session.Fitness{}, By: "Test"}
	if out, err := h.desk.Record(t.Context(), e); err != nil || !out.Clear() {
		t.Fatalf("not taken: %v %v", err, firstFinding(out))
	}
	h.says(base+"/fitness", "At 19:30 nothing was ticked.")
}

// The two ways to answer are one tap each, and Enter in a field is Save.
func TestSaveComesBeforeNoToAll(t *testing.T) {
	h, _, base := openAfter(t, 2)
	text := h.see(base + "/fitness")
	save, none := strings.Index(text, `<button class="main">Save what is ticked`), strings.Index(text, `name="none_of_these"`)
	if save < 0 || none < save {
		t.Errorf("Save at %d, no to all at %d", save, none)
	}
	if fieldsOf(t, text, base+"/fitness").Get("none_of_these") != "" {
		t.Error("no to all stands in the form by itself")
	}
}

// A form that comes back shows what was sent now, and says so: the answer before is
// not called ticked where it is not.
func TestHowAmISentTwiceWithOtherTicks(t *testing.T) {
	h, _, base := openAfter(t, 2)
	page, id := base+"/fitness", newID()
	h.saved(page, "id", id, "fever", "yes")
	const ticked = "It is ticked below"
	h.says(page, ticked)
	status, _, text := h.post(page, formOf("id", id, "heavy_legs", "yes"))
	if status != http.StatusUnprocessableEntity || !strings.Contains(text, "already with other values") {
		t.Errorf("%d %s", status, problems(text))
	}
	if form := fieldsOf(t, text, page); form.Get("fever") != "" || form.Get("heavy_legs") != "yes" {
		t.Errorf("it shows %v", form)
	}
	if plain := plainText(text); strings.Contains(plain, ticked) || !strings.Contains(plain, "you said: fever, shivering or chills. Below is ticked what you sent now.") {
		t.Errorf("it says %.600s", plain)
	}
	// With all of it ticked, and more, it is.
	if _, _, text := h.post(page, formOf("id", id, "fever", "yes", "heavy_legs", "yes")); !strings.Contains(plainText(text), ticked) {
		t.Error("what is ticked is not called so")
	}
}
