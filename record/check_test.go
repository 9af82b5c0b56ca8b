package record

import (
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// Every number of every kind is tried just below, at and just above each of
// its bounds; the bounds come from the table, so that a kind that is added is
// tried too.
func TestBoundsOfEveryNumber(t *testing.T) {
	tried := 0
	for _, k := range Kinds() {
		for _, f := range k.Fields {
			if f.Type() != TypeNumber && f.Type() != TypeWhole {
				continue
			}
			step := math.Pow(10, -float64(f.Decimals()))
			if f.Refuse != nil {
				tried++
				expect(t, k, f, f.Refuse.Lo, Ask, f.Ask != nil && f.Refuse.Lo < f.Ask.Lo)
				expect(t, k, f, f.Refuse.Hi, Ask, f.Ask != nil && f.Refuse.Hi > f.Ask.Hi)
				expect(t, k, f, f.Refuse.Lo-step, Refuse, true)
				expect(t, k, f, f.Refuse.Hi+step, Refuse, true)
			}
			if f.Ask != nil {
				tried++
				expect(t, k, f, f.Ask.Lo, Ask, false)
				expect(t, k, f, f.Ask.Hi, Ask, false)
				expect(t, k, f, f.Ask.Hi+step, Ask, true)
				if f.Refuse != nil && (f.Ask.Lo < f.Refuse.Lo || f.Ask.Hi > f.Refuse.Hi) {
					t.Errorf("%s.%s asks outside %v but refuses outside %v", k.Name, f.Key, *f.Ask, *f.Refuse)
				}
			}
		}
	}
	if tried < 100 {
		t.Errorf("only %d bounds were tried", tried)
	}
}

// expect puts v into the field alone and looks for a finding of that step.
func expect(t *testing.T, k *Kind, f Field, v float64, step Step, want bool) {
	t.Helper()
	body := k.New()
	target := reflect.ValueOf(body).Elem()
	if err := f.setText(target, strconv.FormatFloat(v, 'f', f.Decimals(), 64)); err != nil {
		if want && step == Refuse {
			return // refused by the reader already: below zero
		}
		t.Errorf("%s.%s = %v cannot be read: %v", k.Name, f.Key, v, err)
		return
	}
	if _, given := f.Of(body); !given {
		return // an optional 0 is "none"
	}
	c := &Checker{Kind: k, Entry: Entry{Kind: k.Name, Body: body}}
	n, _ := f.number(body)
	c.bounds(f, n)
	got := false
	for _, one := range c.found {
		got = got || one.Step == step
	}
	if got != want {
		t.Errorf("%s.%s = %v: %s is %v, want %v", k.Name, f.Key, v, step, got, want)
	}
}

// Columns end in their unit, so that no bare number crosses a file (H-01).
func TestEveryQuantityNamesItsUnit(t *testing.T) {
	suffix := map[string]string{
		"kg": "_kg", "mL": "_ml", "mL/h": "_ml_h", "mL/min": "_ml_min", "mL/h/kg": "_ml_h_kg", "mmHg": "_mmhg", "/min": "_per_min", "°C": "_c",
		"mS/cm": "_ms_cm", "mg/L": "_mg_l", "mmol/L": "_mmol_l", "IU": "_iu", "IU/mL": "_iu_ml", "IU/h": "_iu_h", "mg": "_mg", "min": "_min", "L": "_l", "%": "_percent", "pH": "ph",
	}
	for _, k := range Kinds() {
		for _, f := range k.Fields {
			if u := f.Symbol(); u != "" && !strings.HasSuffix(f.Key, suffix[u]) {
				t.Errorf("%s.%s holds %s, but its name does not end in %q", k.Name, f.Key, u, suffix[u])
			}
		}
	}
}

// An asked value is typed again, the same; anything else is asked about again.
func TestAskedValuesAreTypedAgain(t *testing.T) {
	b := newBook(t)
	b.open("session-1")
	low := &session.VitalsBefore{SitSystolic: ptr(unit.Pressure(92)), SitDiastolic: ptr(unit.Pressure(60))}
	e := b.entry("vitals_before", "session-1", low)
	if found := Check(b.h, e); len(found) != 1 || found[0].Step != Ask || found[0].Field != "sitting_systolic_mmhg" {
		t.Fatalf("92 systolic: %v, want one question", found)
	}
	e.Again = map[string]string{"sitting_systolic_mmhg": "95"}
	if found := Check(b.h, e); len(found) != 1 || !strings.Contains(found[0].Words, "then as 95") {
		t.Errorf("typed 92 then 95: %v, want it asked again with both", found)
	}
	e.Again["sitting_systolic_mmhg"] = "92"
	if found := b.try(e); len(found) != 0 {
		t.Errorf("typed 92 twice: %v, want it taken", found)
	}
}

// The beginning of treatment is held by the start line on every road in (CC12).
func TestConnectedWaitsForTheStartLine(t *testing.T) {
	b := newBook(t)
	b.open("session-1")
	found := b.try(b.entry("connected", "session-1", &session.Connected{}))
	if !found.Refused() || len(found) < 5 {
		t.Errorf("connected on an empty start line: %v, want it refused with the reasons", found)
	}
	if found := b.try(b.entry("override", "session-1", &session.Override{Check: session.CheckChlorine, Reason: "because"})); !found.Refused() {
		t.Error("an override of seven letters was taken")
	}
	if found := b.try(b.entry("override", "session-1", &session.Override{Check: "no_such", Reason: "a long enough reason"})); !found.Refused() {
		t.Error("an override of no check was taken")
	}
}

func TestOrderOfASession(t *testing.T) {
	b := newBook(t)
	b.open("session-1")
	if found := b.try(b.entry("drink", "session-1", &session.Drink{Volume: 100})); !found.Refused() {
		t.Error("a drink during a treatment that has not begun was taken")
	}
	if found := b.try(b.entry("session_opened", "session-2", &session.Opened{Place: "home", Source: "live", Confirmed: true})); !found.Refused() {
		t.Error("a second live session was opened over the first")
	}
	if found := b.try(b.entry("closed", "no-such-session", &session.Closed{})); !found.Refused() {
		t.Error("a session that was never opened was closed")
	}
	b2 := newBook(t)
	b2.paperRun("session-9")
	if found := b2.try(b2.entry("connected", "session-9", &session.Connected{})); !found.Refused() {
		t.Error("a treatment began twice")
	}
	if found := b2.try(b2.entry("resume", "session-9", &session.Resume{})); !found.Refused() {
		t.Error("a treatment that was not paused went on")
	}
	b2.must("pause", "session-9", &session.Pause{})
	if found := b2.try(b2.entry("pause", "session-9", &session.Pause{})); !found.Refused() {
		t.Error("a paused treatment was paused")
	}
}

func TestEnvelopeRefusals(t *testing.T) {
	b := newBook(t)
	good := func() Entry { return b.entry("question", "", &Question{Words: "may I swim"}) }
	for name, spoil := range map[string]func(*Entry){
		"id":       func(e *Entry) { e.ID = "short" },
		"zone":     func(e *Entry) { e.Zone = "Local" },
		"at":       func(e *Entry) { e.At = e.Written.Add(10 * time.Minute) },
		"person":   func(e *Entry) { e.Person = "nobody-here" },
		"session":  func(e *Entry) { e.Session = "session-1" },
		"corrects": func(e *Entry) { e.Corrects, e.Reason = "entry-99999", "wrong one" },
		"reason":   func(e *Entry) { e.Reason = "for nothing" },
		"words":    func(e *Entry) { e.Body = &Question{Words: strings.Repeat("x", 2001)} },
	} {
		e := good()
		spoil(&e)
		if found := Check(b.h, e); !found.Refused() || found.On(name) == "" {
			t.Errorf("spoilt %s: %v, want it refused by that name", name, found)
		}
	}
	if found := Check(b.h, good()); len(found) != 0 {
		t.Errorf("a good entry: %v", found)
	}
}

func TestHeparinFollowsTheVial(t *testing.T) {
	b := newBook(t)
	b.open("session-1")
	exp := unit.NewDate(2027, 1, 31)
	vial := func(strength unit.Strength, ml unit.Drawn, again *unit.Strength) *session.HeparinDrawn {
		return &session.HeparinDrawn{Strength: strength, LabelRead: again, Bolus: 2000, BolusVol: ml, Lot: "H1", Expiry: exp}
	}
	if found := b.try(b.entry("heparin_drawn", "session-1", vial(1000, 20, nil))); !found.Refused() {
		t.Error("2000 IU at 1000 IU/mL was taken as 0.2 mL") // ×10, H-55
	}
	if found := b.try(b.entry("heparin_drawn", "session-1", vial(5000, 40, nil))); !strings.Contains(found.On("label_read_again_iu_ml"), "Read the label aloud") {
		t.Errorf("a new strength: %v, want the label read again", found)
	}
	if found := b.try(b.entry("heparin_drawn", "session-1", vial(5000, 40, ptr(unit.Strength(5000))))); len(found) != 0 {
		t.Errorf("a new strength read again: %v, want it taken", found)
	}
}

// More removed than the plan could have taken off by then is asked about when
// the treatment ends.
func TestRemovedFarAboveThePlan(t *testing.T) {
	b := newBook(t)
	b.must("session_opened", "session-1", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	b.must("weigh_in", "session-1", &session.WeighIn{Weight: 74100, Scale: "bathroom", ReadIn: "kg"})
	s, m := b.h.Session("session-1"), b.h.Member("person-one")
	plan, err := session.MakePlan(s, session.Choices{}, m.History(s), b.now.Add(time.Minute))
	if err != nil {
		t.Fatal(err)
	}
	b.must("plan", "session-1", &plan.AgreedPlan)
	b.must("connected", "session-1", &session.Connected{})
	end := b.entry("came_off", "session-1", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(2400))})
	if found := Check(b.h, end); len(found) != 1 || found[0].Field != "removed_ml" || found[0].Step != Ask {
		t.Errorf("2400 mL after a minute: %v, want one question", found)
	}
	end.At = end.At.Add(3*time.Hour + 50*time.Minute)
	end.Written = end.At.UTC()
	if found := Check(b.h, end); len(found) != 0 {
		t.Errorf("2400 mL at the end: %v, want it taken", found)
	}
}

