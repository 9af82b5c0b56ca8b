package record

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// ended is a live session of yesterday that was treated and has come off. Its
// start is written past the checks: they are not what is looked at here.
func ended(t *testing.T, closed bool) (*book, time.Time) {
	b := newBook(t)
	b.open("session-1")
	for _, e := range []Entry{
		b.entry("weigh_in", "session-1", &session.WeighIn{Weight: 74100, Scale: "bathroom", ReadIn: "kg"}),
		b.entry("connected", "session-1", &session.Connected{}),
	} {
		if err := b.h.Apply(e); err != nil {
			t.Fatal(err)
		}
	}
	b.now = b.now.Add(4 * time.Hour)
	b.must("came_off", "session-1", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(250))})
	off := b.now
	if closed {
		b.must("closed", "session-1", &session.Closed{})
	}
	b.now = b.now.Add(40 * time.Hour)
	return b, off
}

// Nothing of setting up goes into a session that is over, except with the time
// when it happened (H-42).
func TestNothingBeforeGoesInAfter(t *testing.T) {
	for _, closed := range []bool{false, true} {
		b, off := ended(t, closed)
		tried := 0
		for _, k := range setUpKinds() {
			if k.Name == "session_opened" {
				continue
			}
			tried++
			body := k.New()
			if step, ok := body.(*session.StepDone); ok {
				step.Phase, step.Step, step.State = session.SetUp, "weigh", "done"
			}
			if found := Check(b.h, b.entry(k.Name, "session-1", body)); !strings.Contains(found.On("at"), "older page") {
				t.Errorf("%s a day after the end: %v", k.Name, found)
			}
			e := b.entry(k.Name, "session-1", body)
			e.At = off.Add(-5 * time.Hour)
			if found := Check(b.h, e); found.On("at") != "" {
				t.Errorf("%s with the time it happened: %v", k.Name, found)
			}
		}
		if tried < 10 {
			t.Errorf("only %d kinds were tried", tried)
		}
		for _, e := range []Entry{
			b.entry("note", "session-1", &session.Note{Words: "it bled in the night"}),
			b.entry("weigh_out", "session-1", &session.WeighOut{Weight: 74000, Scale: "bathroom"}),
			b.entry("step", "session-1", &session.StepDone{Phase: session.TakeOff, Step: "strip", State: "done"}),
		} {
			if found := Check(b.h, e); found.Refused() {
				t.Errorf("%s after the end: %v", e.Kind, found)
			}
		}
	}
}

// A session that was closed before it came to treatment is over too, and a
// weight before a treatment is not one taken during it.
func TestWeightBeforeIsTakenBefore(t *testing.T) {
	b := newBook(t)
	b.open("session-1")
	b.must("closed", "session-1", &session.Closed{})
	if found := Check(b.h, b.entry("weigh_in", "session-1", &session.WeighIn{Weight: 74100, Scale: "bathroom", ReadIn: "kg"})); !found.Refused() {
		t.Error("a weight went into a session that was closed before its treatment")
	}
	b, off := ended(t, false)
	e := b.entry("weigh_in", "session-1", &session.WeighIn{Weight: 74100, Scale: "bathroom", ReadIn: "kg"})
	e.At = off.Add(-time.Hour)
	if found := Check(b.h, e); !strings.Contains(found.On("at"), "before it") {
		t.Errorf("a weight before, in the middle of the treatment: %v", found)
	}
	paper := newBook(t)
	paper.paperRun("session-1")
	paper.must("came_off", "session-1", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(250))})
	paper.must("vitals_before", "session-1", &session.VitalsBefore{SitSystolic: ptr(unit.Pressure(120)), SitDiastolic: ptr(unit.Pressure(70))})
}
