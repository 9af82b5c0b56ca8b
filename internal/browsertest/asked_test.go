//go:build browser

package browsertest

import (
	"testing"

	"ebbline/session"
)

// A value that is asked about is typed a second time; the form keeps the first
// and does not let it be clicked through.
func TestAskedIsTypedAgain(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.begun()
	s := newScreen(t, h, "asked-weight", tabletW, tabletH)
	s.open(base + "/weigh_in")
	s.fill("/weigh_in", "weight_kg", "67.9")
	s.fill("/weigh_in", "clothing_kg", "0")
	s.turns(func() { s.send("/weigh_in") })
	s.shows("typed again")
	value := func(name string) string { return eval[string](s, fieldOf("/weigh_in", name)+".value") }
	if got := value("weight_kg"); got != "67.9" {
		t.Errorf("the weight in the form is now %q", got)
	}
	if got := value("again.weight_kg"); got != "" {
		t.Errorf("the second field is filled in beforehand: %q", got)
	}
	for range 3 {
		s.turns(func() { s.send("/weigh_in") })
		s.shows("typed again")
	}
	s.fill("/weigh_in", "again.weight_kg", "67.8")
	s.turns(func() { s.send("/weigh_in") })
	s.shows("then as 67.8")
	if n := len(h.written(base, "weigh_in")); n != 0 {
		t.Fatalf("%d weights are written before the second typing agreed", n)
	}
	s.saves("the weight typed twice", func() {
		s.fill("/weigh_in", "again.weight_kg", "67.9")
		s.send("/weigh_in")
	})
	if n := len(h.written(base, "weigh_in")); n != 1 {
		t.Errorf("%d weights are written, want 1", n)
	}
}

// A plan with a value that is asked about, drinks of more than two litres, is
// agreed to by typing that value again.
func TestAskedPlanIsTypedAgain(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.ready()
	s := newScreen(t, h, "asked-plan", tabletW, tabletH)
	s.open(base + "/plan?intake_ml=2100&saline_ml=0&length_min=250")
	s.turns(func() { s.send("/plan") })
	s.shows("typed again")
	s.shot("plan-asked")
	if n := len(h.written(base, "plan")); n != 0 {
		t.Fatal("the plan was agreed to in one click")
	}
	s.turns(func() { s.send("/plan") })
	s.shows("typed again")
	s.saves("the plan", func() {
		s.fill("/plan", "again.intake_ml", "2100")
		s.send("/plan")
	})
	s.titled("Read back")
	plans := h.written(base, "plan")
	if len(plans) != 1 || plans[0].Body.(*session.AgreedPlan).Intake.String() != "2100" {
		t.Errorf("%d plans are written, want one with drinks of 2100 mL", len(plans))
	}
}

// A blood pressure that is asked about from the running page keeps the whole
// reading.
func TestAskedReading(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "asked-reading", tabletW, tabletH)
	s.open(base)
	s.fill("/reading", "systolic_mmhg", "192")
	s.fill("/reading", "diastolic_mmhg", "104")
	s.tap(`#pad [data-pad="save"]`)
	s.shows("typed again")
	if got := eval[string](s, fieldOf("/reading", "diastolic_mmhg")+".value"); got != "104" {
		t.Errorf("the lower pressure is now %q", got)
	}
	s.saves("the reading", func() {
		s.fill("/reading", "again.systolic_mmhg", "192")
		s.send("/reading")
	})
	s.titled("Running")
	readings := h.written(base, "reading")
	if len(readings) != 1 {
		t.Fatalf("%d readings are written, want 1", len(readings))
	}
	if r := readings[0].Body.(*session.Reading); r.Systolic.String() != "192" || r.Diastolic.String() != "104" {
		t.Errorf("the reading holds %v over %v", r.Systolic, r.Diastolic)
	}
}
