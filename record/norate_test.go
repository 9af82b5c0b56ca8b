package record

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// "The unit sets no removal rate" needs who said it and when, and cannot stand
// beside a rate.
func TestNoRateNeedsWhoAndWhen(t *testing.T) {
	rate, said := unit.RatePerKg(1000), unit.NewDate(2026, 10, 2)
	for _, tt := range []struct {
		name  string
		of    session.Limits
		field string // refused; empty for taken
		words string
	}{
		{"neither", session.Limits{}, "", ""},
		{"both of the pair", session.Limits{RateNoneBy: "Nurse Oren", RateNoneOn: said}, "", ""},
		{"a rate alone", session.Limits{Rate: &rate}, "", ""},
		{"who alone", session.Limits{RateNoneBy: "Nurse Oren"}, "rate_limit_none_on", "still blank"},
		{"when alone", session.Limits{RateNoneOn: said}, "rate_limit_none_by", "still blank"},
		{"spaces for who", session.Limits{RateNoneBy: "   ", RateNoneOn: said}, "rate_limit_none_by", "still blank"},
		{"spaces alone", session.Limits{RateNoneBy: "   "}, "rate_limit_none_by", "still blank"},
		{"beside a rate", session.Limits{Rate: &rate, RateNoneBy: "Nurse Oren", RateNoneOn: said}, "rate_limit_none_by", "beside a largest removal rate"},
		{"the day beside a rate", session.Limits{Rate: &rate, RateNoneOn: said}, "rate_limit_none_by", "beside a largest removal rate"},
		{"said tomorrow", session.Limits{RateNoneBy: "Nurse Oren", RateNoneOn: unit.NewDate(2026, 10, 21)}, "rate_limit_none_on", "has not come yet"},
		{"said today", session.Limits{RateNoneBy: "Nurse Oren", RateNoneOn: unit.NewDate(2026, 10, 20)}, "", ""},
	} {
		got, kept := limitsKept(t, tt.name, tt.of, tt.field, tt.words)
		if kept && (got.RateNoneBy != tt.of.RateNoneBy || got.RateNoneOn != tt.of.RateNoneOn) {
			t.Errorf("%s: kept as %+v", tt.name, got)
		}
	}
}

// limitsKept writes a prescription with these limits: refused at a field with these
// words, or, without a field, taken; then they come back through their JSON.
func limitsKept(t *testing.T, name string, of session.Limits, field, words string) (got session.Limits, kept bool) {
	t.Helper()
	b := newBook(t)
	rx := aPrescription()
	rx.Limits = of
	if rx.Any() {
		rx.SetBy, rx.SetOn = "Dr Q (invented)", rx.OrderedOn
	}
	found := b.try(b.entry("prescription", "", &rx))
	switch {
	case field == "" && len(found) > 0:
		t.Errorf("%s: %v", name, found)
	case field != "" && !strings.Contains(found.On(field), words):
		t.Errorf("%s: %v, want %s: %s", name, found, field, words)
	}
	if field != "" {
		return got, false
	}
	m := b.h.Member("person-one")
	return m.Prescriptions[len(m.Prescriptions)-1].Value.Limits, true
}

