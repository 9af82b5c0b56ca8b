package session

import (
	"slices"
	"strings"
	"testing"

	"ebbline/fluid"
	"ebbline/unit"
)

// The figures shown as the program's own are those that it judges by when the
// unit has set none: at each one and beside it.
func TestOwnLimitsAreUsed(t *testing.T) {
	own := OwnLimits()
	if !strings.Contains(own.SetBy, "not set by your unit") || !own.SetOn.IsZero() {
		t.Errorf("the program's own figures are signed %q, %s", own.SetBy, own.SetOn.Long())
	}
	if own.Rate != nil || own.MaxRemoval != nil || own.Anaesthetic != nil {
		t.Error("the program has no single figure of its own for a removal or an anaesthetic")
	}
	now := evening.Add(mins(40))
	state := func(id string, set func(*Session)) CheckState {
		s := ready(t)
		s.Rx.Limits = Limits{}
		set(s)
		return check(t, StartLine(s, History{}, now), id).State
	}
	vitals := func(f func(*VitalsBefore)) func(*Session) {
		return func(s *Session) { edit(s, f) }
	}
	for _, tt := range []struct {
		name, check     string
		inside, outside func(*Session)
	}{
		{"lower pressure", CheckVitals, vitals(func(b *VitalsBefore) { b.SitSystolic = own.SystolicLow }),
			vitals(func(b *VitalsBefore) { b.SitSystolic = ref(*own.SystolicLow - 1) })},
		{"upper pressure", CheckVitals, vitals(func(b *VitalsBefore) {
			b.SitSystolic, b.StandSystolic = ref(*own.SystolicHi-1), ref(*own.SystolicHi-10)
		}),
			vitals(func(b *VitalsBefore) { b.SitSystolic = own.SystolicHi })},
		{"slow pulse", CheckVitals, vitals(func(b *VitalsBefore) { b.Pulse = own.PulseLow }),
			vitals(func(b *VitalsBefore) { b.Pulse = ref(*own.PulseLow - 1) })},
		{"fast pulse", CheckVitals, vitals(func(b *VitalsBefore) { b.Pulse = own.PulseHigh }),
			vitals(func(b *VitalsBefore) { b.Pulse = ref(*own.PulseHigh + 1) })},
		{"temperature", CheckVitals, vitals(func(b *VitalsBefore) { b.Temperature = ref(*own.TempHigh - 1) }),
			vitals(func(b *VitalsBefore) { b.Temperature = own.TempHigh })},
		{"chlorine", CheckChlorine, func(s *Session) {
			edit(s, func(b *Chlorine) { b.Result, b.Below = *own.Chlorine, false })
		}, func(s *Session) { edit(s, func(b *Chlorine) { b.Result, b.Below = *own.Chlorine+1, false }) }},
		{"conductivity", CheckConduct, func(s *Session) {
			edit(s, func(b *FluidCheck) { b.MeterConduct = b.MachineConduct - *own.ConductTol })
		}, func(s *Session) {
			edit(s, func(b *FluidCheck) { b.MeterConduct = b.MachineConduct - *own.ConductTol - 1 })
		}},
	} {
		if got := state(tt.check, tt.inside); got != Ready {
			t.Errorf("%s, inside: %s", tt.name, got)
		}
		if got := state(tt.check, tt.outside); got == Ready {
			t.Errorf("%s, one step outside, is ready", tt.name)
		}
	}

	run := func(sys unit.Pressure) []string {
		s := withReadings(t, &Reading{Systolic: &sys})
		s.Rx.Limits = Limits{CheckEvery: s.Rx.CheckEvery}
		return codes(s, on(35))
	}
	if slices.Contains(run(138-*own.FallBy+1), "low_pressure") || !slices.Contains(run(138-*own.FallBy), "low_pressure") {
		t.Errorf("a fall of %s and of 1 less are not told apart", own.FallBy.Text())
	}

	s := connected(t)
	s.Rx.Limits = Limits{}
	if r, _ := Follow(s, on(1)); r.CheckEvery != *own.CheckEvery || r.CheckFrom != own.SetBy || r.CheckUnit {
		t.Errorf("a reading is due every %s, %s", r.CheckEvery.Text(), r.CheckFrom)
	}
	put(s, on(2), &LowPressure{})
	if r, _ := Follow(s, on(3)); r.CheckEvery != *own.AfterLow || r.CheckFrom != own.SetBy || r.CheckUnit {
		t.Errorf("after a low pressure a reading is due every %s, %s", r.CheckEvery.Text(), r.CheckFrom)
	}
}

// What has no single figure is put into words that carry the figures used.
func TestOwnLimitWords(t *testing.T) {
	words := OwnLimitWords()
	for key, want := range map[string][]string{
		"rate_limit_ml_h_kg":      {"10", "13", "cuts no goal"},
		"act_systolic_below_mmhg": {"90", "100", "120"}, "act_systolic_fall_mmhg": {"30"},
		"max_removal_ml":     {litresText(AskAbove), "cuts no goal"},
		"anaesthetic_max_mg": {"3 mg", "200 mg"},

		"start_systolic_low_mmhg": {OwnLimits().SystolicLow.Text(), "standing 90\u00a0mmHg"},
	} {
		for _, w := range want {
			if !strings.Contains(words[key], w) {
				t.Errorf("%s: %q does not say %q", key, words[key], w)
			}
		}
	}
	if fluid.StricterLidocaine().MostMg != 200 {
		t.Error("the words above are of another limit")
	}
}
