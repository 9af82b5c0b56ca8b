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
