package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// The old lock of a catheter in every state: not answered, drawn, one lumen that could
// not be, then drawn later, rung about, or struck out (H-141).
func TestOldLockDrawn(t *testing.T) {
	at := evening.Add(mins(40))
	stuck := &LockDrawn{Arterial: Drawn, Venous: CouldNot}
	both := &LockDrawn{Arterial: Drawn, Venous: Drawn}
	rang := &Rang{Whom: "the unit by day", Said: "come in, use nothing"}
	for _, tt := range []struct {
		name  string
		log   []any // a quarter of a minute apart
		want  CheckState
		words string
		rings bool
	}{
		{"not written", nil, OpenYet, "Old lock not drawn yet. Draw it out of each lumen first.", false},
		{"both drawn", []any{both}, Ready, "Old lock drawn out of both lumens.", false},
		{"venous could not", []any{stuck}, StopHere, "Old lock of the venous lumen could not be drawn. Push nothing in; ring.", true},
		{"arterial could not", []any{&LockDrawn{Arterial: CouldNot, Venous: Drawn}}, StopHere, "Old lock of the arterial lumen could not be drawn. Push nothing in; ring.", true},
		{"neither could", []any{&LockDrawn{Arterial: CouldNot, Venous: CouldNot}}, StopHere, "arterial lumen could not be drawn. Push nothing in; ring. Old lock of the venous", true},
		{"clots", []any{&LockDrawn{Arterial: Drawn, Venous: Drawn, Clots: true}}, Look, "Clots in the old lock. Tell your unit.", false},
		{"could not, then drawn: it stays in sight", []any{stuck, both}, Look, "Old lock of the venous lumen could not be drawn at first; later it was.", false},
		{"could not, then rung", []any{stuck, rang}, Look, "You rang the unit by day at", false},
		{"rung before it was tried", []any{rang, stuck}, StopHere, "Push nothing in", true},
		{"rung, then the other lumen too", []any{stuck, rang, &LockDrawn{Arterial: CouldNot, Venous: CouldNot}}, StopHere, "Old lock of the arterial lumen", true},
	} {
		s := byCatheter(t)
		s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { _, is := e.Body.(*LockDrawn); return is })
		put(s, evening.Add(mins(28)), inHand(t))
		for i, body := range tt.log {
			put(s, evening.Add(mins(30)+time.Duration(i)*15*time.Second), body)
		}
		c := check(t, StartLine(s, known(), at), CheckLock)
		if c.State != tt.want || !strings.Contains(c.Words, tt.words) || c.Rings != tt.rings {
			t.Errorf("%s: %s %q, rings %v", tt.name, c.State, c.Words, c.Rings)
		}
		if c.State == Look && len(tt.log) > 1 && tt.log[1] == any(both) && strings.Contains(c.Words, "Push nothing in") {
			t.Errorf("%s: an order that no longer holds: %q", tt.name, c.Words)
		}
		if tt.want == Ready && !strings.Contains(c.Words, "as ordered.") {
			t.Errorf("%s: the new lock is not said beside it: %q", tt.name, c.Words)
		}
	}
	s := byCatheter(t)
	s.Rx.OrderedLock = OrderedLock{}
	s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { _, is := e.Body.(*LockDrawn); return is })
	if c := check(t, StartLine(s, known(), at), CheckLock); c.State != OpenYet || !strings.Contains(c.Words, "Old lock not drawn yet.") {
		t.Errorf("no lock ordered: an old one is in there all the same: %s %q", c.State, c.Words)
	}
}

// Cuff, length and old lock are asked for once one of them was written, in this session
// or before: who wrote as before they had keys starts as before.
func TestCatheterAsBefore(t *testing.T) {
	at := evening.Add(mins(40))
	s := byCatheter(t)
	s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { _, is := e.Body.(*LockDrawn); return is })
	edit(s, func(b *AccessCheck) { b.Cuff, b.Length = "", "" })
	put(s, evening.Add(mins(28)), inHand(t))
	for _, tt := range []struct {
		earlier []any
		want    CheckState
	}{
		{nil, Ready},
		{[]any{&AccessCheck{Thrill: "not_applicable", Skin: "clean"}}, Ready},
		{[]any{&AccessCheck{Thrill: "not_applicable", Skin: "clean", Cuff: "hidden"}}, OpenYet},
		{[]any{&LockDrawn{Arterial: Drawn, Venous: Drawn}}, OpenYet},
	} {
		before := &Session{}
		put(before, evening.Add(-mins(2890)), &Opened{Place: "home"})
		for _, body := range tt.earlier {
			put(before, evening.Add(-mins(2880)), body)
		}
		h := known()
		h.Held = HistoryOf([]*Session{before}).Held
		for _, id := range []string{CheckAccess, CheckLock} {
			if c := check(t, StartLine(s, h, at), id); c.State != tt.want {
				t.Errorf("%v before: %s is %s %q, want %s", tt.earlier, id, c.State, c.Words, tt.want)
			}
		}
	}
}

