package record

import (
	"strings"
	"testing"

	"ebbline/session"
	"ebbline/unit"
)

// A goal of the unit's paper that the weight does not explain is asked about: a zero too
// many. The room for drinks and washback, 1.5 kg, shrinks with a dry weight under 35 kg.
func TestPaperGoalBeyondTheWeight(t *testing.T) {
	for _, tt := range []struct {
		dry, pre unit.Mass
		goal     unit.Volume
		asks     string
	}{
		{58_000, 60_000, 3500, ""},
		{58_000, 60_000, 3510, "2 kg above the dry weight"},
		{24_000, 24_800, 180, ""},
		{24_000, 24_800, 1800, ""}, // 24/35 of 1.5 kg, and 0.8 kg
		{24_000, 24_800, 1840, "0.8 kg above the dry weight"},
		{24_000, 23_700, 1000, ""},
		{24_000, 23_700, 1100, "0.3 kg under the dry weight"},
	} {
		b := newBook(t)
		b.must("person", "", &Person{Name: "Orla Finch", BirthYear: 2014, Colour: "reed"})
		rx := aPrescription()
		rx.DryWeight, rx.Rate, rx.MaxRemoval = tt.dry, nil, nil
		e := b.entry("prescription", "", &rx)
		e.Again = map[string]string{"dry_weight_kg": tt.dry.String()}
		b.must2(e)
		b.must("session_opened", "session-1", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
		plan := b.entry("paper_plan", "session-1", &session.PaperPlan{Goal: tt.goal, Length: 240, From: "Dr Q (invented)"})
		if said := Check(b.h, plan).On("goal_ml"); said != "" {
			t.Errorf("%s mL, not weighed: %q", tt.goal, said)
		}
		in := b.entry("weigh_in", "session-1", &session.WeighIn{Weight: tt.pre, Scale: "bathroom", ReadIn: "kg"})
		in.Again = map[string]string{"weight_kg": tt.pre.String()}
		b.must2(in)
		said := Check(b.h, b.entry("paper_plan", "session-1", plan.Body)).On("goal_ml")
		if (said != "") != (tt.asks != "") || !strings.Contains(said, tt.asks) {
			t.Errorf("%s mL at %s kg, dry %s: %q, want %q", tt.goal, tt.pre, tt.dry, said, tt.asks)
		}
	}
}
