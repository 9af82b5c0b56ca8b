package web

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// ofUnit leads to the number of the unit by day.
const ofUnit = `href="tel:&#43;000123"`

// weighs opens a session of somebody who is dry at 63.5 kg and writes the weight.
func (h *house) weighs(person, kg string) (base string) {
	h.t.Helper()
	base = h.saved(person+"/session", "place", "home", "source", "live", "session", newID())
	h.later(time.Minute)
	h.saved(base+"/weigh_in", "weight_kg", kg, "again.weight_kg", kg, "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
	return base
}

// The plan page below the dry weight: how far under stands with its minus, the
// sum goes on, and what it asks for is said first – nothing, a look, or a call.
func TestPlanPageBelowDryWeight(t *testing.T) {
	for _, tt := range []struct {
		kg, dial     string
		says, silent []string
		call         bool
	}{
		{"63.3", "0.35", []string{"Below dry weight −0.2 kg", "+ 300 mL", "+ 250 mL", "= 350 mL", "not so far under", "inside the limits your unit set"}, []string{"below your dry weight", "short of dry weight"}, false},
		{"63.1", "0.15", []string{"0.4 kg below your dry weight. Look again: scale, clothes, how you feel.", "Below dry weight −0.4 kg", "= 150 mL", "not so far under"},
			[]string{"Ring your unit before", "inside the limits", "short of dry weight"}, false},
		{"62.9", "0.00", []string{"0.6 kg below your dry weight. Ring your unit before you start.", "Below dry weight −0.6 kg", "Still short of dry weight + 50 mL", "= 0 mL", "this far under"},
			[]string{"Look again", "inside the limits"}, true},
	} {
		h, ida := settled(t)
		base := h.weighs(ida, tt.kg)
		h.says(base+"/plan", append(tt.says, "Fluid goal: enter "+tt.dial, "63.5 kg")...)
		h.silent(base+"/plan", append(tt.silent, "Nothing is taken off")...)
		text := mainOf(h.see(base + "/plan")) // what to do when something is wrong has numbers on every page
		if strings.Contains(text, ofUnit) != tt.call || strings.Contains(text, `<section class="look" role="alert">`) != tt.call || strings.Contains(text, `tel:112`) {
			t.Errorf("%s kg: the unit's number is there: %v, want %v", tt.kg, strings.Contains(text, ofUnit), tt.call)
		}
		if head, dial := strings.Index(text, "below your dry weight"), strings.Index(text, "Fluid goal: enter"); head > dial {
			t.Errorf("%s kg: it is said after the goal", tt.kg)
		}
		form := fieldsOf(t, text, base+"/plan")
		status, to, answer := h.post(base+"/plan", form)
		if status != http.StatusSeeOther || !strings.HasSuffix(to, "/read_back") {
			t.Fatalf("%s kg: agreeing gives %d\n%s", tt.kg, status, problems(answer))
		}
		h.says(base+"/plan", "You agreed to this plan")
	}
}

// With a bad stomach any amount under is one to ring about.
func TestPlanPageBelowDryWeightUnwell(t *testing.T) {
	h, ida := settled(t)
	base := h.weighs(ida, "63.4")
	h.silent(base+"/plan", "below your dry weight")
	h.saved(base+"/fitness", "stomach", "yes", "rang", "the unit by day, who asked for the weight")
	h.says(base+"/plan", "0.1 kg below your dry weight, with vomiting, diarrhoea or not eating. Ring your unit before you start.")
	if !strings.Contains(h.see(base+"/plan"), ofUnit) {
		t.Error("the unit's number is not there")
	}
}

// The unit's own figure is typed with its other limits, shown with them, and used.
func TestBelowDryRingByTheUnit(t *testing.T) {
	h, ida := settled(t)
	h.says(ida+"/prescription", "Ring when this far under the dry weight not set by your unit uses 0.5 kg")
	rx := *mustRx(t, h)
	ring := unit.Mass(800)
	rx.DryRing = &ring
	h.keep("person-ida", &rx)
	h.says(ida+"/prescription", "Ring when this far under the dry weight 0.8 kg")
	if !strings.Contains(h.see(ida+"/prescription/new"), `name="below_dry_ring_kg"`) {
		t.Error("the form of the prescription has no field for it")
	}
	base := h.weighs(ida, "62.9")
	h.says(base+"/plan", "0.6 kg below your dry weight. Look again", "0.8 kg set by Dr B. Zupan (invented)", "not so far under")
	h.silent(base+"/plan", "Ring your unit before")
}

// Today says how far the last weight lies below, and what would come off all the same.
func TestTodayBelowDryWeight(t *testing.T) {
	h, ida := settled(t)
	h.holdSession("person-ida", "session-of-tue", time.Date(2026, 6, 9, 17, 0, 0, 0, h.now.Location()), 63_200)
	h.says(ida+"/", "0.25 L would come off", "That is 0.3 kg below your dry weight: drinks and washback fill it up first.")
	h.silent(ida+"/", "Nothing would come off")
}

// A page that stood open since the older rule is not taken for a plan.
func TestPlanFormOfTheOlderRule(t *testing.T) {
	h, ida := settled(t)
	base := h.weighs(ida, "63.1")
	form := fieldsOf(t, h.see(base+"/plan"), base+"/plan")
	form.Set("goal_ml", "0")
	form.Set("set_goal_ml", "0")
	if status, _, text := h.post(base+"/plan", form); status != http.StatusUnprocessableEntity || !strings.Contains(text, "neither may be used") {
		t.Errorf("nothing for 0.4 kg under: %d\n%s", status, problems(text))
	}
	h.member("person-ida", func(m *record.Member) {
		if plan, _ := session.Last[session.AgreedPlan](m.Open()); plan != nil {
			t.Errorf("it was agreed: %+v", plan)
		}
	})
}
