package record

import (
	"strings"
	"testing"

	"ebbline/session"
	"ebbline/unit"
)

// begins folds in that a treatment began, whatever stops it.
func (b *book) begins(id string) {
	b.t.Helper()
	if err := b.h.Apply(b.entry("connected", id, &session.Connected{})); err != nil {
		b.t.Fatal(err)
	}
}

// What stopped a start that went on all the same leaves its trace when an entry outside
// the session is corrected later (hazard H-140).
func TestAStopOutsideTheSessionCorrectedAfterTheStart(t *testing.T) {
	b := newBook(t)
	bad := b.keep("residual_test", &ResidualTest{For: "chlorine", Value: 500, Lot: "R-1", Expiry: unit.DateOf(b.now).Add(90)})
	b.open("session-01")
	if c := b.checkOf("session-01", session.CheckCleaned); !strings.Contains(c.Words, "Residue test") {
		t.Fatal(c.Words)
	}
	b.begins("session-01")
	good := b.house("residual_test", &ResidualTest{For: "chlorine", Value: 0, Lot: "R-1", Expiry: unit.DateOf(b.now).Add(90)})
	good.Corrects, good.Reason, good.At = bad.ID, "the strip was of another day", bad.At
	if err := b.h.Apply(good); err != nil {
		t.Fatal(err)
	}
	if c := b.checkOf("session-01", session.CheckCleaned); !strings.Contains(c.Words, "Corrected at") || !strings.Contains(c.Words, "another day") {
		t.Errorf("%s %q", c.State, c.Words)
	}
}

// A prescription is not struck out while a treatment runs by it; one that is struck out
// all the same is kept by the session, and by no other.
func TestThePrescriptionOfARunningTreatmentIsNotStruckOut(t *testing.T) {
	b := newBook(t)
	b.open("session-01")
	rx := b.h.Session("session-01").PrescriptionID
	b.still = true // in one second with the start
	b.begins("session-01")
	strike := b.entry("struck", "", &Struck{Entry: rx, Reason: "a mistake of mine"})
	b.refuses(Refuse, "entry_id", "is what the treatment that is running now goes by", strike)
	if err := b.h.Apply(strike); err != nil {
		t.Fatal(err)
	}
	if s := b.h.Session("session-01"); s.PrescriptionID != rx || s.Rx == nil {
		t.Errorf("%q %v", s.PrescriptionID, s.Rx)
	}
	if rx := b.h.Member("person-one").Prescription(unit.DateOf(b.now)); rx != nil {
		t.Errorf("%s is in force", rx.ID)
	}
}

// What the machine showed is held as of the closing, also within its second.
func TestAClosedSessionKeepsWhatItsMachineShowed(t *testing.T) {
	b := newBook(t)
	first := b.must("machine", "", &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass", RemovedShows: "net"})
	b.open("session-01")
	b.begins("session-01")
	b.still = true
	for _, e := range []Entry{b.entry("came_off", "session-01", &session.CameOff{Returned: "all"}), b.entry("closed", "session-01", &session.Closed{})} {
		if err := b.h.Apply(e); err != nil {
			t.Fatal(err)
		}
	}
	other := b.entry("machine", "", &session.Machine{Name: "the machine", GoalUnit: "mL", Kind: "single_pass", RemovedShows: "with_substitution"})
	other.Corrects, other.Reason = first.ID, "read again in its book"
	if err := b.h.Apply(other); err != nil {
		t.Fatal(err)
	}
	if m := b.h.Session("session-01").Machine; m.RemovedShows != "net" || m.GoalUnit != "L" || m.GoalDecimals != 2 {
		t.Errorf("%+v", m)
	}
	if m := b.h.Member("person-one").Machine(); m.RemovedShows != "with_substitution" {
		t.Errorf("%+v", m)
	}
}

// Who the person is counts in a closed session as it stood at the closing, whatever time
// a later version gives.
func TestAClosedSessionKeepsWhoThePersonWas(t *testing.T) {
	b := newBook(t)
	b.open("session-01")
	opened := b.now
	b.begins("session-01")
	for _, e := range []Entry{b.entry("came_off", "session-01", &session.CameOff{Returned: "all"}), b.entry("closed", "session-01", &session.Closed{})} {
		if err := b.h.Apply(e); err != nil {
			t.Fatal(err)
		}
	}
	child := b.entry("person", "", &Person{Name: "Orla Finch", BirthYear: 2015, Colour: "reed", Pregnant: true})
	child.At = opened
	if err := b.h.Apply(child); err != nil {
		t.Fatal(err)
	}
	m, s := b.h.Member("person-one"), b.h.Session("session-01")
	if h := m.History(s); s.Child || h.Who.Pregnant {
		t.Errorf("child %v, pregnant %v", s.Child, h.Who.Pregnant)
	}
	if h := m.History(nil); !h.Who.Pregnant {
		t.Error("it does not count for the next one")
	}
}
