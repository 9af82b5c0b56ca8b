package record

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// planned is a session under way with 2,400 mL planned in 4 h: 600 mL/h.
func (b *book) planned(id string) time.Time {
	b.t.Helper()
	b.must("session_opened", id, &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	b.must("weigh_in", id, &session.WeighIn{Weight: 73800, Scale: "bathroom", ReadIn: "kg"})
	b.plan(id)
	return b.must("connected", id, &session.Connected{}).At
}

// at moves an entry to so many minutes after the beginning.
func (b *book) at(began time.Time, minutes int, kind, id string, body any) Entry {
	e := b.entry(kind, id, body)
	e.At = began.Add(time.Duration(minutes) * time.Minute)
	if e.Written.Before(e.At) {
		e.Written = e.At.UTC()
	}
	return e
}

func shows(ml int) *session.Reading { return &session.Reading{Removed: ptr(unit.Volume(ml))} }

// What was removed so far is asked about when it is less than before, more than
// the pump can have taken since, or far ahead of the line; behind is not asked.
// Each is taken when it is typed again.
func TestRemovedSoFarIsAsked(t *testing.T) {
	again := func(ml int) *session.Reading {
		return &session.Reading{Removed: ptr(unit.Volume(ml)), Again: true}
	}
	at60 := []any{60, "reading", shows(600)}
	for _, tt := range []struct {
		name  string
		log   []any // minutes, kind, body
		at    int
		body  *session.Reading
		words string // empty: taken
	}{
		{"on the line", at60, 120, shows(1200), ""},
		{"behind", at60, 120, shows(650), ""},
		{"as before", at60, 61, shows(600), ""},
		{"less than before", at60, 120, shows(590), "less than the 600 of the last reading"},
		{"a digit lost", at60, 120, shows(120), "Did the machine's count begin again?"},
		{"the count began again", at60, 120, again(590), ""},
		{"began again, more than the pump could", at60, 70, again(590), "590 is 590\u00a0mL more than at "},
		{"after it began again", append(at60[:3:3], 90, "reading", again(300)), 120, shows(600), ""},
		{"after it began again, less", append(at60[:3:3], 90, "reading", again(300)), 120, shows(290), "less than the 300"},
		{"more than the pump can", at60, 70, shows(940), "340\u00a0mL more than at "},
		{"what the pump can", at60, 70, shows(780), ""},
		{"a digit too many", nil, 60, shows(6000), "the machine can have taken off about "},
		{"a higher rate explains it", at60, 120, &session.Reading{Removed: ptr(unit.Volume(2000)), Rate: ptr(unit.Rate(1400))}, "far ahead of the 1200\u00a0mL planned"},
		{"20 % ahead", at60, 120, shows(1440), ""},
		{"more than 20 % ahead", at60, 120, shows(1441), "1441\u00a0mL in all is far ahead of the 1200\u00a0mL planned by now"},
		{"ahead, the treatment stood still", append(at60[:3:3], 60, "pause", &session.Pause{}, 90, "resume", &session.Resume{}), 120, shows(1200), "far ahead of the 900\u00a0mL"},
		{"ahead, removal was off", append(at60[:3:3], 60, "removal_off", &session.RemovalOff{}, 90, "removal_on", &session.RemovalOn{}), 120, shows(1200), "far ahead of the 900\u00a0mL"},
		{"behind, removal was off", append(at60[:3:3], 60, "removal_off", &session.RemovalOff{}, 90, "removal_on", &session.RemovalOn{}), 120, shows(900), ""},
	} {
		b := newBook(t)
		began := b.planned("session-1")
		if plan, _ := session.Last[session.AgreedPlan](b.h.Session("session-1")); plan.SetGoal != 2400 || plan.Length != 240 {
			t.Fatalf("the plan is %+v", plan)
		}
		for i := 0; i < len(tt.log); i += 3 {
			if found := b.try(b.at(began, tt.log[i].(int), tt.log[i+1].(string), "session-1", tt.log[i+2])); len(found) > 0 {
				t.Fatalf("%s: %v", tt.name, found)
			}
		}
		e := b.at(began, tt.at, "reading", "session-1", tt.body)
		found := Check(b.h, e)
		if tt.words == "" {
			if len(found) != 0 {
				t.Errorf("%s: %v", tt.name, found)
			}
			continue
		}
		if len(found) != 1 || found[0].Field != "removed_ml" || found[0].Step != Ask || !strings.Contains(found[0].Words, tt.words) {
			t.Errorf("%s: %v, want one question: %s", tt.name, found, tt.words)
			continue
		}
		e.Again = map[string]string{"removed_ml": tt.body.Removed.String()}
		if found := b.try(e); len(found) != 0 {
			t.Errorf("%s: typed again: %v", tt.name, found)
		}
	}
}

// A correction is held against the record without what it corrects.
func TestRemovedSoFarCorrected(t *testing.T) {
	b := newBook(t)
	began := b.planned("session-1")
	e := b.at(began, 60, "reading", "session-1", shows(900))
	e.Again = map[string]string{"removed_ml": "900"}
	if found := b.try(e); len(found) > 0 {
		t.Fatal(found)
	}
	c := b.at(began, 60, "reading", "session-1", shows(600))
	c.Corrects, c.Reason = e.ID, "a 6 read as a 9"
	if found := b.try(c); len(found) > 0 {
		t.Errorf("%v", found)
	}
}

// The total at the end, the goal and the weight after are held against all that
// was removed, whatever the machine's count shows.
func TestTotalsAfterTheCountBeganAgain(t *testing.T) {
	b := newBook(t)
	began := b.planned("session-1")
	for _, e := range []Entry{
		b.at(began, 60, "reading", "session-1", shows(600)),
		b.at(began, 120, "reading", "session-1", &session.Reading{Removed: ptr(unit.Volume(600)), Again: true}),
	} {
		if found := b.try(e); len(found) > 0 {
			t.Fatal(found)
		}
	}
	if found := Check(b.h, b.at(began, 121, "goal_changed", "session-1", &session.GoalChanged{Goal: 1190})); !strings.Contains(found.On("goal_ml"), "less than the 1200 mL removed") {
		t.Errorf("a goal under what is removed: %v", found)
	}
	off := func(ml int) *session.CameOff {
		return &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(ml))}
	}
	for ml, words := range map[int]string{590: "less than the 600", 1800: "", 2701: "far above"} {
		if found := Check(b.h, b.at(began, 240, "came_off", "session-1", off(ml))); (len(found) > 0) != (words != "") || words != "" && !strings.Contains(found.On("removed_ml"), words) {
			t.Errorf("%d at the end: %v, want %q", ml, found, words)
		}
	}
	if found := b.try(b.at(began, 240, "came_off", "session-1", off(1800))); len(found) > 0 {
		t.Fatal(found)
	}
	// 73.8 kg less 2,400 mL, and 300 mL that came in with the blood.
	away := "away from what was expected"
	for kg, words := range map[unit.Mass]string{71700: "", 73200: "", 73300: away, 70200: "", 70100: away} {
		found := Check(b.h, b.at(began, 250, "weigh_out", "session-1", &session.WeighOut{Weight: kg, Scale: "bathroom"}))
		if (len(found) > 0) != (words != "") || words != "" && !strings.Contains(found.On("weight_kg"), words) {
			t.Errorf("%s kg after: %v, want %q", kg, found, words)
		}
	}
}