// The same of its figures for low pressure and of the pair for the pulse; beside half
// a pair it may stand.
func TestNoFigureNeedsWhoAndWhen(t *testing.T) {
	low, slow, fast, said, ahead := unit.Pressure(95), unit.Pulse(45), unit.Pulse(130), unit.NewDate(2026, 10, 2), unit.NewDate(2026, 10, 21)
	for _, tt := range []struct {
		name         string
		of           session.Limits
		field, words string // refused; empty for taken
	}{
		{"low pressure", session.Limits{FallNoneBy: "Nurse Oren", FallNoneOn: said}, "", ""},
		{"pulse", session.Limits{PulseNoneBy: "Nurse Oren", PulseNoneOn: said}, "", ""},
		{"all three", session.Limits{RateNoneBy: "N O", RateNoneOn: said, FallNoneBy: "N O", FallNoneOn: said, PulseNoneBy: "N O", PulseNoneOn: said}, "", ""},
		{"low pressure, who alone", session.Limits{FallNoneBy: "Nurse Oren"}, "act_systolic_none_on", "still blank"},
		{"low pressure, when alone", session.Limits{FallNoneOn: said}, "act_systolic_none_by", "still blank"},
		{"pulse, who alone", session.Limits{PulseNoneBy: "Nurse Oren"}, "start_pulse_none_on", "still blank"},
		{"pulse, spaces for who", session.Limits{PulseNoneBy: " ", PulseNoneOn: said}, "start_pulse_none_by", "still blank"},
		{"beside a pressure", session.Limits{FallBelow: &low, FallNoneBy: "Nurse Oren", FallNoneOn: said}, "act_systolic_none_by", "beside a figure for low pressure"},
		{"beside a fall", session.Limits{FallBy: &low, FallNoneBy: "Nurse Oren", FallNoneOn: said}, "act_systolic_none_by", "beside a figure for low pressure"},
		{"beside the pair", session.Limits{PulseLow: &slow, PulseHigh: &fast, PulseNoneBy: "Nurse Oren", PulseNoneOn: said}, "start_pulse_none_by", "beside the pair"},
		{"beside half a pair", session.Limits{PulseLow: &slow, PulseNoneBy: "Nurse Oren", PulseNoneOn: said}, "", ""},
		{"low pressure, said tomorrow", session.Limits{FallNoneBy: "Nurse Oren", FallNoneOn: ahead}, "act_systolic_none_on", "has not come yet"},
		{"pulse, said tomorrow", session.Limits{PulseNoneBy: "Nurse Oren", PulseNoneOn: ahead}, "start_pulse_none_on", "has not come yet"},
	} {
		got, kept := limitsKept(t, tt.name, tt.of, tt.field, tt.words)
		if kept && (got.FallNoneOn != tt.of.FallNoneOn || got.PulseNoneBy != tt.of.PulseNoneBy) {
			t.Errorf("%s: kept as %+v", tt.name, got)
		}
	}
}

// Under 35 kg the unit's rate is needed for a plan; that it sets none is not enough.
func TestNoRateForLightPeople(t *testing.T) {
	b := newBook(t)
	rx := aPrescription()
	rx.DryWeight, rx.Rate = 34_900, nil
	rx.RateNoneBy, rx.RateNoneOn = "Nurse Oren", rx.OrderedOn
	if found := b.try(b.entry("prescription", "", &rx)); !strings.Contains(found.On("dry_weight_kg"), "no plan is made") {
		t.Errorf("%v", found)
	}
	if no := session.NoPlanOf(&session.Session{Rx: &rx}, session.History{}, b.now); no == nil || no.Codes[0] != "no_plan_light" {
		t.Errorf("under 35 kg without a rate: %v", no)
	}
}

// A prescription written before these keys were there prints without them, so that
// an export of an older record is what it was.
func TestPrescriptionWithoutTheNewKeys(t *testing.T) {
	b := newBook(t)
	raw, err := b.life[3].MarshalJSON()
	if err != nil || strings.Contains(string(raw), "_none_") {
		t.Errorf("%v: %s", err, raw)
	}
}

// Until the limit of rate is written, or that there is none, it is asked for; a
// greatest volume is no answer.
func TestRateLimitIsAskedFor(t *testing.T) {
	b := newBook(t)
	m := b.h.Member("person-one")
	today := unit.DateOf(b.now)
	if got := m.Asked(today); len(got) != 0 {
		t.Errorf("with a rate: %q", got)
	}
	write := func(set func(*session.Limits)) []string {
		rx := aPrescription()
		set(&rx.Limits)
		b.must("prescription", "", &rx)
		return m.Asked(today)
	}
	if got := write(func(l *session.Limits) { l.Rate = nil }); len(got) != 1 || !strings.Contains(got[0], "Ask your unit") {
		t.Errorf("with a greatest volume only: %q", got)
	}
	if got := write(func(l *session.Limits) { *l = session.Limits{} }); len(got) != 1 {
		t.Errorf("with nothing: %q", got)
	}
	if got := write(func(l *session.Limits) {
		*l = session.Limits{RateNoneBy: "Nurse Oren", RateNoneOn: today}
	}); len(got) != 0 {
		t.Errorf("once it is said that there is none: %q", got)
	}
	if got := m.Asked(aPrescription().ValidFrom.Add(-1)); len(got) != 0 {
		t.Errorf("before any prescription: %q", got)
	}
}

