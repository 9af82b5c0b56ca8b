package record

import (
	"strings"
	"testing"
)

// A critical potassium stays open until somebody writes whom they rang, and
// nothing else puts it away (H-94).
func TestCriticalStaysUntilSomebodyIsRung(t *testing.T) {
	b := newBook(t)
	e := b.sample(b.now, Other, "", "potassium 6.8 mmol/L", "sodium 138 mmol/L")
	e.Again = map[string]string{"results.potassium": "6.8"}
	b.must2(e)
	m := b.h.Member("person-one")
	open := m.CriticalOpen()
	if len(open) != 1 || open[0].Result.Analyte != "potassium" || !strings.Contains(open[0].Words(), "at or above 6.5") {
		t.Fatalf("potassium 6.8: %+v, want one open", open)
	}
	for name, call := range map[string]*BloodCall{
		"nobody":          {Bloods: e.ID, Analyte: "potassium", Rang: "", Said: "come in"},
		"nothing said":    {Bloods: e.ID, Analyte: "potassium", Rang: "night nurse", Said: "-"},
		"another analyte": {Bloods: e.ID, Analyte: "sodium", Rang: "night nurse", Said: "come in now"},
		"no such sample":  {Bloods: "entry-none", Analyte: "potassium", Rang: "night nurse", Said: "come in now"},
	} {
		if found := b.try(b.entry("blood_call", "", call)); !found.Refused() {
			t.Errorf("a call with %s was taken", name)
		}
	}
	b.must("question", "", &Question{Words: "my potassium was 6.8"})
	if len(m.CriticalOpen()) != 1 {
		t.Fatal("a question put a critical value away")
	}
	b.must("blood_call", "", &BloodCall{Bloods: e.ID, Analyte: "potassium", Rang: "the night nurse, Ana", Said: "dialyse tonight with the bath as prescribed, ring again at six"})
	if open := m.CriticalOpen(); len(open) != 0 {
		t.Errorf("after the call still open: %+v", open)
	}

	// A correction of something else keeps the call; another value opens it again.
	mend := b.sample(e.At, Other, "", "potassium 6.8 mmol/L", "sodium 139 mmol/L")
	mend.Again, mend.Corrects, mend.Reason = e.Again, e.ID, "sodium misread"
	b.must2(mend)
	if open := m.CriticalOpen(); len(open) != 0 {
		t.Errorf("the sodium was corrected and potassium is open again: %+v", open)
	}
	worse := b.sample(e.At, Other, "", "potassium 7.3 mmol/L", "sodium 139 mmol/L")
	worse.Again, worse.Corrects, worse.Reason = map[string]string{"results.potassium": "7.3"}, mend.ID, "potassium misread"
	b.must2(worse)
	if open := m.CriticalOpen(); len(open) != 1 {
		t.Errorf("corrected to 7.3: %d open, want one", len(open))
	}
	// Struck out as somebody else's tube, it is no longer this person's.
	b.must("struck", "", &Struck{Entry: worse.ID, Reason: "another person's sample"})
	if open := m.CriticalOpen(); len(open) != 0 {
		t.Errorf("struck out and still open: %+v", open)
	}
}

// A haemolysed sample is marked and neither hidden nor put away (H-95).
func TestHaemolysedIsShownAndStaysCritical(t *testing.T) {
	b := newBook(t)
	e := b.sample(b.now, Other, "", "potassium 7.1 mmol/L")
	e.Body.(*Bloods).Haemolysed = true
	e.Again = map[string]string{"results.potassium": "7.1"}
	b.must2(e)
	open := b.h.Member("person-one").CriticalOpen()
	if len(open) != 1 || !strings.Contains(open[0].Words(), "haemolysed") || !strings.Contains(open[0].Words(), "7.1") {
		t.Errorf("a haemolysed 7.1: %+v", open)
	}
}
