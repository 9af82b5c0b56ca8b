package session

import (
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

// begunAt makes sessions that are over, each begun at a pressure.
func begunAt(t *testing.T, starts ...int) []*Session {
	var list []func(*Session)
	for _, v := range starts {
		list = append(list, func(s *Session) { edit(s, func(b *VitalsBefore) { b.SitSystolic = mm(v) }) })
	}
	return held(t, list...)
}

// pulsesOf makes sessions that are over, each with one pulse read.
func pulsesOf(t *testing.T, v ...int) []*Session {
	var list []func(*Session)
	for _, p := range v {
		list = append(list, func(s *Session) { put(s, on(60), pulse(p)) })
	}
	return held(t, list...)
}

func TestAsksUnitForItsOwnFigures(t *testing.T) {
	none := func(*Prescription) {}
	said := unit.NewDate(2026, 3, 1)
	noFall := func(rx *Prescription) { rx.FallNoneBy, rx.FallNoneOn = "Nurse Oren", said }
	noPair := func(rx *Prescription) { rx.PulseNoneBy, rx.PulseNoneOn = "Nurse Oren", said }
	firstReadings := begunAt(t, 130, 130, 130)
	for _, s := range firstReadings { // no sitting pressure: the first reading stands in
		edit(s, func(b *VitalsBefore) { b.SitSystolic = nil })
		put(s, on(20), bp(105))
	}
	struck := begunAt(t, 105, 105, 105)
	edit(struck[0], func(b *Opened) {})
	for i := range struck[0].Log {
		if _, is := struck[0].Log[i].Body.(*Opened); is {
			struck[0].Log[i].Struck = &Strike{Reason: "a test"}
		}
	}
	running := append(begunAt(t, 105, 105), connected(t))
	edit(running[2], func(b *VitalsBefore) { b.SitSystolic = mm(105) })
	for _, tt := range []struct {
		name  string
		set   func(*Prescription)
		held  []*Session
		pacer bool
		want  []string // how each line begins
	}{
		{"nobody yet", none, nil, false, nil},
		{"under 110 in three of six", none, begunAt(t, 109, 130, 109, 130, 130, 109), false, []string{"You began under 110\u00a0mmHg in 3 of the last 6 sessions."}},
		{"at 110", none, begunAt(t, 110, 110, 110), false, nil},
		{"in two", none, begunAt(t, 105, 130, 105), false, nil},
		{"the third lies too long ago", none, begunAt(t, 105, 130, 130, 130, 130, 105, 105), false, nil},
		{"by the first reading", none, firstReadings, false, []string{"You began under 110\u00a0mmHg in 3 of the last 3"}},
		{"one was struck out", none, struck, false, nil},
		{"one is not over", none, running, false, nil},
		{"the unit acts below a figure", actBelow(95), begunAt(t, 105, 105, 105), false, nil},
		{"the unit acts on a fall", func(rx *Prescription) { rx.FallBy = mm(25) }, begunAt(t, 105, 105, 105), false, nil},

		{"a slow pulse in three", none, pulsesOf(t, 49, 70, 49, 70, 70, 49), false, []string{"Your pulse was out of its bounds in 3 of the last 6 sessions."}},
		{"slow and fast", none, pulsesOf(t, 49, 121, 49), false, []string{"Your pulse was out"}},
		{"at the bounds", none, pulsesOf(t, 50, 120, 50), false, nil},
		{"in two", none, pulsesOf(t, 49, 70, 121), false, nil},
		{"the unit's pair", pulsePair, pulsesOf(t, 49, 49, 49), false, nil},
		{"a pacemaker", none, nil, true, []string{"You have a pacemaker."}},
		{"a pacemaker, and out", none, pulsesOf(t, 49, 49, 49), true, []string{"You have a pacemaker."}},
		{"a pacemaker, half a pair", func(rx *Prescription) { rx.PulseLow = ref(unit.Pulse(40)) }, nil, true, []string{"You have a pacemaker."}},
		{"a pacemaker, the unit's pair", pulsePair, nil, true, nil},
		{"the unit sets no low pressure", noFall, begunAt(t, 105, 105, 105), false, nil},
		{"it sets no pair", noPair, pulsesOf(t, 49, 49, 49), false, nil},
		{"a pacemaker, and it sets no pair", noPair, nil, true, nil},
		{"no low pressure is no word on the pulse", noFall, nil, true, []string{"You have a pacemaker."}},
		{"no pair is no word on low pressure", noPair, begunAt(t, 105, 105, 105), true, []string{"You began under"}},
		{"both", none, begunAt(t, 105, 105, 105), true, []string{"You began under", "You have a pacemaker."}},
	} {
		rx := ordered(t)
		tt.set(rx)
		got := askedWords(rx, tt.held, Asker{Pacemaker: tt.pacer})
		if len(got) != len(tt.want) || slices.ContainsFunc(got, func(w string) bool { return !strings.Contains(w, "Ask your unit for its own") }) {
			t.Errorf("%s: %q", tt.name, got)
			continue
		}
		for i, w := range tt.want {
			if !strings.HasPrefix(got[i], w) {
				t.Errorf("%s: %q, want %q", tt.name, got[i], w)
			}
		}
	}
	if got := askedWords(nil, begunAt(t, 105, 105, 105), Asker{Pacemaker: true}); got != nil {
		t.Errorf("without a prescription: %q", got)
	}
}

// Where the unit sets none the program's own figure is used, and is said to be that.
func TestSetsNoneUsesOurs(t *testing.T) {
	s := connected(t)
	s.Rx.Limits = Limits{FallNoneBy: "Nurse Oren", PulseNoneBy: "Nurse Oren"}
	if s.Rx.Any() {
		t.Error("that it sets none is taken for a limit")
	}
	put(s, on(20), bp(130))
	put(s, on(30), &Reading{Systolic: mm(84), Pulse: ref(unit.Pulse(121))})
	got := Remarks(s, on(30))
	if len(got) != 2 || !strings.Contains(got[0].Words+got[1].Words, "Low by "+ownDefault) || !strings.Contains(got[0].Words+got[1].Words, "("+ownDefault+")") {
		t.Errorf("%+v", got)
	}
}

// askedWords are the lines of [AskedOfUnit].
func askedWords(rx *Prescription, sessions []*Session, who Asker) (words []string) {
	for _, a := range AskedOfUnit(rx, sessions, who) {
		words = append(words, a.Words)
	}
	return words
}
