package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// rewritten corrects the last entry of a kind, typed at a moment and said to be of
// another one.
func rewritten[T any](s *Session, written, at time.Time, f func(*T)) {
	b, e := Last[T](s)
	now := *b
	f(&now)
	one := *e
	one.Was = append(slices.Clone(e.Was), Version{ID: e.ID, At: e.At, Written: e.Written, By: e.By, Body: b})
	one.At, one.Written, one.Body = at, written, &now
	s.Remove(e.ID)
	s.Add(one)
}

// An answer of the start that is written otherwise while the treatment runs, so that the
// start line stops by it, is remarked on when that is written: with its own time, with
// the time of the correction, or struck out. Nothing is said of what changes nothing.
func TestStartStopsWhileRunning(t *testing.T) {
	for _, tt := range []struct {
		name   string
		change func(s *Session, written time.Time, own bool)
		words  string // of the remark with its own time; empty for none
		inRun  bool   // with the time of the correction the run's own rule judges it
	}{
		{"chlorine over its limit", func(s *Session, w time.Time, own bool) {
			rewritten(s, w, timeOf[Chlorine](s, w, own), func(b *Chlorine) { b.Result, b.Below = 400, false })
		}, "0.4\u00a0mg/L, limit 0.1", true},
		{"chlorine still inside", func(s *Session, w time.Time, own bool) {
			rewritten(s, w, timeOf[Chlorine](s, w, own), func(b *Chlorine) { b.Result, b.Below = 80, false })
		}, "", true},
		{"another bath", func(s *Session, w time.Time, own bool) {
			rewritten(s, w, timeOf[BathLabel](s, w, own), func(b *BathLabel) { b.K = 0 })
		}, "Bath, by what was written since the start: Label K 0", false},
		{"heparin of another strength", func(s *Session, w time.Time, own bool) {
			rewritten(s, w, timeOf[HeparinDrawn](s, w, own), func(b *HeparinDrawn) { b.Strength, b.Bolus, b.Line = 5000, 7500, 11250 })
		}, "Heparin, by what was written since the start: bolus 7500\u00a0IU, from 5", false},
		{"heparin struck out", func(s *Session, w time.Time, _ bool) {
			_, e := Last[HeparinDrawn](s)
			s.Find(e.ID).Struck = &Strike{At: w, By: "x", Reason: "it was not mine"}
		}, "since the start: none was drawn up", false},
		{"a fever", func(s *Session, w time.Time, own bool) {
			rewritten(s, w, timeOf[VitalsBefore](s, w, own), func(b *VitalsBefore) { b.Temperature = ref(unit.Temperature(390)) })
		}, "39", false},
		{"pain in the chest", func(s *Session, w time.Time, own bool) {
			rewritten(s, w, timeOf[Fitness](s, w, own), func(b *Fitness) { b.ChestPain = true })
		}, "chest", false},
		{"no thrill", func(s *Session, w time.Time, own bool) {
			rewritten(s, w, timeOf[AccessCheck](s, w, own), func(b *AccessCheck) { b.Thrill = "absent" })
		}, "hrill", false},
		{"conductivity of the meter", func(s *Session, w time.Time, own bool) {
			rewritten(s, w, timeOf[FluidCheck](s, w, own), func(b *FluidCheck) { b.MeterConduct = 1540 })
		}, "Conductivity, by what was written since the start", true},
		{"the label struck out", func(s *Session, w time.Time, _ bool) {
			_, e := Last[BathLabel](s)
			s.Find(e.ID).Struck = &Strike{At: w, By: "x", Reason: "of another bag"}
		}, "Bath, by what was written since the start: Label not read", false},
		{"a higher weight", func(s *Session, w time.Time, own bool) {
			rewritten(s, w, timeOf[WeighIn](s, w, own), func(b *WeighIn) { b.Weight += 500 })
		}, "The weight before is 61\u00a0kg now, and the plan was made from 60.5\u00a0kg: what is set takes off 0.5\u00a0kg too little.", false},
		{"a lower weight", func(s *Session, w time.Time, own bool) {
			rewritten(s, w, timeOf[WeighIn](s, w, own), func(b *WeighIn) { b.Weight -= 1500 })
		}, "takes off 1.5\u00a0kg too much.", false},
		{"the same weight", func(s *Session, w time.Time, own bool) {
			rewritten(s, w, timeOf[WeighIn](s, w, own), func(b *WeighIn) { b.Weight, b.Clothing = b.Weight+100, b.Clothing+100 })
		}, "", false},
		{"nothing", func(*Session, time.Time, bool) {}, "", false},
	} {
		for _, own := range []bool{true, false} {
			s, h := connected(t), known()
			if before := StartRemarks(s, h, on(50)); len(before) > 0 {
				t.Fatalf("%s: %v before it", tt.name, before)
			}
			tt.change(s, on(60), own)
			got := StartRemarks(s, h, on(70))
			if tt.words == "" || !own && tt.inRun {
				if len(got) > 0 {
					t.Errorf("%s, own time %t: %v", tt.name, own, got)
				}
				continue
			}
			if len(got) != 1 || !got[0].At.Equal(on(60)) || got[0].Level != LevelLook || !strings.Contains(got[0].Words, tt.words) {
				t.Errorf("%s, own time %t: %+v, want %q", tt.name, own, got, tt.words)
				continue
			}
			if len(StartRemarks(s, h, on(59))) > 0 {
				t.Errorf("%s: said before it was written", tt.name)
			}
			if stands := StandingFluid(s, h, on(70)); len(stands) != 1 {
				t.Errorf("%s: standing %v", tt.name, stands)
			}
			put(s, on(75), &Rang{Whom: "the unit by day", Said: "come off and come in"})
			if stands := StandingFluid(s, h, on(80)); len(stands) > 0 {
				t.Errorf("%s: the unit was rung, standing %v", tt.name, stands)
			}
		}
	}
}

