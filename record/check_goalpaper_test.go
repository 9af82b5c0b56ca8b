package record

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// paperBook is a household of a child of 33 kg by the unit's paper, 1.8 L in 4 h, that
// runs since an hour.
func paperBook(t *testing.T) *book {
	b := newBook(t)
	b.must("person", "", &Person{Name: "Orla Finch", BirthYear: 2014, Colour: "reed"})
	rx := aPrescription()
	rx.DryWeight, rx.Rate, rx.MaxRemoval = 33_000, nil, nil
	e := b.entry("prescription", "", &rx)
	e.Again = map[string]string{"dry_weight_kg": "33"}
	b.must2(e)
	b.must("session_opened", "session-1", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	b.must("paper_plan", "session-1", &session.PaperPlan{Goal: 1800, Length: 240, From: "Dr Q (invented)"})
	b.must("connected", "session-1", &session.Connected{})
	b.now = b.now.Add(time.Hour)
	return b
}

// A goal changed while running by the unit's paper is asked about where it runs too
// fast, and taken when it is typed again.
func TestGoalChangedByPaperIsAsked(t *testing.T) {
	b := paperBook(t)
	hour := unit.Minutes(60)
	e := b.entry("goal_changed", "session-1", &session.GoalChanged{Goal: 3900, Length: &hour})
	if said := Check(b.h, e).On("goal_ml"); !strings.Contains(said, "above 13") || !strings.Contains(said, "your unit wrote none") {
		t.Errorf("3.9 L in an hour: %q", said)
	}
	e.Again = map[string]string{"goal_ml": "3900"}
	if found := Check(b.h, e); len(found) > 0 {
		t.Errorf("typed again: %v", found)
	}
	if found := Check(b.h, b.entry("goal_changed", "session-1", &session.GoalChanged{Goal: 1700})); len(found) > 0 {
		t.Errorf("less than the paper: %v", found)
	}
}

// A total of ten times the paper's goal is asked about at the end, by a profile too,
// which has no line; and the weight after that it does not fit names it.
func TestTotalFarAboveThePaper(t *testing.T) {
	for _, profile := range []bool{false, true} {
		b := paperBook(t)
		s := b.h.Session("session-1")
		s.Rx.RemovalProfile = profile
		b.now = b.now.Add(3 * time.Hour)
		off := func(ml unit.Volume) Entry {
			return b.entry("came_off", "session-1", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(200)), Removed: &ml})
		}
		for ml, asks := range map[unit.Volume]bool{1800: false, 2550: false, 2551: true, 5900: true} {
			if said := Check(b.h, off(ml)).On("removed_ml"); strings.Contains(said, "far above") != asks {
				t.Errorf("profile %v, %d mL: %q", profile, ml, said)
			}
		}
	}
	b := paperBook(t)
	in := b.entry("weigh_in", "session-1", &session.WeighIn{Weight: 34_600, Scale: "bathroom", ReadIn: "kg"})
	in.Again = map[string]string{"weight_kg": "34.6"}
	in.At = in.At.Add(-time.Hour - time.Minute)
	b.must2(in)
	b.now = b.now.Add(3 * time.Hour)
	off := b.entry("came_off", "session-1", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(200)), Removed: ptr(unit.Volume(5900))})
	off.Again = map[string]string{"removed_ml": "5900"}
	b.must2(off)
	said := Check(b.h, b.entry("weigh_out", "session-1", &session.WeighOut{Weight: 33_000, Scale: "bathroom"})).On("weight_kg")
	for _, part := range []string{"by the 5900\u00a0mL removed", "fits the goal: read that total again too"} {
		if !strings.Contains(said, part) {
			t.Errorf("%q lacks %q", said, part)
		}
	}
	said = Check(b.h, b.entry("weigh_out", "session-1", &session.WeighOut{Weight: 38_000, Scale: "bathroom"})).On("weight_kg")
	if !strings.Contains(said, "by the 5900") || strings.Contains(said, "fits the goal") {
		t.Errorf("a weight that fits neither: %q", said)
	}
}