// The rule of the vial is one rule: what the start line would say of a strength,
// the entry is refused for, with the same words. A vial that was used last time
// and is not the prescribed one is read aloud too.
func TestStrengthIsOneRule(t *testing.T) {
	for name, tt := range map[string]struct {
		vial        unit.Strength
		last, again *unit.Strength
	}{
		"the prescribed one":                  {1000, nil, nil},
		"another":                             {5000, nil, nil},
		"another, read again":                 {5000, nil, ptr(unit.Strength(5000))},
		"another, read otherwise":             {5000, nil, ptr(unit.Strength(500))},
		"last time's and not the prescribed":  {5000, ptr(unit.Strength(5000)), nil},
		"the prescribed and not last time's":  {1000, ptr(unit.Strength(5000)), nil},
		"the prescribed again and last, both": {1000, ptr(unit.Strength(1000)), nil},
	} {
		b := newBook(t)
		if tt.last != nil {
			b.must("session_opened", "session-0", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
			b.must("heparin_drawn", "session-0", &session.HeparinDrawn{Strength: *tt.last, LabelRead: tt.last, Bolus: 2000, BolusVol: unit.Drawn(2000 * 100 / int64(*tt.last)), Lot: "H0", Expiry: unit.NewDate(2027, 1, 31)})
			b.must("closed", "session-0", &session.Closed{})
		}
		b.open("session-1")
		drawn := &session.HeparinDrawn{Strength: tt.vial, LabelRead: tt.again, Bolus: 2000, BolusVol: unit.Drawn(2000 * 100 / int64(tt.vial)), Lot: "H1", Expiry: unit.NewDate(2027, 1, 31)}
		said := Check(b.h, b.entry("heparin_drawn", "session-1", drawn)).On("label_read_again_iu_ml")
		want := session.LabelAgain(b.h.Session("session-1").Rx, *drawn, tt.last)
		if (said == "") != (want == "") || !strings.Contains(said, strings.TrimSuffix(want, ".")) {
			t.Errorf("%s: refused with %q, and the start line says %q", name, said, want)
		}
	}
}
