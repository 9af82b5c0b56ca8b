package session

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

// ownPressures are pressures that a unit wrote for one person.
func ownPressures(l *Limits) {
	l.SystolicLow, l.SystolicHi, l.FallBelow = ref(unit.Pressure(100)), ref(unit.Pressure(150)), ref(unit.Pressure(95))
}

// Of every reason for making no plan, and of what lies just inside it.
func TestNoPlan(t *testing.T) {
	pregnant := History{Who: Whom{Pregnant: true}}
	whole := func(s *Session) { ownPressures(&s.Rx.Limits); s.Rx.DrySetOn = date(t, "2026-03-05") }
	and := func(f ...func(*Session)) func(*Session) {
		return func(s *Session) {
			for _, one := range f {
				one(s)
			}
		}
	}
	for _, tt := range []struct {
		name  string
		h     History
		set   func(*Session)
		codes []string
		says  string
	}{
		{"an adult", History{}, func(*Session) {}, nil, ""},
		{"a child", History{}, func(s *Session) { s.Child = true }, []string{"no_plan_child"}, "A child"},
		{"removal profile", History{}, func(s *Session) { s.Rx.RemovalProfile = true }, []string{"no_plan_removal_profile"}, "removal profile"},
		{"sodium profile", History{}, func(s *Session) { s.Rx.SodiumProfile = true }, []string{"no_plan_sodium_profile"}, "sodium profile"},
		{"34.9 kg, no rate", History{}, func(s *Session) { s.Rx.DryWeight, s.Rx.Rate = 34_900, nil }, []string{"no_plan_light"}, "Under 35"},
		{"35.0 kg, no rate", History{}, func(s *Session) { s.Rx.DryWeight, s.Rx.Rate = 35_000, nil }, nil, ""},
		{"34.9 kg, a rate", History{}, func(s *Session) { s.Rx.DryWeight = 34_900 }, nil, ""},
		{"pregnant, all of it, dry weight 7 days old", pregnant, whole, nil, ""},
		{"pregnant, dry weight 8 days old", pregnant, and(whole, func(s *Session) { s.Rx.DrySetOn = date(t, "2026-03-04") }), []string{"no_plan_pregnant_dry"}, "4 March 2026 is older than 7 days"},
		{"pregnant, no rate", pregnant, and(whole, func(s *Session) { s.Rx.Rate = nil }), []string{"no_plan_pregnant_rate"}, "removal rate"},
		{"pregnant, no low start", pregnant, and(whole, func(s *Session) { s.Rx.SystolicLow = nil }), []string{"no_plan_pregnant_pressures"}, "pressures"},
		{"pregnant, no high start", pregnant, and(whole, func(s *Session) { s.Rx.SystolicHi = nil }), []string{"no_plan_pregnant_pressures"}, "pressures"},
		{"pregnant, not when to act", pregnant, and(whole, func(s *Session) { s.Rx.FallBelow = nil }), []string{"no_plan_pregnant_pressures"}, "when to act"},
		{"pregnant, to act on a fall", pregnant, and(whole, func(s *Session) { s.Rx.FallBelow, s.Rx.FallBy = nil, ref(unit.Pressure(30)) }), nil, ""},
		{"pregnant, 34.9 kg, no rate: said once", pregnant, and(whole, func(s *Session) { s.Rx.DryWeight, s.Rx.Rate = 34_900, nil }), []string{"no_plan_pregnant_rate"}, "removal rate"},
		{"child with both profiles", History{}, func(s *Session) { s.Child, s.Rx.RemovalProfile, s.Rx.SodiumProfile = true, true, true },
			[]string{"no_plan_child", "no_plan_removal_profile", "no_plan_sodium_profile"}, "A child"},
	} {
		s := weighed(t, 60_000, 0)
		s.Log = slices.Insert(s.Log, 0, Event{ID: "opened", Kind: "session_opened", At: evening.Add(-mins(5)), Body: &Opened{Place: "home", Source: "live"}})
		tt.set(s)
		_, err := MakePlan(s, Choices{}, tt.h, evening)
		no := NoPlanOf(s, tt.h, evening)
		if tt.codes == nil {
			if err != nil || no != nil {
				t.Errorf("%s: %v, %v; want a plan", tt.name, err, no)
			}
			continue
		}
		var refused *NoPlan
		if !errors.As(err, &refused) || !slices.Equal(refused.Codes, tt.codes) || !slices.Equal(no.Codes, tt.codes) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.codes)
			continue
		}
		const sentence = "Plan by your unit's paper. Everything you measure is kept here. "
		if !strings.HasPrefix(err.Error(), sentence) || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %q", tt.name, err)
		}
	}
}

// The days of a dry weight are counted to the evening that a session was opened, not
// to the night into which it runs.
func TestDryWeightOfAPregnancyByTheSessionsDay(t *testing.T) {
	s := newSession(t)
	ownPressures(&s.Rx.Limits)
	s.Rx.DrySetOn = date(t, "2026-03-05") // evening is 12 March
	put(s, evening, &Opened{Place: "home", Source: "live"})
	h := History{Who: Whom{Pregnant: true}}
	if no := NoPlanOf(s, h, evening.Add(mins(9*60))); no != nil {
		t.Errorf("after midnight: %v", no)
	}
}

// The weight has its unit, and an adult's tick is a matter of the prescription.
func TestNoPlanInWords(t *testing.T) {
	s := ready(t)
	s.Child, s.Rx.DryWeight, s.Rx.Rate = true, LightWeight-1, nil
	at := evening.Add(mins(30))
	got := strings.ReplaceAll(NoPlanOf(s, known(), at).Reasons(), "\u00a0", " ")
	for _, want := range []string{"If the unit’s prescription is one of an adult, that is ticked", "Under 35 kg and no removal rate"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q lacks %q", got, want)
		}
	}
}