// timeOf is the time that a correction gives: that of the entry, or of the correction.
func timeOf[T any](s *Session, written time.Time, own bool) time.Time {
	if _, e := Last[T](s); own {
		return e.At
	}
	return written
}

// A slip in a correction that is put right stays said, and stands no more; a second stop
// is said when it comes. What is typed from paper is written down, not guarded.
func TestStartStopsAndIsPutRight(t *testing.T) {
	s, h := connected(t), known()
	k := func(min int, v unit.Molar) {
		rewritten(s, on(min), timeOf[BathLabel](s, on(min), true), func(b *BathLabel) { b.K = v })
	}
	k(60, 0)
	k(62, 200)
	if got := StartRemarks(s, h, on(70)); len(got) != 1 || len(StandingFluid(s, h, on(70))) != 0 {
		t.Errorf("put right: %v, standing %v", got, StandingFluid(s, h, on(70)))
	}
	rewritten(s, on(71), timeOf[VitalsBefore](s, on(71), true), func(b *VitalsBefore) { b.Temperature = ref(unit.Temperature(390)) })
	if got := StartRemarks(s, h, on(72)); len(got) != 2 || got[1].Code != "start_stops" || got[0].Code != "start_fluid_stops" {
		t.Errorf("a second one: %v", got)
	}
	edit(s, func(b *Opened) { b.Source = "paper" })
	if got := StartRemarks(s, h, on(72)); len(got) > 0 {
		t.Errorf("from paper: %v", got)
	}
}

// A batch whose label is corrected while the treatment runs on it is said too; one that
// was as it is when the treatment began is not.
func TestStartStopsByTheBatch(t *testing.T) {
	for name, tt := range map[string]struct {
		change func(*Batch)
		want   int
	}{
		"another potassium":           {func(b *Batch) { b.K, b.Changed = ref(unit.Molar(0)), on(60) }, 1},
		"past its use-by then":        {func(b *Batch) { b.Within, b.Changed = ref(unit.Hours(10)), on(60) }, 1},
		"its only test taken away":    {func(b *Batch) { b.Log, b.Changed = nil, on(60) }, 2}, // chlorine and conductivity
		"written before the start":    {func(b *Batch) { b.K, b.Changed = ref(unit.Molar(0)), on(-5) }, 0},
		"written after now":           {func(b *Batch) { b.K, b.Changed = ref(unit.Molar(0)), on(90) }, 0},
		"struck out, which is said":   {func(b *Batch) { b.K, b.Changed, b.Struck = ref(unit.Molar(0)), on(60), &Strike{At: on(60)} }, 0},
		"changed, and still in order": {func(b *Batch) { b.Changed = on(60) }, 0},
	} {
		s, h := connected(t), known()
		s.Machine.Kind = "batch"
		from(aBatch())(s, &h)
		tt.change(&h.Batches[0])
		got := StartRemarks(s, h, on(70))
		if len(got) != tt.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}
