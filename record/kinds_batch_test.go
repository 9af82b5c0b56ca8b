package record

import (
	"testing"

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