// A cuff that showed, or a catheter that was longer, stays a stop under a better look
// until it was rung about.
func TestMovedCatheterStays(t *testing.T) {
	for _, moved := range []AccessCheck{
		{Thrill: "not_applicable", Skin: "clean", Cuff: "showing", Length: "as_before"},
		{Thrill: "not_applicable", Skin: "clean", Cuff: "hidden", Length: "longer"},
	} {
		s, at := byCatheter(t), evening.Add(mins(40))
		put(s, evening.Add(mins(20)), &moved)
		if c := check(t, StartLine(s, known(), at), CheckAccess); c.State != StopHere || !strings.Contains(c.Words, "Ring your unit before you start.") || !c.Rings {
			t.Errorf("%+v: %s %q", moved, c.State, c.Words)
		}
		put(s, evening.Add(mins(25)), &AccessCheck{Thrill: "not_applicable", Skin: "clean", Cuff: "hidden", Length: "as_before"})
		if c := check(t, StartLine(s, known(), at), CheckAccess); c.State != StopHere {
			t.Errorf("%+v, then a better look: %s %q", moved, c.State, c.Words)
		}
		put(s, evening.Add(mins(26)), &Rang{Whom: "the unit", Said: "come at eight"})
		if c := check(t, StartLine(s, known(), at), CheckAccess); c.State != Look {
			t.Errorf("%+v, then rung: %s %q", moved, c.State, c.Words)
		}
	}
	s := ready(t) // a fistula has neither
	edit(s, func(b *AccessCheck) { b.Cuff, b.Length = "showing", "longer" })
	if c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckAccess); c.State != Ready {
		t.Errorf("a fistula: %s %q", c.State, c.Words)
	}
}

// offCatheter is a session by catheter that was set up, run and ended.
func offCatheter(t *testing.T) (s *Session, end time.Time) {
	s, end = byCatheter(t), evening.Add(mins(300))
	put(s, evening.Add(mins(28)), inHand(t))
	put(s, evening.Add(mins(45)), &Connected{})
	put(s, end, &CameOff{Returned: "all"})
	return s, end
}

// The lock given at the end is judged like the one in the hand before the start; the
// start line stays as it was, and the heparin of the session too.
func TestLockAtTheEnd(t *testing.T) {
	s, end := offCatheter(t)
	before := StartLine(s, known(), end)
	if said := LockAtEnd(s, known()); said != nil {
		t.Errorf("none was written: %q", said)
	}
	if b, _ := LockAfter(s); b != nil {
		t.Error("the one read before the start counts as given")
	}
	strong := inHand(t)
	strong.Content, strong.Venous = ref(unit.Content(3000)), 160
	put(s, end.Add(mins(12)), strong)
	said := strings.ReplaceAll(strings.Join(LockAtEnd(s, known()), "|"), "\u00a0", " ")
	for _, want := range []string{"Lock of 30 %, ordered 4 %. Do not use it; ring.", "Venous lumen 1.6 mL, ordered 1.7 mL. Do not lock; ring."} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not in %q", want, said)
		}
	}
	put(s, end.Add(mins(14)), inHand(t))
	if again := LockAtEnd(s, known()); len(again) != 2 {
		t.Errorf("gone once the right one was written: %q", again)
	}
	put(s, end.Add(mins(15)), &Rang{Whom: "the unit", Said: "draw it out again"})
	if again := LockAtEnd(s, known()); len(again) != 3 || !strings.Contains(again[2], "draw it out again") {
		t.Errorf("the call is not beside it: %q", again)
	}
	after := StartLine(s, known(), end.Add(mins(20)))
	for i := range before {
		if before[i].Words != after[i].Words || before[i].State != after[i].State {
			t.Errorf("the start line changed: %s %q, was %q", after[i].ID, after[i].Words, before[i].Words)
		}
	}
	s, end = offCatheter(t)
	put(s, end.Add(mins(12)), inHand(t))
	if said := LockAtEnd(s, known()); said != nil {
		t.Errorf("as ordered: %q", said)
	}
	expired := inHand(t)
	expired.Expiry = date(t, "2026-03-11")
	put(s, end.Add(mins(14)), expired)
	if said := LockAtEnd(s, known()); len(said) != 1 || !strings.Contains(said[0], "Lock expired") {
		t.Errorf("past its day: %q", said)
	}
}