// The asking holds no session up: a household that never wrote a rate starts as
// before, and the start line is ready at an ordinary rate.
func TestWithoutARateASessionStarts(t *testing.T) {
	for goal, want := range map[unit.Mass]session.CheckState{2000: session.Ready, 2400: session.Look, 3400: session.StopHere} {
		b := newBook(t)
		rx := aPrescription()
		rx.Limits = session.Limits{}
		b.must("prescription", "", &rx)
		id := "session-1"
		b.open(id)
		in := b.entry("weigh_in", id, &session.WeighIn{Weight: 72_000 + goal, Scale: "bathroom", ReadIn: "kg"})
		in.Again = map[string]string{"weight_kg": in.Body.(*session.WeighIn).Weight.String()}
		if found := b.try(in); len(found) > 0 {
			t.Fatal(found)
		}
		b.plan(id)
		p, _ := session.Last[session.AgreedPlan](b.h.Session(id))
		digits, err := b.h.Session(id).Machine.ShowGoal(p.SetGoal)
		if err != nil {
			t.Fatal(err)
		}
		digits, _, _ = strings.Cut(digits, "\u00a0")
		b.must("read_back", id, &session.ReadBack{Goal: p.SetGoal, Shown: digits})
		checks := session.StartLine(b.h.Session(id), b.h.Member("person-one").History(b.h.Session(id)), b.now)
		c := checks[slices.IndexFunc(checks, func(c session.Check) bool { return c.ID == session.CheckPlan })]
		if c.State != want || c.Passed() != (want != session.StopHere) {
			t.Errorf("%s kg over: %s, %q, want %s", goal, c.State, c.Words, want)
		}
	}
}

// What a changed limit loosened stands before every other change, also when it was
// taken away.
func TestLimitsComeFirstAmongChanges(t *testing.T) {
	was := aPrescription()
	now := was
	now.OrderedBy, now.DryWeight = "Nurse Oren", 71_500
	now.Rate, now.RateNoneBy, now.RateNoneOn = nil, "Nurse Oren", unit.NewDate(2026, 10, 9)
	got := Diff(&was, &now)
	want := []Change{
		{"Largest removal rate", "13\u00a0mL/h/kg", "nothing"},
		{"The unit sets no removal rate: said by", "nothing", "Nurse Oren"},
		{"The unit sets no removal rate: said on", "nothing", "2026-10-09"},
		{"Ordered by", "Dr Q (invented)", "Nurse Oren"},
		{"Dry weight", "72\u00a0kg", "71.5\u00a0kg"},
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %q\nwant %q", got, want)
	}
	kind, _ := Find("prescription")
	n := 0
	for _, f := range kind.Fields {
		if f.limit() {
			n++
		}
	}
	if limits := reflect.TypeFor[session.Limits]().NumField(); n != limits {
		t.Errorf("%d of the fields are limits, want %d", n, limits)
	}
}

// Written on paper over the unit's limit, what was dialled in is taken and stands
// at stop; as it happens it is not taken.
func TestDialledInOverTheLimit(t *testing.T) {
	for _, source := range []string{"live", "paper"} {
		b := newBook(t)
		id := "session-1"
		b.must("session_opened", id, &session.Opened{Place: "home", Source: source, Confirmed: true})
		in := b.entry("weigh_in", id, &session.WeighIn{Weight: 75_300, Scale: "bathroom", ReadIn: "kg"})
		in.Again = map[string]string{"weight_kg": "75.3"}
		if found := b.try(in); len(found) > 0 {
			t.Fatal(found)
		}
		sent := b.planOf(id) // 3900 mL, of which 3740 pass at 13 mL/h/kg
		if sent.Goal != 3900 || sent.SetGoal != 3740 {
			t.Fatalf("%+v", sent)
		}
		sent.SetGoal, sent.LeftOver, sent.Rate, sent.RatePerKg = 3900, 0, 975, 1354
		found := b.try(b.entry("plan", id, sent))
		if source == "live" {
			if !strings.Contains(found.On("set_goal_ml"), "0 to 3740") {
				t.Errorf("live: %v", found)
			}
			continue
		}
		if len(found) > 0 {
			t.Fatalf("paper: %v", found)
		}
		checks := session.StartLine(b.h.Session(id), b.h.Member("person-one").History(b.h.Session(id)), b.now.Add(time.Minute))
		c := checks[slices.IndexFunc(checks, func(c session.Check) bool { return c.ID == session.CheckPlan })]
		if c.State != session.StopHere || !strings.Contains(c.Words, "13.5\u00a0mL/h/kg (975\u00a0mL/h), above your unit’s 13.") || !strings.Contains(c.Limit, "set by Dr Q (invented) on 1 October 2026") {
			t.Errorf("paper: %+v", c)
		}
	}
}