// Who of the unit said so is somebody who was reached, and a name can be read.
func TestUnitSaidIsSomebody(t *testing.T) {
	for said, want := range map[string]Step{"": "", "Sister Berg": "", "x": Refuse, "nobody answered": Refuse, "tried at 22:10, no answer": Refuse} {
		b := newBook(t)
		began := b.planned("session-1")
		found := Check(b.h, b.at(began, 60, "goal_changed", "session-1", &session.GoalChanged{Goal: 2000, Unit: said}))
		if want == "" && len(found) > 0 || want != "" && (len(found) != 1 || found[0].Step != want || found[0].Field != "unit_said") {
			t.Errorf("%q: %v, want %q", said, found, want)
		}
	}
}

// A low upper pressure is asked about once and kept when it is typed again,
// however far it fell.
func TestLowPressureIsKept(t *testing.T) {
	b := newBook(t)
	began := b.planned("session-1")
	sys := func(v int) *session.Reading { return &session.Reading{Systolic: ptr(unit.Pressure(v))} }
	if found := b.try(b.at(began, 30, "reading", "session-1", sys(140))); len(found) > 0 {
		t.Fatal(found)
	}
	for v, words := range map[int]string{100: "", 99: "outside 100 to 179", 88: "outside 100 to 179"} {
		e := b.at(began, 60, "reading", "session-1", sys(v))
		found := Check(b.h, e)
		if (words == "") != (len(found) == 0) || words != "" && (len(found) != 1 || !strings.Contains(found[0].Words, words)) {
			t.Errorf("%d: %v, want one question", v, found)
		}
		e.Again = map[string]string{"systolic_mmhg": unit.Pressure(v).String()}
		if found := Check(b.h, e); len(found) > 0 {
			t.Errorf("%d typed again: %v", v, found)
		}
	}
	e := b.at(began, 60, "reading", "session-1", sys(181))
	if found := Check(b.h, e); len(found) != 1 {
		t.Errorf("181: %v", found)
	}
	// A leap inside the bounds is still asked about.
	if found := b.try(b.at(began, 40, "reading", "session-1", sys(150))); len(found) > 0 {
		t.Fatal(found)
	}
	if found := Check(b.h, b.at(began, 60, "reading", "session-1", sys(105))); len(found) != 1 || !strings.Contains(found[0].Words, "was 150") {
		t.Errorf("105 after 150: %v", found)
	}
}

