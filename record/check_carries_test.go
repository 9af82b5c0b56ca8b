package record

import (
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// What a treatment holds cannot be put out of sight by moving its beginning behind it,
// by striking out the beginning or the opening, or by calling it a paper (H-114).
func TestWhatARunHoldsStaysInSight(t *testing.T) {
	const id = "session-01"
	low := &session.Reading{Systolic: ptr(unit.Pressure(74)), Diastolic: ptr(unit.Pressure(41))}
	for name, body := range map[string]any{"a reading": low, "a trouble": wrong(session.TroubleAir), "felt": &session.Unwell{Words: "chest pain"}} {
		b := atHome(t)
		opened, e := session.First[session.Opened](b.h.Session(id))
		_, began := session.First[session.Connected](b.h.Session(id))
		kind := map[string]string{"a reading": "reading", "a trouble": "trouble", "felt": "unwell"}[name]
		// Before anything happened a slip is put right.
		earlier := b.entry("connected", id, &session.Connected{})
		earlier.At, earlier.Corrects, earlier.Reason = began.At.Add(2*time.Minute), began.ID, "two minutes later"
		if found := Check(b.h, earlier); len(found) > 0 {
			t.Errorf("%s: an empty run: %v", name, found)
		}
		held := b.entry(kind, id, body)
		if kind == "reading" {
			held.Again = map[string]string{"systolic_mmhg": "74", "diastolic_mmhg": "41"}
		}
		b.must2(held)
		b.now = b.now.Add(10 * time.Minute)

		later := b.entry("connected", id, &session.Connected{})
		later.At, later.Corrects, later.Reason = b.now.Add(-time.Minute), began.ID, "the clock was read wrongly"
		b.refuses(Refuse, "at", "lies after what this treatment holds", later)
		for _, carries := range []string{e.ID, began.ID} {
			b.refuses(Refuse, "entry_id", "carries what this treatment holds", b.entry("struck", id, &Struck{Entry: carries, Reason: "it was another evening"}))
		}
		paper := *opened
		paper.Source = "paper"
		turned := b.entry("session_opened", id, &paper)
		turned.At, turned.Corrects, turned.Reason = e.At, e.ID, "it was on paper"
		b.refuses(Refuse, "source", "while the treatment runs", turned)
	}
}
