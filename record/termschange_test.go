package record

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// order writes the prescription again as it holds now, with something changed.
func (b *book) order(change func(*session.Prescription)) Entry {
	b.t.Helper()
	rx := b.h.Member("person-one").Prescription(unit.DateOf(b.now)).Value
	rx.OrderedBy = "Nurse Q (invented)"
	change(&rx)
	e := b.entry("prescription", "", &rx)
	b.insist(e)
	return e
}

// insist writes an entry whose strange values were typed again.
func (b *book) insist(e Entry) {
	b.t.Helper()
	e.Again = map[string]string{}
	kind, _ := Find(e.Kind)
	for _, f := range Check(b.h, e) {
		e.Again[f.Field], _ = kind.Typed(e.Body, f.Field)
	}
	if found := b.try(e); len(found) > 0 {
		b.t.Fatal(found)
	}
}

// pressed measures before the start.
func (b *book) pressed(id string, upper unit.Pressure) {
	b.t.Helper()
	b.insist(b.entry("vitals_before", id, &session.VitalsBefore{
		SitSystolic: &upper, SitDiastolic: ptr(unit.Pressure(60)), StandSystolic: ptr(unit.Pressure(101)), StandDiastolic: ptr(unit.Pressure(62)),
		Pulse: ptr(unit.Pulse(70)), Temperature: ptr(unit.Temperature(366)),
	}))
}

// What stopped by the order as it was when the session was opened, and stops no longer
// since it was written again, stays in sight: whatever it was (hazard H-140).
func TestAStopThatAnotherOrderTakesAway(t *testing.T) {
	takesAway(t, false)
}

// A file that is taken in is written in one second: the order of writing decides, not
// the clock.
func TestAStopThatAnotherOrderTakesAwayInTheSameSecond(t *testing.T) {
	takesAway(t, true)
}

// takesAway has a stop taken away by what is written again, all of the session in one
// second or each entry a minute after the one before.
func takesAway(t *testing.T, still bool) {
	t.Helper()
	low := func(at unit.Pressure) func(*session.Prescription) {
		return func(rx *session.Prescription) { rx.SystolicLow, rx.StandLow = &at, ptr(unit.Pressure(80)) }
	}
	for _, tt := range []struct {
		name, check string
		before      func(b *book) // the session
		value       func(b *book) // that stops
		change      func(b *book)
		words       []string
	}{
		{"a lower limit", session.CheckVitals, func(b *book) { b.order(low(100)) },
			func(b *book) { b.pressed("session-02", 92) }, func(b *book) { b.order(low(85)) },
			[]string{"92\u00a0mmHg", "100", "So it was by what was written until ", "85\u00a0mmHg, before 100\u00a0mmHg (ordered by Nurse Q (invented))"}},
		{"a lower limit by a correction", session.CheckVitals, func(b *book) { b.order(low(100)) },
			func(b *book) { b.pressed("session-02", 92) }, func(b *book) {
				rx := b.h.Member("person-one").Prescription(unit.DateOf(b.now))
				now := rx.Value
				now.SystolicLow = ptr(unit.Pressure(85))
				e := b.entry("prescription", "", &now)
				e.Corrects, e.Reason = rx.ID, "the paper says eighty-five"
				b.insist(e)
			},
			[]string{"92\u00a0mmHg", "85\u00a0mmHg, before 100\u00a0mmHg", "Corrected at", "the paper says eighty-five"}},
		{"no marked sugar", session.CheckGlucose, func(b *book) { b.order(func(rx *session.Prescription) { rx.GlucoseMarked = true }) },
			func(b *book) {
				b.insist(b.entry("glucose", "session-02", &session.Glucose{Value: ptr(unit.Molar(320))}))
			},
			func(b *book) { b.order(func(rx *session.Prescription) { rx.GlucoseMarked = false }) },
			[]string{"3.2\u00a0mmol/L", "So it was"}},
		{"heparin ordered after it was drawn", session.CheckHeparin, func(b *book) {
			b.order(func(rx *session.Prescription) {
				rx.Heparin, rx.HepStrength, rx.HepBolus = "none", nil, nil
			})
		}, func(b *book) {
			b.insist(b.entry("heparin_drawn", "session-02", &session.HeparinDrawn{Strength: 1000, Bolus: 2000, BolusVol: 200, Lot: "H-2", Expiry: unit.DateOf(b.now).Add(90)}))
		}, func(b *book) {
			b.order(func(rx *session.Prescription) {
				rx.Heparin, rx.HepStrength, rx.HepBolus = "unfractionated", ptr(unit.Strength(1000)), ptr(unit.Dose(2000))
			})
		}, []string{"So it was"}},
		{"a catheter's lock, and a fistula since", session.CheckLock, func(b *book) { b.byCatheter(session.OrderedLock{}) },
			func(b *book) {
				b.must("lock_drawn", "session-02", &session.LockDrawn{Arterial: session.CouldNot, Venous: session.Drawn})
			},
			func(b *book) {
				b.order(func(rx *session.Prescription) {
					rx.Access, rx.AccessSide, rx.Technique, rx.GaugeA, rx.GaugeV = "fistula", "left_arm", "rope_ladder", 16, 16
				})
			}, []string{"Push nothing in", "So it was", "fistula, before catheter"}},
		{"another bath", session.CheckBath, func(*book) {},
			func(b *book) {
				b.insist(b.entry("bath_label", "session-02", &session.BathLabel{K: 300, Ca: 150, Lot: "B1", Expiry: unit.DateOf(b.now).Add(90)}))
			},
			func(b *book) { b.order(func(rx *session.Prescription) { rx.BathK = 300 }) },
			[]string{"Label K 3", "3\u00a0mmol/L, before 2\u00a0mmol/L"}},
		{"a machine that may stand longer", session.CheckCleaned, func(b *book) {
			b.keep("water_rules", &WaterRules{Edition: water.DefaultEdition, Use: "standard", MaxIdle: ptr(unit.Hours(2400)), SetBy: "Dr Q (invented)", SetOn: unit.DateOf(b.now)})
		}, func(*book) {}, func(b *book) {
			b.keep("water_rules", &WaterRules{Edition: water.DefaultEdition, Use: "standard", MaxIdle: ptr(unit.Hours(9600)), SetBy: "Dr Q (invented)", SetOn: unit.DateOf(b.now)})
		}, []string{"So it was", "How long the machine may stand: "}},
		{"a pregnancy that is written away", session.CheckPlan, func(b *book) {
			b.must("person", "", &Person{Name: "Orla Finch", BirthYear: 1988, Colour: "reed", Adult: true, Pregnant: true})
		}, func(*book) {}, func(b *book) {
			e := b.entry("person", "", &Person{Name: "Orla Finch", BirthYear: 1988, Colour: "reed", Adult: true})
			e.Again = map[string]string{"pregnant": "no"}
			b.must2(e)
		}, []string{"Plan by your unit's paper.", "Pregnant", "“Who” written again"}},
	} {
		b := newBook(t)
		b.heldNow("session-01")
		b.now = b.now.Add(44 * time.Hour)
		tt.before(b)
		b.still = still
		b.open("session-02")
		tt.value(b)
		if c := b.checkOf("session-02", tt.check); tt.check != session.CheckPlan && c.State != session.StopHere {
			t.Errorf("%s: before it %s %q", tt.name, c.State, c.Words)
			continue
		}
		tt.change(b)
		c := b.checkOf("session-02", tt.check)
		if c.State != session.Look && tt.check != session.CheckPlan && tt.check != session.CheckLock {
			t.Errorf("%s: %s %q", tt.name, c.State, c.Words)
		}
		for _, w := range tt.words {
			if !strings.Contains(c.Words, w) {
				t.Errorf("%s: %q does not say %q", tt.name, c.Words, w)
			}
		}
	}
}

