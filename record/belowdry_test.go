package record

import (
	"bufio"
	"os"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// olderRule is a household as the program wrote it when nothing was taken off
// below the dry weight: 57.8 kg of 58.2, 450 mL that come in, and a goal of 0.
func olderRule(t *testing.T) *Household {
	t.Helper()
	file, err := os.Open("testdata/older_below_dry.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	h, lines := NewHousehold(), bufio.NewScanner(file)
	for lines.Scan() {
		e, err := ReadEntry(lines.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		if err := h.Apply(e); err != nil {
			t.Fatal(err)
		}
	}
	if h.Entries() != 9 {
		t.Fatalf("%d entries read", h.Entries())
	}
	return h
}

// A plan of the older rule is read and kept to the letter; what is written from
// now on goes by today's, a correction of the older one too.
func TestPlanOfTheOlderRule(t *testing.T) {
	h := olderRule(t)
	s := h.Session("s-2026-03-04")
	plan, at := session.Last[session.AgreedPlan](s)
	if plan == nil || !plan.BelowDry || plan.Goal != 0 || plan.AboveDry != 0 || plan.Intake != 200 || plan.Washback != 250 ||
		!plan.OlderRule(s.Machine.FieldStep()) || len(plan.Cautions) != 1 || !strings.Contains(plan.Cautions[0], "nothing is to be removed") {
		t.Fatalf("%+v", plan)
	}
	if goal, ok := session.Goal(s, at.At.Add(time.Hour)); !ok || goal != 0 {
		t.Errorf("the goal on the machine is %s", goal.Text())
	}

	again := Entry{
		ID: "corrected-plan", Kind: "plan", At: at.At, Zone: "Europe/Tallinn", Written: at.At.Add(48 * time.Hour).UTC(), By: "Maarja Tamm",
		Person: "p-maarja-tamm", Session: s.ID, Corrects: at.ID, Reason: "the length was another",
	}
	longer := *plan
	longer.Length = 300
	again.Body = &longer
	if found := Check(h, again); found.On("goal_ml") == "" || !found.Refused() {
		t.Errorf("the older rule, written again: %v", found)
	}
	rule := longer
	rule.Goal, rule.SetGoal, rule.Rate, rule.RatePerKg = 50, 50, 10, 17 // 450 − 400; 50·60/300; /58.2
	again.Body = &rule
	if found := Check(h, again); len(found) != 0 {
		t.Errorf("today's rule: %v", found)
	}
}

// A new plan below the dry weight by each rule, with the machine's step.
func TestNewPlanBelowDryWeight(t *testing.T) {
	b := newBook(t)
	b.open("session-1")
	w := b.entry("weigh_in", "session-1", &session.WeighIn{Weight: 71_600, Scale: "bathroom", ReadIn: "kg"})
	w.Again = map[string]string{"weight_kg": "71.6"}
	if found := b.try(w); len(found) > 0 {
		t.Fatal(found)
	}
	plan := b.planOf("session-1")
	if !plan.BelowDry || plan.Goal != 200 || plan.AboveDry != 0 { // 0.4 kg under, 600 mL come in
		t.Fatalf("%+v", plan)
	}
	for name, goal := range map[string]unit.Volume{"nothing": 0, "an absolute value": 1000} {
		wrong := *plan
		wrong.Goal, wrong.SetGoal = goal, min(goal, plan.SetGoal)
		if found := b.try(b.entry("plan", "session-1", &wrong)); found.On("goal_ml") == "" || !found.Refused() {
			t.Errorf("%s: %v", name, found)
		}
	}
	negative := *plan
	negative.AboveDry = -400
	if found := b.try(b.entry("plan", "session-1", &negative)); found.On("above_dry_ml") == "" {
		t.Errorf("above dry weight below 0: %v", found)
	}
	b.must("plan", "session-1", plan)
}

// The unit's own figure is a limit like any other: in its range, and with the
// name of who set it.
func TestBelowDryRing(t *testing.T) {
	b := newBook(t)
	set := func(ring unit.Mass, by string) Findings {
		rx := aPrescription()
		rx.DryRing, rx.SetBy = &ring, by
		return b.try(b.entry("prescription", "", &rx))
	}
	for _, ring := range []unit.Mass{0, 99, 5001, 50_000} {
		if found := set(ring, "Dr Q (invented)"); found.On("below_dry_ring_kg") == "" || !found.Refused() {
			t.Errorf("%s: %v", ring.Text(), found)
		}
	}
	rx := aPrescription()
	rx.Limits = session.Limits{DryRing: ptr(unit.Mass(800))}
	if found := b.try(b.entry("prescription", "", &rx)); found.On("limits_set_by") == "" || found.On("limits_set_on") == "" {
		t.Errorf("a limit of nobody: %v", found)
	}
	for _, ring := range []unit.Mass{1001, 5000} { // 0.5 kg with its point lost
		if found := set(ring, "Dr Q (invented)"); found.On("below_dry_ring_kg") == "" || found.Refused() {
			t.Errorf("%s: %v", ring.Text(), found)
		}
	}
	for _, ring := range []unit.Mass{100, 800, 1000} {
		if found := set(ring, "Dr Q (invented)"); len(found) > 0 {
			t.Errorf("%s: %v", ring.Text(), found)
		}
	}
	last := b.h.Member("person-one").Prescriptions
	old, now := &last[len(last)-2].Value, &last[len(last)-1].Value
	if changes := Diff(old, now); len(changes) != 1 || changes[0] != (Change{"Ring when this far under the dry weight", "0.8\u00a0kg", "1\u00a0kg"}) {
		t.Errorf("from 0.8 to 1 kg: %+v", changes)
	}
}
