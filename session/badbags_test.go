package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// A bag that is not right stays a stop, whatever is written of other bags, until a label
// says that it replaces it, or its own is struck out.
func TestABadBagStaysAStop(t *testing.T) {
	good := BathLabel{K: 200, Ca: 150, Lot: "G1", Expiry: unit.DateOf(evening.Add(300 * 24 * time.Hour)), Seal: Yes, Clear: Yes}
	with := func(f func(*BathLabel)) BathLabel { b := good; f(&b); return b }
	other := func(lot, replaces string) BathLabel {
		return with(func(b *BathLabel) { b.Lot, b.Replaces = lot, replaces })
	}
	faults := map[string]func(*BathLabel){
		"Label K 3":     func(b *BathLabel) { b.K = 300 },
		"Label Ca 1.25": func(b *BathLabel) { b.Ca = 125 },
		"expired":       func(b *BathLabel) { b.Expiry = unit.DateOf(evening).Add(-1) },
		"seal":          func(b *BathLabel) { b.Seal = No },
		"not clear":     func(b *BathLabel) { b.Clear = No },
	}
	for words, fault := range faults {
		bad := with(func(b *BathLabel) { fault(b); b.Lot = "B1" })
		bad2 := with(func(b *BathLabel) { fault(b); b.Lot = "B2" })
		bare := with(func(b *BathLabel) { fault(b); b.Lot = "" })
		for _, row := range []struct {
			name  string
			bags  []BathLabel
			state CheckState
			left  []string // lots that are not said to be off
		}{
			{"alone", []BathLabel{bad}, StopHere, []string{"B1"}},
			{"then a good one", []BathLabel{bad, other("G2", "")}, StopHere, []string{"B1"}},
			{"then two good ones", []BathLabel{bad, other("G2", ""), other("G3", "")}, StopHere, []string{"B1"}},
			{"then its lot, good", []BathLabel{bad, other("B1", "")}, StopHere, []string{"B1"}},
			{"between good ones", []BathLabel{good, bad, other("G2", "")}, StopHere, []string{"B1"}},
			{"replaced", []BathLabel{bad, other("G2", "B1")}, Look, nil},
			{"replaced, the lot spelled otherwise", []BathLabel{bad, other("G2", "b 1")}, Look, nil},
			{"replaced by one of its lot", []BathLabel{bad, other("B1", "B1")}, Look, nil},
			{"replaced by another bad one", []BathLabel{bad, with(func(b *BathLabel) { fault(b); b.Lot, b.Replaces = "B2", "B1" })}, StopHere, []string{"B2"}},
			{"one of two replaced", []BathLabel{bad, bad2, other("G2", "B1")}, StopHere, []string{"B2"}},
			{"two replaced", []BathLabel{bad, bad2, other("G2", "B1"), other("G3", "B2")}, Look, nil},
			{"bad after it was replaced", []BathLabel{other("G2", "B1"), bad}, StopHere, []string{"B1"}},
			{"replaces another", []BathLabel{bad, other("G2", "G9")}, StopHere, []string{"B1"}},
			{"no lot, by its time", []BathLabel{bare, other("G2", clock(evening.Add(mins(25))))}, Look, nil},
			{"no lot, then a good one", []BathLabel{bare, other("G2", "")}, StopHere, []string{clock(evening.Add(mins(25)))}},
		} {
			s, h := ready(t), known()
			s.Machine.Kind = "bags"
			noTests(s, "bath_label")
			for i := range row.bags {
				put(s, evening.Add(mins(25+i)), &row.bags[i])
			}
			c := check(t, StartLine(s, h, evening.Add(mins(40))), CheckBath)
			if c.State != row.state || !strings.Contains(c.Words, words) {
				t.Errorf("%s, %s: %s %q, want %s", words, row.name, c.State, c.Words, row.state)
			}
			var left []string
			for _, b := range BadBags(s, h, evening.Add(mins(40))) {
				left = append(left, b.Lot)
			}
			if !slices.Equal(left, row.left) {
				t.Errorf("%s, %s: %v is still on, want %v", words, row.name, left, row.left)
			}
		}
	}
}