// Nothing is said of an order that was there before the session, of one that takes no
// stop away, of paper typed in later, and of what was corrected once the treatment ran.
func TestAnotherOrderThatTakesNothingAway(t *testing.T) {
	b := newBook(t)
	b.heldNow("session-01")
	b.now = b.now.Add(44 * time.Hour)
	limit := func(at unit.Pressure) Entry {
		return b.order(func(rx *session.Prescription) { rx.SystolicLow, rx.StandLow = &at, ptr(unit.Pressure(80)) })
	}
	limit(100)
	limit(85)
	b.open("session-02")
	b.pressed("session-02", 92)
	quiet := func(what string) {
		t.Helper()
		if c := b.checkOf("session-02", session.CheckVitals); c.State != session.Ready {
			t.Errorf("%s: %s %q", what, c.State, c.Words)
		}
	}
	quiet("written before")
	b.order(func(rx *session.Prescription) { rx.BloodFlow = 280 })
	quiet("another line of it")
	limit(84)
	quiet("it stopped under neither")
	if h := b.h.Member("person-one").History(b.h.Session("session-02")); h.Changed == nil || len(h.Changed.Lines) == 0 {
		t.Errorf("%+v", h.Changed)
	}
	if err := b.h.Apply(b.entry("connected", "session-02", &session.Connected{})); err != nil {
		t.Fatal(err)
	}
	rx := b.h.Member("person-one").Rx(b.h.Session("session-02").PrescriptionID)
	was := *b.h.Member("person-one").History(b.h.Session("session-02")).Changed
	now := rx.Value
	now.SystolicLow = ptr(unit.Pressure(95))
	e := b.entry("prescription", "", &now)
	e.Corrects, e.Reason = rx.ID, "the paper says ninety-five"
	b.insist(e)
	if h := b.h.Member("person-one").History(b.h.Session("session-02")); h.Changed == nil || !h.Changed.Until.Equal(was.Until) || len(h.Changed.Lines) != len(was.Lines) {
		t.Errorf("corrected once the treatment ran: %+v", h.Changed)
	}
}
