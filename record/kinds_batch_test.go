package record

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// While a treatment runs on a batch its tests belong to the session, where they are said
// at once; another batch is asked about.
func TestBatchWhileRunning(t *testing.T) {
	b := newBook(t)
	b.keep("machine", &session.Machine{Name: "the machine", GoalUnit: "mL", Kind: "batch"})
	made := b.keep("batch_made", &session.BatchMade{Name: "1", Within: ptr(unit.Hours(4800))})
	other := b.keep("batch_made", &session.BatchMade{Name: "2", Within: ptr(unit.Hours(4800))})
	bad := func(batch string) Entry {
		e := b.house("batch_tested", &session.BatchTested{Batch: batch, Result: ptr(unit.Concentration(500)), ReadsDown: ptr(unit.Concentration(20)), Method: "photometer"})
		e.Again = map[string]string{"total_chlorine_mg_l": "0.5"}
		return e
	}
	early := bad(made.ID)
	b.liveRun("session-01", func() { b.must("batch_used", "session-01", &session.BatchUsed{Batch: made.ID}) })
	b.refuses(Refuse, "batch_id", "write the test in that session", bad(made.ID))
	if found := b.try(bad(other.ID)); len(found) > 0 {
		t.Errorf("of the batch that is not used: %v", found)
	}
	if found := b.try(early); len(found) > 0 {
		t.Errorf("measured before the start, written now: %v", found)
	}
	b.refuses(Ask, "batch_id", "another fluid while the treatment runs", b.entry("batch_used", "session-01", &session.BatchUsed{Batch: other.ID}))
}

// A start that is typed late with its true time is taken when only time passed since, so
// that the batch ran out; not when something was written since that stops the start.
func TestStartTypedLate(t *testing.T) {
	for _, row := range []struct {
		name    string
		since   func(b *book)
		refused string
	}{
		{"only time passed", func(*book) {}, ""},
		{"something that stops nothing", func(b *book) { b.must("note", "session-01", &session.Note{Words: "the needles took long"}) }, ""},
		{"another potassium on the label", func(b *book) {
			b.must("bath_label", "session-01", &session.BathLabel{K: 300, Ca: 150, Lot: "B-1", Expiry: unit.DateOf(b.now).Add(90)})
		}, "Bath, written since"},
		{"water over the limit", func(b *book) {
			e := b.entry("chlorine", "session-01", b.chlorine(500, "product"))
			e.Again = map[string]string{"total_chlorine_mg_l": "0.5"}
			b.must2(e)
		}, "Total chlorine, written since"},
	} {
		b := newBook(t)
		b.keep("machine", &session.Machine{Name: "the machine", GoalUnit: "mL", Kind: "batch"})
		made := b.keep("batch_made", &session.BatchMade{Name: "1", Within: ptr(unit.Hours(400)), K: ptr(unit.Molar(200)), Ca: ptr(unit.Molar(150)), Expiry: unit.DateOf(b.now).Add(90)})
		b.open("session-01")
		b.must("batch_used", "session-01", &session.BatchUsed{Batch: made.ID})
		for _, c := range session.StartLine(b.h.Session("session-01"), b.h.People[0].History(b.h.Session("session-01")), b.now) {
			if c.State != session.Ready {
				b.must("override", "session-01", &session.Override{Check: c.ID, Reason: "nobody reached, tried twice this evening"})
			}
		}
		began := b.now.Add(time.Minute)
		b.now = began.Add(time.Minute)
		row.since(b)
		b.now = b.now.Add(5 * time.Hour)
		late := b.entry("connected", "session-01", &session.Connected{})
		if row.refused == "" {
			b.refuses(Refuse, "kind", "past its use-by", late)
		}
		late.At = began
		if row.refused != "" {
			b.refuses(Refuse, "kind", row.refused, late)
		} else if found := b.try(late); len(found) > 0 {
			t.Errorf("%s: %v", row.name, found)
		}
	}
}

// What the history of a run knows of its batches: one made while it runs, and one that
// was struck out, once though it was named twice; a later one is none of a session that is
// over.
func TestBatchesOfARun(t *testing.T) {
	b := newBook(t)
	b.keep("machine", &session.Machine{Name: "the machine", GoalUnit: "mL", Kind: "batch"})
	first := b.keep("batch_made", &session.BatchMade{Name: "1", Within: ptr(unit.Hours(4800))})
	uses := func() { b.must("batch_used", "session-01", &session.BatchUsed{Batch: first.ID}) }
	b.liveRun("session-01", uses, uses)
	b.keep("batch_made", &session.BatchMade{Name: "2", Within: ptr(unit.Hours(4800))})
	history := func() session.History { return b.h.People[0].History(b.h.Session("session-01")) }
	if list := history().Batches; len(list) != 2 || list[1].Name != "2" {
		t.Errorf("%+v", list)
	}
	b.keep("struck", &Struck{Entry: first.ID, Reason: "made from the wrong concentrate"})
	s := b.h.Session("session-01")
	if list := session.FluidRemarks(s, history(), b.now.Add(time.Minute)); len(list) != 1 || list[0].Code != "batch_struck" || !strings.Contains(list[0].Words, "wrong concentrate") {
		t.Errorf("%+v", list)
	}
	b.must("came_off", "session-01", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(250)), Removed: ptr(unit.Volume(2000))})
	b.now = b.now.Add(time.Hour)
	b.keep("batch_made", &session.BatchMade{Name: "3", Within: ptr(unit.Hours(4800))})
	if list := history().Batches; len(list) != 1 || list[0].Name != "2" {
		t.Errorf("after its end: %+v", list)
	}
}
