package household

import (
	"math"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// A session that was not held, and one cut short, are found, and what they did
// to the dose is said: less, and a higher peak.
func TestMissedAndShortened(t *testing.T) {
	// Leave out the Thursday before last, and end the Monday after an hour early.
	gone, early := "s-20260528", "s-20260601"
	_, m, _ := invented(t, 4, 4, func(e *record.Entry) bool {
		if e.Session == early && e.Kind == "came_off" {
			e.At = e.At.Add(-70 * time.Minute)
		}
		return e.Session != gone
	})
	k, err := KineticOf(m, present)
	if err != nil {
		t.Fatal(err)
	}
	f, err := FortnightOf(m, k, present)
	if err != nil {
		t.Fatal(err)
	}
	if len(f.Missed) == 0 || f.Missed[0].String() != "2026-05-28" {
		t.Errorf("missed: %v, want 2026-05-28 among them", f.Missed)
	}
	if len(f.Short) != 1 || f.Short[0].Done.ID != early {
		t.Errorf("short: %+v", f.Short)
	}
	if f.AsOrdered == nil {
		t.Fatal("nothing is said of the fortnight as ordered")
	}
	if f.AsOrdered.StdKtV <= f.StdKtV.Value || f.AsOrdered.PeakMmolL >= f.PeakMmolL {
		t.Errorf("as done %.2f with a peak of %.1f, as ordered %.2f and %.1f", f.StdKtV.Value, f.PeakMmolL, f.AsOrdered.StdKtV, f.AsOrdered.PeakMmolL)
	}
	if f.MostAboveL < f.AsOrdered.MostAboveL || f.FastestLoss <= f.AsOrdered.FastestLoss {
		t.Errorf("fluid as done %.2f L and %.1f mL/h/kg, as ordered %.2f and %.1f", f.MostAboveL, f.FastestLoss, f.AsOrdered.MostAboveL, f.AsOrdered.FastestLoss)
	}
	if f.LongestH < 65 {
		t.Errorf("the longest gap is %.1f h, though a Thursday was missed after a Tuesday", f.LongestH)
	}
	if len(f.Curve) < 14*24 || f.Low >= f.High || f.StdKtV.Value < f.Low || f.StdKtV.Value > f.High {
		t.Errorf("%d points, %.2f (%.2f to %.2f)", len(f.Curve), f.StdKtV.Value, f.Low, f.High)
	}
	v := DoseOf(m, present)
	if !strings.Contains(v.Apart, "as they were done") {
		t.Errorf("with a session missing, definition %.2f and algebra %.2f differ: %q", v.Fortnight.StdKtV.Value, v.Algebraic, v.Apart)
	}
}

// A session moved by a day is not a missed one.
func TestMovedIsNotMissed(t *testing.T) {
	_, m, _ := invented(t, 4, 2, func(e *record.Entry) bool {
		if e.Session == "s-20260528" { // Thursday, held on the Wednesday
			e.At, e.Written = e.At.AddDate(0, 0, -1), e.Written.AddDate(0, 0, -1)
		}
		return true
	})
	for _, day := range missedDays(m, present.Add(-days14), present) {
		if day.String() == "2026-05-28" {
			t.Error("a session held a day early counts as missed")
		}
	}
}

// With every session held the two ways of a week's dose agree.
func TestDefinitionAndAlgebraAgree(t *testing.T) {
	_, m, _ := invented(t, 4, 4, nil)
	v := DoseOf(m, present)
	if v.Fortnight == nil {
		t.Fatal(v.NoStretch, v.Why)
	}
	if len(v.Fortnight.Missed) == 0 && v.Apart != "" {
		t.Errorf("nothing is missed, definition %.2f, algebra %.2f: %s", v.Fortnight.StdKtV.Value, v.Algebraic, v.Apart)
	}
}

// Weights that nobody wrote are filled in and named, never taken as nought.
func TestMissingWeightsAreNamed(t *testing.T) {
	_, m, _ := invented(t, 4, 2, func(e *record.Entry) bool {
		return e.Session != "s-20260601" || e.Kind != "weigh_out"
	})
	all := DoneSessions(m, present.Add(-days14), present)
	for i, d := range all {
		switch {
		case d.ID != "s-20260601":
		case d.PostKg != 0 || d.LostL < 0.5 || len(d.Assumed) == 0 || !strings.Contains(d.Assumed[0], "machine’s total"):
			t.Errorf("without a weight after: %+v", d)
		case i+1 < len(all) && len(all[i+1].Assumed) == 0:
			t.Errorf("the gain after it is not named as assumed: %+v", all[i+1])
		}
	}
}

// Over the next sessions what is left over comes off inside the unit's limits,
// and nothing of it is lost on the way.
func TestNextSessions(t *testing.T) {
	_, m, _ := invented(t, 4, 2, func(e *record.Entry) bool {
		if w, ok := e.Body.(*session.WeighOut); ok && e.Session == "s-20260608" {
			w.Weight += 2500 // far above the dry weight after the last session
		}
		return e.Session < "s-20260609"
	})
	now := time.Date(2026, 6, 9, 9, 0, 0, 0, present.Location())
	list := nextSessions(m, now)
	if len(list) != 3 {
		t.Fatalf("%d sessions ahead: %+v", len(list), list)
	}
	first := list[0]
	if first.Carried < 2 || first.Over == "" || first.LeftOver <= 0 || !strings.Contains(first.Over, "your unit set") {
		t.Errorf("2.5 kg above: %+v", first)
	}
	if list[1].Carried != first.LeftOver {
		t.Errorf("%.3f left over, %.3f carried on", first.LeftOver, list[1].Carried)
	}
}

// What is short of the dry weight after a session is filled up by the gain and by
// what comes in, before anything is taken off; what is short even then is carried on.
func TestNextSessionsBelowDryWeight(t *testing.T) {
	for kg, want := range map[float64]bool{-0.5: false, -4: true} { // false: the first session fills it up
		_, m, _ := invented(t, 4, 2, func(e *record.Entry) bool {
			if w, ok := e.Body.(*session.WeighOut); ok && e.Session == "s-20260608" {
				w.Weight = unit.Mass((63.0 + kg) * 1000)
			}
			return e.Session < "s-20260609"
		})
		rx := m.Prescription(unit.NewDate(2026, 6, 9)).Value
		rx.DryWeight = 63_000
		list := nextSessions(m, time.Date(2026, 6, 9, 9, 0, 0, 0, present.Location()))
		if len(list) != 3 {
			t.Fatalf("%d sessions ahead: %+v", len(list), list)
		}
		first := list[0]
		sum := first.Carried + first.Gain + (rx.Intake+rx.Washback).Float()/1000
		if first.Carried > 0 || math.Abs(first.Goal-max(sum, 0)) > 1e-9 || (sum < 0) != want {
			t.Errorf("%.1f kg from dry weight: %+v, the terms add up to %.3f", kg, first, sum)
		}
		if math.Abs(list[1].Carried-min(sum, 0)) > 1e-9 {
			t.Errorf("%.1f kg from dry weight: %.3f carried on, want %.3f", kg, list[1].Carried, min(sum, 0))
		}
	}
}
