package report

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// The lock of a catheter has a row of its own beside the heparin, on page and print:
// a blank to write in while it was not read, none where there is no catheter.
func TestLockOnTheSheet(t *testing.T) {
	row := func(s Sheet) (Value, bool) {
		for _, f := range s.Opened.Fields {
			if f.Label == "Catheter lock" {
				return f.Value, true
			}
		}
		return Value{}, false
	}
	one := evening(t)
	if v, there := row(SheetOf(SheetInput{Head: ilsabet, Session: one, Now: made})); there {
		t.Errorf("on a fistula: %+v", v)
	}
	rx := *one.Rx
	rx.Access = "catheter"
	one.Rx = &rx
	if v, there := row(SheetOf(SheetInput{Head: ilsabet, Session: one, Now: made})); !there || !v.Blank() {
		t.Errorf("not read: %+v %v", v, there)
	}
	d := newDiary(t, "Europe/Oslo", "2026-03-03")
	for _, e := range one.Log {
		d.s.Add(e)
	}
	d.n, d.s.Rx = 700, &rx
	percent, iu := unit.Content(135), unit.Strength(500)
	d.add(d.at(17, 50), &session.CatheterLock{Name: "taurolidine", Content: &percent, Strength: &iu, Arterial: 160, Venous: 170, Lot: "K-5", Expiry: unit.NewDate(2027, 1, 31)})
	s := SheetOf(SheetInput{Head: ilsabet, Session: d.s, Now: made})
	for where, text := range map[string]string{"the page": pageOf(t, s, printing), "the print": sheetFile(t, s, printing).words()} {
		text = strings.ReplaceAll(strings.Join(strings.Fields(text), " "), "\u00a0", " ")
		for _, want := range []string{"Catheter lock", "taurolidine, 1.35 % with 500 IU/mL, arterial 1.6 mL, venous 1.7 mL", "K-5"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s does not hold %q", where, want)
			}
		}
	}
}

// What was ordered of a lock stands under "Prescribed", on a form that is still blank
// too; only of a catheter, and said where the unit ordered none.
func TestOrderedLockOnTheSheet(t *testing.T) {
	order := session.OrderedLock{LockName: "citrate", LockContent: new(unit.Content), LockArterial: new(unit.Drawn), LockVenous: new(unit.Drawn)}
	*order.LockContent, *order.LockArterial, *order.LockVenous = 400, 160, 170
	for _, tt := range []struct {
		name, access string
		order        session.OrderedLock
		want         string
	}{
		{"as ordered", "catheter", order, "citrate, 4 %, arterial 1.6 mL, venous 1.7 mL"},
		{"a part of it", "catheter", session.OrderedLock{LockName: "citrate", LockVenous: order.LockVenous}, "citrate, venous 1.7 mL"},
		{"none", "catheter", session.OrderedLock{}, "none ordered"},
		{"on a fistula", "fistula", order, ""},
	} {
		one := evening(t)
		rx := *one.Rx
		rx.Access, rx.OrderedLock = tt.access, tt.order
		one.Rx = &rx
		for _, s := range []Sheet{SheetOf(SheetInput{Head: ilsabet, Session: one, Now: made}), BlankSheet(ilsabet, &rx, one.Machine)} {
			got := ""
			for _, f := range s.Plan.Ordered {
				if f.Label == "Catheter lock" {
					got = strings.ReplaceAll(f.Value.Text, "\u00a0", " ")
				}
			}
			if got != tt.want {
				t.Errorf("%s: %q, not %q", tt.name, got, tt.want)
			}
		}
	}
}

// A catheter has a part of its own where another access has its needles, and the lock
// that was given stands beside the end, apart from the one read before the start and
// from the heparin; what is wrong with it stands in a note.
func TestCatheterOnTheSheet(t *testing.T) {
	one := evening(t)
	rx := *one.Rx
	rx.Access, rx.Technique = "catheter", "none"
	four, thirty, arterial, venous := unit.Content(400), unit.Content(3000), unit.Drawn(160), unit.Drawn(170)
	rx.OrderedLock = session.OrderedLock{LockName: "citrate", LockContent: &four, LockArterial: &arterial, LockVenous: &venous}
	d := newDiary(t, "Europe/Oslo", "2026-03-03")
	for _, e := range one.Log {
		switch b := e.Body.(type) {
		case *session.Needling, *session.Holding, *session.NeedleAdjusted:
			continue
		case *session.Supply:
			if b.Item == "Needles" {
				continue
			}
		case *session.Alarm:
			e.Body = &session.Alarm{Words: "venous pressure low", Looked: true}
			e.Was = nil
		}
		d.s.Add(e)
	}
	d.n, d.s.Rx = 700, &rx
	lock := session.CatheterLock{Name: "citrate", Content: &four, Arterial: 160, Venous: 170, Lot: "K-5", Expiry: unit.NewDate(2027, 1, 31)}
	wrong := lock
	wrong.Content = &thirty
	end, _ := d.s.Ended()
	d.add(d.at(17, 50), &lock)
	d.add(d.at(18, 10), &session.LockDrawn{Arterial: "drawn", Venous: "could_not"})
	d.add(end.Add(-time.Minute), &session.WashbackChecked{Saline: true, Clamp: true, Venous: true})
	d.add(end.Add(5*time.Minute), &wrong)
	d.add(end.Add(6*time.Minute), &session.StepDone{Phase: session.TakeOff, Step: session.CapsStep, State: session.StepIsDone})
	s := SheetOf(SheetInput{Head: ilsabet, Session: d.s, Now: made})
	for where, text := range map[string]string{"the page": pageOf(t, s, printing), "the print": sheetFile(t, s, printing).words()} {
		text = strings.ReplaceAll(strings.Join(strings.Fields(text), " "), "\u00a0", " ")
		for _, want := range []string{"Catheter", "could not", "Lock given", "citrate, 30 %", "citrate, 4 %", "New caps", "Clamps shut", "still runs to my catheter", "Lock of 30 %, ordered 4 %. Do not use it; ring."} {
			if !strings.Contains(text, want) {
				t.Errorf("%s does not hold %q", where, want)
			}
		}
		if i := strings.Index(strings.ToLower(text), "needle"); i >= 0 {
			t.Errorf("%s says needle: %s", where, text[max(0, i-60):min(len(text), i+60)])
		}
		if strings.Contains(text, "Holding A, V") {
			t.Errorf("%s asks for minutes of holding", where)
		}
	}
	before, after := s.Opened, s.After
	given := Value{}
	for _, f := range after.Fields {
		if f.Label == "Lock given" {
			given = f.Value
		}
		if f.Label == "Clamps shut" && !f.Value.Blank() {
			t.Errorf("clamps that nobody looked at: %+v", f.Value)
		}
	}
	if !strings.Contains(given.Text, "30") || len(given.Marks) == 0 {
		t.Errorf("given: %+v", given)
	}
	for _, f := range before.Fields {
		if f.Label == "Catheter lock" && (strings.Contains(f.Value.Text, "30") || len(f.Value.Marks) > 0) {
			t.Errorf("before the start: %+v", f.Value)
		}
		if f.Label == "Heparin" && strings.Contains(f.Value.Text, "citrate") {
			t.Errorf("heparin: %+v", f.Value)
		}
	}
	blank := BlankSheet(ilsabet, &rx, d.s.Machine)
	if blank.Needles.Heading != "Catheter" {
		t.Errorf("a blank form of a catheter: %+v", blank.Needles)
	}
}