// "Newly irregular" is a reading by itself; "the count began again" is not.
func TestIrregularAloneIsAReading(t *testing.T) {
	b := newBook(t)
	began := b.planned("session-1")
	for body, taken := range map[*session.Reading]bool{{Irregular: true}: true, {Again: true}: false, {}: false} {
		if found := Check(b.h, b.at(began, 30, "reading", "session-1", body)); (len(found) == 0) != taken {
			t.Errorf("%+v: %v", *body, found)
		}
	}
}

// A person with a pacemaker is asked for the unit's pair of the pulse until it is
// written, in the place where a missing limit is asked for.
func TestPacemakerIsAskedFor(t *testing.T) {
	b := newBook(t)
	m, today := b.h.Member("person-one"), unit.DateOf(b.now)
	asked := func() bool {
		return strings.Contains(strings.Join(m.Asked(today), " "), "You have a pacemaker.")
	}
	if asked() {
		t.Error("without one")
	}
	b.must("person", "", &Person{Name: "Orla Finch", BirthYear: 1958, Colour: "reed", Adult: true, Pacemaker: true})
	if !asked() {
		t.Errorf("with one: %q", m.Asked(today))
	}
	rx := aPrescription()
	rx.PulseLow, rx.PulseHigh = ptr(unit.Pulse(55)), ptr(unit.Pulse(110))
	b.must("prescription", "", &rx)
	if asked() {
		t.Errorf("with the pair: %q", m.Asked(today))
	}
	rx = aPrescription()
	rx.PulseLow, rx.PulseHigh = nil, nil
	b.must("prescription", "", &rx)
	if !asked() {
		t.Errorf("without the pair again: %q", m.Asked(today))
	}
	rx.PulseNoneBy, rx.PulseNoneOn = "Nurse Oren", today
	b.must("prescription", "", &rx)
	if asked() {
		t.Errorf("once it is said that there is none: %q", m.Asked(today))
	}
}

// Who begins at 97 is not asked about 94 to 98 at every reading; a low one is asked
// about, and so is one further from the start.
func TestPressureOfWhoIsAlwaysUnder100(t *testing.T) {
	for start, readings := range map[int]map[int]bool{97: {98: false, 94: false, 90: false, 89: true, 84: true}, 112: {99: true, 94: true}} {
		b := newBook(t)
		began := b.planned("session-1")
		before := b.at(began, -5, "vitals_before", "session-1", &session.VitalsBefore{SitSystolic: ptr(unit.Pressure(start)), CannotStand: true})
		before.Again = map[string]string{"sitting_systolic_mmhg": unit.Pressure(start).String()}
		if found := b.try(before); found.On("sitting_systolic_mmhg") != "" {
			t.Fatal(found)
		}
		for v, asked := range readings {
			found := Check(b.h, b.at(began, 60, "reading", "session-1", &session.Reading{Systolic: ptr(unit.Pressure(v))}))
			if got := found.On("systolic_mmhg") != ""; got != asked {
				t.Errorf("begun at %d, %d: %v", start, v, found)
			}
		}
	}
}
