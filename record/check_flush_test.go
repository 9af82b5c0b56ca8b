package record

import (
	"testing"

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
