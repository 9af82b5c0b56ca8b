package household

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// 63.5 kg dry, 250 min, at most 11 mL/h/kg and 3.2 L, 300 mL drinks, 250 mL
// washback: 11·63.5·250/60 = 2910 mL may come off, 2360 of them gained.
func TestLookAhead(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 3, 1), nil)
	d.held(d.at(2026, 3, 3, 17, 0), 63_700) // weighed at 22:05
	now := d.at(2026, 3, 4, 9, 0)
	due := d.due(now) // Thursday at 17:00: 42 h 55 min later
	o := LookAhead(d.h, d.h.Member(keeper), due, now)
	if o.Allowance == nil || len(o.Why) > 0 {
		t.Fatalf("no allowance: %v", o.Why)
	}
	if got := o.Allowance.AllowanceMl; got < 2160.4 || got > 2160.5 { // 2910.417 − 550 − 200
		t.Errorf("allowance %.2f mL", got)
	}
	if got := o.Allowance.AllowanceMlDay; got < 1208 || got > 1208.2 { // over 42.917 h
		t.Errorf("%.2f mL a day", got)
	}
	if !o.Until.Equal(due.At) || !strings.Contains(o.Limit, "Dr B. Zupan") || len(o.Allowance.Cautions) != 1 {
		t.Errorf("until %s, %q, %v", o.Until, o.Limit, o.Allowance.Cautions)
	}
	// 200 g above dry, 300 to drink, 250 to wash back, in steps of 10.
	if o.Off == nil || o.Off.GoalMl != 750 || !o.After || o.Weight != 63_700 {
		t.Errorf("off at the last weight: %+v", o.Off)
	}
}

func TestLookAheadMachineAddsWashback(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 3, 1), nil)
	d.held(d.at(2026, 3, 3, 17, 0), 63_700)
	d.put(d.at(2026, 3, 4, 8, 0), "machine", "", &session.Machine{Name: "the machine", AddsWashback: true, GoalUnit: "L", GoalDecimals: 1, Kind: "single_pass"})
	now := d.at(2026, 3, 4, 9, 0)
	o := LookAhead(d.h, d.h.Member(keeper), d.due(now), now)
	if o.Off == nil || o.Off.GoalMl != 500 {
		t.Errorf("without the washback, in steps of 100: %+v", o.Off)
	}
	if got := o.Allowance.AllowanceMl; got < 2410.4 || got > 2410.5 {
		t.Errorf("allowance %.2f mL", got)
	}
}

// What is missing is said, and no number stands in for it.
func TestLookAheadSaysWhatIsMissing(t *testing.T) {
	type world struct {
		*diary
		now time.Time
	}
	for _, tt := range []struct {
		name, says string
		off        bool
		make       func(w *world)
	}{
		{"no weight after", "no weight after", false, func(w *world) {
			w.ordered(unit.NewDate(2026, 3, 1), nil)
			w.held(w.at(2026, 3, 3, 17, 0), 0)
		}},
		{"no limit", "no limit", true, func(w *world) {
			w.ordered(unit.NewDate(2026, 3, 1), func(rx *session.Prescription) { rx.Limits = session.Limits{} })
			w.held(w.at(2026, 3, 3, 17, 0), 63_700)
		}},
		{"no session", "No session is written down", false, func(w *world) { w.ordered(unit.NewDate(2026, 3, 1), nil) }},
		{"overdue", "overdue", true, func(w *world) {
			w.ordered(unit.NewDate(2026, 3, 1), nil)
			w.held(w.at(2026, 3, 3, 17, 0), 63_700)
			w.now = w.at(2026, 3, 6, 9, 0)
		}},
		{"the time has come", "has gone by", true, func(w *world) {
			w.ordered(unit.NewDate(2026, 3, 1), nil)
			w.held(w.at(2026, 3, 3, 17, 0), 63_700)
			w.now = w.at(2026, 3, 5, 17, 0)
		}},
		{"an older weight", "no weight after", true, func(w *world) {
			w.ordered(unit.NewDate(2026, 3, 1), nil)
			w.held(w.at(2026, 3, 2, 17, 0), 63_700)
			w.held(w.at(2026, 3, 3, 17, 0), 0)
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d := newDiary(t, "Europe/Ljubljana")
			w := &world{d, d.at(2026, 3, 4, 9, 0)}
			tt.make(w)
			o := LookAhead(w.h, w.h.Member(keeper), w.due(w.now), w.now)
			if o.Allowance != nil || !strings.Contains(strings.Join(o.Why, " "), tt.says) {
				t.Errorf("%v, %q; want none and %q", o.Allowance, o.Why, tt.says)
			}
			if (o.Off != nil) != tt.off {
				t.Errorf("off at the last weight: %+v", o.Off)
			}
		})
	}
}

// Ordered flushes come in during a session too: what may be drunk is less by them, and
// what would come off more. For somebody no plan is made for, neither is given.
func TestLookAheadCountsFlushes(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 3, 1), func(rx *session.Prescription) {
		flush, every := unit.Volume(100), unit.Minutes(30)
		rx.Heparin, rx.HepStrength, rx.HepBolus, rx.HepHourly, rx.HepStop = "none", nil, nil, nil, nil
		rx.FlushML, rx.FlushEvery = &flush, &every // eight in 250 min
	})
	d.held(d.at(2026, 3, 3, 17, 0), 63_700)
	now := d.at(2026, 3, 4, 9, 0)
	o := LookAhead(d.h, d.h.Member(keeper), d.due(now), now)
	if o.Allowance == nil || o.Off == nil {
		t.Fatalf("%+v", o)
	}
	if got := o.Allowance.AllowanceMl; got < 1360.4 || got > 1360.5 { // 2160.4 − 800
		t.Errorf("allowance %.2f mL", got)
	}
	if o.Off.GoalMl != 1550 {
		t.Errorf("off at the last weight: %+v", o.Off)
	}
	d.ordered(unit.NewDate(2026, 3, 4), func(rx *session.Prescription) { rx.SodiumProfile = true })
	o = LookAhead(d.h, d.h.Member(keeper), d.due(now), now)
	if o.Allowance != nil || o.Off != nil || len(o.Why) != 1 || !strings.Contains(o.Why[0], "your unit's paper") {
		t.Errorf("with a sodium profile: %+v", o)
	}
}