// What a session by catheter lacks: the old lock, the new one, caps and clamps, each
// until it is there; nothing of needles or of holding.
func TestOpenItemsOfACatheter(t *testing.T) {
	items := func(s *Session) string {
		var names []string
		for _, o := range OpenItems(s) {
			names = append(names, o.Kind+" "+o.What)
		}
		return strings.Join(names, "|")
	}
	s, end := offCatheter(t)
	tick := func(step, state string) {
		put(s, end.Add(mins(20)), &StepDone{Phase: TakeOff, Step: step, State: state})
	}
	for _, one := range []struct {
		what string
		do   func()
	}{
		{"catheter_lock Lock after", func() { put(s, end.Add(mins(12)), inHand(t)) }},
		{"step New caps on both lumens", func() { tick(CapsStep, StepIsDone) }},
		{"step Both clamps looked at: shut", func() { tick(ShutStep, StepIsDone) }},
	} {
		if list := items(s); !strings.Contains(list, one.what) {
			t.Errorf("%s is not open: %s", one.what, list)
		}
		one.do()
		if list := items(s); strings.Contains(list, one.what) {
			t.Errorf("%s is still open: %s", one.what, list)
		}
	}
	if tick(ShutStep, "undone"); !strings.Contains(items(s), "Both clamps") {
		t.Errorf("taken back, and not open: %s", items(s))
	}
	if tick(ShutStep, StepNotDone); !strings.Contains(items(s), "Both clamps") {
		t.Errorf("left out, and not open: %s", items(s))
	}
	if list := items(s); strings.Contains(list, "needling") || strings.Contains(list, "holding") || strings.Contains(list, "lock_drawn") {
		t.Errorf("%s", list)
	}
	s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { _, is := e.Body.(*LockDrawn); return is })
	if list := items(s); !strings.Contains(list, "lock_drawn Old lock drawn") {
		t.Errorf("old lock: %s", list)
	}
	s.Rx.Access = "fistula"
	if list := items(s); strings.Contains(list, "lock") || strings.Contains(list, "caps") || !strings.Contains(list, "holding") {
		t.Errorf("a fistula: %s", list)
	}
}

// Nothing that the program says to somebody with a catheter names a needle: remarks,
// troubles, their acts. What the person wrote is left alone.
func TestNothingSaysNeedleToACatheter(t *testing.T) {
	rx := &Prescription{Access: "catheter"}
	for code := range runWords {
		for _, f := range []facts{{value: "120 mmHg", was: "180 mmHg", limit: "300"}, {value: "1", was: "2", flow: "200 mL/min", wasFlow: "300 mL/min"}, {felt: true, hard: true, value: "1"}} {
			f.catheter = true
			if words := wordsOf(code, f); strings.Contains(strings.ToLower(words), "needle") {
				t.Errorf("%s: %s", code, words)
			}
		}
	}
	for i, one := range TroublesFor(rx) {
		if words := one.Title + " " + strings.Join(one.Acts, " "); strings.Contains(strings.ToLower(words), "needle") || strings.Contains(words, "hole") {
			t.Errorf("%s: %s", one.Code, words)
		}
		if one.Code != Troubles()[i].Code || len(one.Acts) != len(Troubles()[i].Acts) {
			t.Errorf("%s is another trouble", one.Code)
		}
	}
	if words := rx.LineWords(); words != OneLumenWords {
		t.Errorf("%s", words)
	}
	for _, other := range []*Prescription{nil, {}, {Access: "fistula"}, {Access: "graft"}} {
		if words := other.LineWords(); words != OneNeedleWords {
			t.Errorf("%+v: %s", other, words)
		}
	}
	s := byCatheter(t)
	put(s, evening.Add(mins(45)), &Connected{BloodFlow: ref(unit.Flow(300))})
	put(s, evening.Add(mins(60)), &Reading{BloodFlow: ref(unit.Flow(300)), Venous: ref(unit.Pressure(180)), Arterial: ref(unit.Pressure(-150))})
	put(s, evening.Add(mins(90)), &Reading{BloodFlow: ref(unit.Flow(300)), Venous: ref(unit.Pressure(90)), Arterial: ref(unit.Pressure(-20))})
	said := ""
	for _, r := range Remarks(s, evening.Add(mins(95))) {
		said += r.Words
	}
	if strings.Contains(strings.ToLower(said), "needle") || !strings.Contains(said, "Look at both connections and the lines first.") {
		t.Errorf("%s", said)
	}
	put(s, evening.Add(mins(96)), &Trouble{Trouble: TroubleBlood, State: TroubleOpen})
	if open := OpenTroubles(s, evening.Add(mins(97))); len(open) != 1 || open[0].Title != "Line off the catheter, blood" || !slices.Contains(open[0].Acts, "Clamp the catheter.") {
		t.Errorf("%+v", open)
	}
}