// Struck out, a bag is no bag, and stays in sight with the reason; a concentrate is judged
// as before: the last one stands on the machine.
func TestABadBagStruckOut(t *testing.T) {
	for _, kind := range []string{"bags", "single_pass"} {
		s, h := ready(t), known()
		s.Machine.Kind = kind
		now, _ := Last[BathLabel](s)
		now.Seal, now.Clear = Yes, Yes
		bad := *now
		bad.K, bad.Lot = 300, "B1"
		put(s, evening.Add(mins(1)), &bad)
		want := map[string]CheckState{"bags": StopHere, "single_pass": Look}[kind]
		if c := check(t, StartLine(s, h, evening.Add(mins(40))), CheckBath); c.State != want {
			t.Errorf("%s: %s %q", kind, c.State, c.Words)
		}
		for i := range s.Log {
			if s.Log[i].Body == any(&bad) {
				s.Log[i].Struck = &Strike{At: evening.Add(mins(30)), By: "x", Reason: "never hung"}
			}
		}
		if c := check(t, StartLine(s, h, evening.Add(mins(40))), CheckBath); c.State != Look || !strings.Contains(c.Words, "Struck out at 17:30: never hung. K 2, Ca 1.5 as prescribed.") {
			t.Errorf("%s, struck out: %s %q", kind, c.State, c.Words)
		}
	}
}

// What is not written of a bag is not made good by the label of another lot.
func TestABlankBagStaysOpen(t *testing.T) {
	s, h := ready(t), known()
	s.Machine.Kind = "bags"
	now, _ := Last[BathLabel](s)
	now.Seal, now.Clear = Yes, Yes
	put(s, evening.Add(mins(1)), &BathLabel{Lot: "Q7", Expiry: now.Expiry, Ca: 150, Seal: Yes, Clear: Yes})
	for i := range s.Log {
		if b, is := s.Log[i].Body.(*BathLabel); is && b.Lot == "Q7" {
			s.Log[i].Missing = map[string]Missing{"label_k_mmol_l": NotDone}
		}
	}
	if c := check(t, StartLine(s, h, evening.Add(mins(40))), CheckBath); c.State != StopHere {
		t.Errorf("%s %q", c.State, c.Words)
	}
	put(s, evening.Add(mins(30)), &BathLabel{K: 200, Ca: 150, Lot: "q 7", Expiry: now.Expiry, Seal: Yes, Clear: Yes})
	if c := check(t, StartLine(s, h, evening.Add(mins(40))), CheckBath); c.State != Ready {
		t.Errorf("written: %s %q", c.State, c.Words)
	}
}

// In the run a bag that was hung and is not right is said again at each label that does
// not replace it; what was passed before the start is not.
func TestABadBagInTheRunIsSaidAgain(t *testing.T) {
	s := fallen(t)
	s.Machine.Kind = "bags"
	s.Rx.BathK, s.Rx.BathCa = 200, 150
	good := BathLabel{K: 200, Ca: 150, Lot: "G1", Expiry: unit.DateOf(evening.Add(300 * 24 * time.Hour)), Seal: Yes, Clear: Yes}
	bag := func(at int, lot, clear, replaces string) {
		b := good
		b.Lot, b.Clear, b.Replaces = lot, clear, replaces
		put(s, on(at), &b)
	}
	bag(-5, "B0", No, "")
	bag(60, "B1", No, "")
	bag(70, "G2", Yes, "")
	bag(80, "G3", Yes, "B1")
	bag(90, "G4", Yes, "")
	var said []string
	for _, r := range Remarks(s, on(95)) {
		if strings.HasPrefix(r.Code, "bag_") {
			said = append(said, r.Code+" "+r.At.Format("15:04"))
		}
	}
	want := []string{"bag_wrong " + on(60).Format("15:04"), "bag_still " + on(70).Format("15:04")}
	if !slices.Equal(said, want) {
		t.Errorf("said %v, want %v", said, want)
	}
}
