package record

import (
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// One of the two alone orders no flush; and without heparin no step of setting up asks
// for it, but once some was drawn.
func TestFlushesOfAPrescription(t *testing.T) {
	b := newBook(t)
	rx := aPrescription()
	rx.Heparin, rx.HepStrength, rx.HepBolus, rx.HepHourly, rx.HepStop = "none", nil, nil, nil, nil
	rx.FlushML = ptr(unit.Volume(100))
	b.refuses(Refuse, "flush_every_min", "still blank", b.entry("prescription", "", &rx))
	rx.FlushML, rx.FlushEvery = nil, ptr(unit.Minutes(30))
	b.refuses(Refuse, "flush_ml", "still blank", b.entry("prescription", "", &rx))
	rx.FlushML = ptr(unit.Volume(100))
	b.must("prescription", "", &rx)
	b.open("session-01")
	asks := func() (found bool) {
		for _, st := range b.h.People[0].SetUpFor(b.h.Session("session-01"), b.now).Steps {
			found = found || st.Entry == "heparin_drawn"
		}
		return found
	}
	if asks() {
		t.Error("a step asks for heparin that nobody ordered")
	}
	e := b.entry("heparin_drawn", "session-01", &session.HeparinDrawn{Strength: 1000, Bolus: 2000, Line: 500, BolusVol: 200, LineVol: 50, Lot: "H-1", Expiry: unit.DateOf(b.now).Add(300)})
	b.refuses(Ask, "bolus_iu", "ordered no heparin", e)
	b.refuses(Ask, "line_iu", "ordered no heparin", e)
	e.Again = map[string]string{"bolus_iu": "2000", "line_iu": "500"}
	if found := b.try(e); len(found) > 0 {
		t.Fatal(found)
	}
	if got := b.stateOf(b.h, session.CheckHeparin); got.State != session.StopHere {
		t.Errorf("%+v", got)
	}
	if !asks() {
		t.Error("what was drawn has no step any more")
	}
}

// liveRun begins a live session and its treatment, past every check.
func (b *book) liveRun(id string, before ...func()) {
	b.t.Helper()
	b.open(id)
	for _, do := range before {
		do()
	}
	s := b.h.Session(id)
	for _, c := range session.StartLine(s, b.h.People[0].History(s), b.now) {
		if c.State != session.Ready {
			b.must("override", id, &session.Override{Check: c.ID, Reason: "nobody reached, tried twice this evening"})
		}
	}
	b.must("connected", id, &session.Connected{})
}

// A flush is asked about where none is ordered, soon after another one, and with another
// volume than ordered by half; one as ordered is taken.
func TestFlushesAreAskedAbout(t *testing.T) {
	b := newBook(t)
	b.liveRun("session-01")
	flush := func(ml unit.Volume) Entry {
		return b.entry("saline", "session-01", &session.Saline{Volume: ml, Flush: true})
	}
	b.refuses(Ask, "volume_ml", "your unit ordered none", flush(100))

	b = newBook(t)
	rx := aPrescription()
	rx.FlushML, rx.FlushEvery = ptr(unit.Volume(100)), ptr(unit.Minutes(30))
	b.must("prescription", "", &rx)
	b.liveRun("session-01")
	for _, ml := range []unit.Volume{49, 151, 300} {
		b.refuses(Ask, "volume_ml", "ordered are 100", flush(ml))
	}
	if found := b.try(flush(100)); len(found) > 0 {
		t.Fatalf("as ordered: %v", found)
	}
	b.now = b.now.Add(12 * time.Minute)
	b.refuses(Ask, "volume_ml", "is written at", flush(100))
	b.now = b.now.Add(time.Minute)
	if found := b.try(flush(100)); len(found) > 0 {
		t.Errorf("half an interval later: %v", found)
	}
}

// One that is left out is one of the session's: none is ordered, or there are not so many.
func TestFlushLeftOut(t *testing.T) {
	b := newBook(t)
	b.liveRun("session-01")
	left := func(n int) Entry { return b.entry("flush_left_out", "session-01", &session.FlushLeftOut{Number: n}) }
	b.refuses(Refuse, "number", "your unit ordered none", left(1))

	b = newBook(t)
	rx := aPrescription()
	rx.FlushML, rx.FlushEvery = ptr(unit.Volume(100)), ptr(unit.Minutes(30))
	b.must("prescription", "", &rx)
	b.liveRun("session-01")
	run, _ := session.Follow(b.h.Session("session-01"), b.now)
	of := rx.FlushCount(run.Length)
	b.refuses(Refuse, "number", "is more than the", left(of+1))
	if found := b.try(left(of)); len(found) > 0 || of < 2 {
		t.Errorf("the last of %d: %v", of, found)
	}
}
