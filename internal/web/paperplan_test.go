package web

import (
	"context"
	"net/http"
	"strings"
	"testing"
	"time"

	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

const noPlanSentence = "Plan by your unit's paper. Everything you measure is kept here."

// notPlanned are people for whom no plan is made, one for each reason.
var notPlanned = []struct {
	name string
	who  func(*record.Person)
	rx   func(*session.Prescription)
	says string
}{
	{"a child", func(p *record.Person) { p.Adult, p.BirthYear = false, 2014 }, nil, "A child"},
	{"a removal profile", nil, func(rx *session.Prescription) { rx.RemovalProfile = true }, "removal profile"},
	{"a sodium profile", nil, func(rx *session.Prescription) { rx.SodiumProfile = true }, "sodium profile"},
	{"pregnant, no rate", func(p *record.Person) { p.Pregnant = true }, func(rx *session.Prescription) { rx.Rate = nil }, "removal rate is not written"},
	{"pregnant, no pressures", func(p *record.Person) { p.Pregnant = true }, func(rx *session.Prescription) { rx.FallBelow, rx.FallBy = nil, nil }, "when to act"},
	{"pregnant, an old dry weight", func(p *record.Person) { p.Pregnant = true }, func(rx *session.Prescription) { rx.DrySetOn = rx.DrySetOn.Add(-30) }, "older than 7 days"},
	{"34 kg, no rate", nil, func(rx *session.Prescription) { rx.DryWeight, rx.Rate, rx.MaxRemoval = 34_000, nil, nil }, "Under 35"},
}

// noPlanHouse is a household of one such person, and the person's address.
func noPlanHouse(t *testing.T, who func(*record.Person), change func(*session.Prescription)) (h *house, ida, weight string) {
	h = home(t, 0, false)
	p := record.Person{Name: "Ida Brook", BirthYear: 1991, Colour: "reed", Adult: true}
	if who != nil {
		who(&p)
	}
	h.keep("person-ida", &p)
	h.keep("", &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass"})
	rx := simulate.Prescription(unit.DateOf(h.now))
	rx.Heparin, rx.HepStrength, rx.HepBolus, rx.HepHourly, rx.HepStop = "none", nil, nil, nil, nil
	if change != nil {
		change(&rx)
	}
	e := record.Entry{ID: newID(), Kind: "prescription", Person: "person-ida", Body: &rx, By: "Test", Again: map[string]string{"dry_weight_kg": rx.DryWeight.String()}}
	if out, err := h.desk.Record(context.Background(), e); err != nil || !out.Clear() {
		t.Fatalf("%v %v", err, firstFinding(out))
	}
	return h, "/p/person-ida", (rx.DryWeight + 1200).Digits(1)
}

// goPast writes a reason on every check that is not ready, but for the plan.
func (h *house) goPast(base string) {
	h.t.Helper()
	var left []string
	h.desk.View(func(rec *record.Household) {
		s := rec.Session(base[strings.LastIndex(base, "/")+1:])
		for _, c := range session.HoldingUp(session.StartLine(s, rec.Member("person-ida").History(s), h.now)) {
			left = append(left, c.ID)
		}
	})
	for _, id := range left {
		if id == session.CheckPlan {
			h.t.Fatalf("the plan holds up the start")
		}
		h.saved(base+"/override", "check", id, "reason", "an invented evening of a test")
	}
}

// A whole session on the pages for each reason for which no plan is made: each page
// works to the end, the sentence and the reason stand on the pages of plan, setting up
// and running, and nothing is worked out to be set.
func TestWholeSessionWithoutPlan(t *testing.T) {
	for _, tt := range notPlanned {
		h, ida, weight := noPlanHouse(t, tt.who, tt.rx)
		base := h.saved(ida+"/session", "place", "home", "source", "live", "session", newID())
		h.later(time.Minute)
		h.says(base, noPlanSentence, tt.says, "Type what the paper says.")
		h.says(base+"/plan", noPlanSentence, tt.says, "What the paper says") // without a weight
		h.saved(base+"/fitness", "none_of_these", "yes")
		h.saved(base+"/weigh_in", "weight_kg", weight, "again.weight_kg", weight, "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
		h.saved(base+"/vitals_before", "sitting_systolic_mmhg", "138", "sitting_diastolic_mmhg", "80", "standing_systolic_mmhg", "130", "standing_diastolic_mmhg", "78", "pulse_per_min", "70", "temperature_c", "36.5")
		status, to, text := h.post(base+"/paper_plan", formOf("goal_ml", "1000", "length_min", "240", "rate_ml_h", "200", "from", "Dr Zupan, 1 June"))
		if status != http.StatusUnprocessableEntity || !strings.Contains(text, "250 mL/h on average") {
			t.Errorf("%s: a highest rate under the mean: %d to %s\n%s", tt.name, status, to, problems(text))
		}
		form := fieldsOf(t, h.see(base+"/plan"), base+"/paper_plan")
		for key, value := range map[string]string{"goal_ml": "1000", "length_min": "240", "rate_ml_h": "300", "from": "Dr Zupan, 1 June"} {
			form.Set(key, value)
		}
		if status, to, text = h.post(base+"/paper_plan", form); status != http.StatusSeeOther || !strings.HasSuffix(to, "/read_back") {
			t.Fatalf("%s: the paper: %d to %s\n%s", tt.name, status, to, problems(text))
		}
		h.says(base+"/plan", noPlanSentence, "Typed from the paper:", "1.00 L in 4 h 00, from Dr Zupan, 1 June")
		h.saved(base+"/read_back", "shown", "0.10", "machine_length_min", "240")
		h.says(base+"/read_back", "Plan and machine differ")
		h.says(base, "Paper 1.00, machine 0.10.")
		h.saved(base+"/read_back", "shown", "1.00", "machine_length_min", "240")
		h.says(base, "Paper: Dr Zupan, 1 June. 1.00 L in 4 h, read back.", "Plan: 1.00 L")
		h.goPast(base)
		h.saved(base+"/connected", "blood_flow_ml_min", "310")
		h.later(time.Hour)
		h.saved(base+"/reading", "systolic_mmhg", "128", "diastolic_mmhg", "74", "blood_flow_ml_min", "310", "removed_ml", "240")
		h.saved(base+"/event/low_pressure", "systolic_mmhg", "84")
		h.saved(base + "/event/lie_back")
		h.later(30 * time.Minute)
		h.says(base, noPlanSentence, tt.says, "To come off 0.76 L")
		if text := plainText(h.see(base)); strings.Contains(text, "To set now") {
			t.Errorf("%s: something to set", tt.name)
		}
		for _, kind := range record.Kinds() {
			if kind.Live {
				h.see(base + "/" + kind.Name)
			}
		}
		h.see(base + "/washback")
		h.later(3 * time.Hour)
		h.lookedFirst(base)
		h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "1000", "returned", "all")
		h.see(base)
		h.saved(base+"/weigh_out", "weight_kg", weight, "clothing_kg", "0", "scale", "bathroom scale")
		h.saved(base+"/disinfection", "programme", "heat", "result", "passed")
		h.saved(base+"/closed", "feel", "well")
		h.says(base+"/sheet", "By the unit's paper", "Dr Zupan, 1 June", "1.00 L")
		for _, page := range []string{"/", "/card", "/sessions", "/session", "/dose", "/unit", "/prescription"} {
			h.see(ida + page)
		}
		h.later(40 * time.Hour)
		next := h.saved(ida+"/session", "place", "home", "source", "live", "session", newID())
		h.says(next, noPlanSentence, tt.says)
	}
}

// Where a plan can be made the form of the paper is refused, and its page makes a plan.
func TestPaperIsNoWayRoundAPlan(t *testing.T) {
	h, ida, weight := noPlanHouse(t, nil, nil)
	base := h.saved(ida+"/session", "place", "home", "source", "live", "session", newID())
	h.later(time.Minute)
	h.saved(base+"/weigh_in", "weight_kg", weight, "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
	h.refused(base+"/paper_plan", "a plan can be made here", "goal_ml", "1000", "length_min", "240", "from", "Dr Zupan")
	if text := plainText(h.see(base + "/plan")); strings.Contains(text, noPlanSentence) || !strings.Contains(text, "I agree to this plan") {
		t.Error("no plan is offered")
	}
}

// Removal only is ticked on the form that opens a session; its start line asks for no
// bath, and its sheet says what it was.
func TestRemovalOnlyByPage(t *testing.T) {
	h, ida, _ := noPlanHouse(t, nil, nil)
	h.says(ida+"/session", "Removal only, by my unit's order")
	base := h.saved(ida+"/session", "place", "home", "source", "live", "session", newID(), "removal_only", "yes")
	h.later(time.Minute)
	page := h.see(base)
	for _, id := range []string{session.CheckBath, session.CheckConduct} {
		if strings.Contains(page, `id="check-`+id+`"`) {
			t.Errorf("%s is checked", id)
		}
	}
	if !strings.Contains(page, `id="check-`+session.CheckSelfTest+`"`) {
		t.Error("the self-test is not checked")
	}
	h.silent(base, "Read the bath label", "Conductivity and temperature")
	h.says(base, "Removal only, water not tested. Test it before any dialysis.", "Removal only: no dialysis, by your unit’s order.")
	h.says(base+"/sheet", "Removal only: no dialysis")
}
