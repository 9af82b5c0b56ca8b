package session

import (
	"strings"
	"testing"

	"ebbline/unit"
)

// byCatheter makes a ready session one by a catheter: citrate 4 %, 1.6 and 1.7 mL as
// ordered, and not typed yet.
func byCatheter(t *testing.T) *Session {
	s := ready(t)
	s.Rx.Access, s.Rx.Technique, s.Rx.GaugeA, s.Rx.GaugeV = "catheter", "none", 0, 0
	s.Rx.OrderedLock = OrderedLock{LockName: "citrate 4 %", LockContent: ref(unit.Content(400)), LockArterial: ref(unit.Drawn(160)), LockVenous: ref(unit.Drawn(170))}
	edit(s, func(b *AccessCheck) {
		b.Thrill, b.Bruit, b.Cuff, b.Length = "not_applicable", "", "hidden", "as_before"
	})
	put(s, evening.Add(mins(15)), &LockDrawn{Arterial: Drawn, Venous: Drawn})
	put(s, evening.Add(mins(23)), &Supply{Item: "caps", Lot: "c1", Expiry: date(t, "2027-01-31")})
	return s
}

// inHand is that lock as the vial and the lumens have it.
func inHand(t *testing.T) *CatheterLock {
	return &CatheterLock{Name: "Citrate", Content: ref(unit.Content(400)), Arterial: 160, Venous: 170, Lot: "k1", Expiry: date(t, "2027-01-31")}
}

// The lock of a catheter, value by value, each with its neighbours (H-141).
func TestCatheterLock(t *testing.T) {
	iu := func(n unit.Strength) *unit.Strength { return &n }
	percent := func(n unit.Content) *unit.Content { return &n }
	for _, tt := range []struct {
		name  string
		want  CheckState
		words string
		set   func(rx *OrderedLock, b *CatheterLock)
	}{
		{"as ordered", Ready, "Citrate, 4 %, arterial 1.6 mL, venous 1.7 mL, as ordered.", func(*OrderedLock, *CatheterLock) {}},
		{"a digit more", StopHere, "Lock of 4.01 %, ordered 4 %. Do not use it; ring.", func(_ *OrderedLock, b *CatheterLock) { b.Content = percent(401) }},
		{"a digit less", StopHere, "Lock of 3.99 %, ordered 4 %.", func(_ *OrderedLock, b *CatheterLock) { b.Content = percent(399) }},
		{"ten times as strong", StopHere, "Lock of 40 %, ordered 4 %.", func(_ *OrderedLock, b *CatheterLock) { b.Content = percent(4000) }},
		{"heparin beside it", StopHere, "Lock of 4 % with 500 IU/mL, ordered 4 %.", func(_ *OrderedLock, b *CatheterLock) { b.Strength = iu(500) }},
		{"the other unit", StopHere, "Lock of 5 000 IU/mL, ordered 4 %.", func(_ *OrderedLock, b *CatheterLock) { b.Strength, b.Content = iu(5000), nil }},
		{"heparin as ordered", Ready, "Heparin, 5 000 IU/mL, arterial 1.6 mL", func(o *OrderedLock, b *CatheterLock) {
			o.LockName, o.LockContent, o.LockStrength = "heparin", nil, iu(5000)
			b.Name, b.Content, b.Strength = "Heparin", nil, iu(5000)
		}},
		{"heparin with a zero less", StopHere, "Lock of 500 IU/mL, ordered 5 000 IU/mL.", func(o *OrderedLock, b *CatheterLock) {
			o.LockName, o.LockContent, o.LockStrength = "heparin", nil, iu(5000)
			b.Name, b.Content, b.Strength = "Heparin", nil, iu(500)
		}},
		{"1.35 % to the hundredth", Ready, "1.35 %", func(o *OrderedLock, b *CatheterLock) {
			o.LockName, o.LockContent, b.Name, b.Content = "taurolidine", percent(135), "taurolidine", percent(135)
		}},
		{"another name", StopHere, "Lock is saline, ordered citrate 4 %. Do not use it; ring.", func(_ *OrderedLock, b *CatheterLock) { b.Name = "saline" }},
		{"one name more", StopHere, "Lock is taurolidine citrate, ordered citrate 4 %.", func(_ *OrderedLock, b *CatheterLock) { b.Name = "taurolidine citrate" }},
		{"arterial 1.7", StopHere, "Arterial lumen 1.7 mL, ordered 1.6 mL. Do not lock; ring.", func(_ *OrderedLock, b *CatheterLock) { b.Arterial = 170 }},
		{"venous 1.6", StopHere, "Venous lumen 1.6 mL, ordered 1.7 mL.", func(_ *OrderedLock, b *CatheterLock) { b.Venous = 160 }},
		{"swapped", StopHere, "Arterial lumen 1.7 mL, ordered 1.6 mL. Do not lock; ring. Venous lumen 1.6 mL, ordered 1.7 mL.", func(_ *OrderedLock, b *CatheterLock) { b.Arterial, b.Venous = 170, 160 }},
		{"expired yesterday", StopHere, "Lock expired 11 March 2026. Use one in date.", func(_ *OrderedLock, b *CatheterLock) { b.Expiry = date(t, "2026-03-11") }},
		{"its last day", Ready, "as ordered", func(_ *OrderedLock, b *CatheterLock) { b.Expiry = date(t, "2026-03-12") }},
		{"no order at all", Look, "Citrate, 4 %: no lock is ordered here. Ask your unit.", func(o *OrderedLock, _ *CatheterLock) { *o = OrderedLock{} }},
		{"a name alone", Look, "Not ordered of the lock: strength, arterial volume, venous volume. Ask your unit.", func(o *OrderedLock, _ *CatheterLock) { *o = OrderedLock{LockName: "citrate"} }},
	} {
		s, b := byCatheter(t), inHand(t)
		tt.set(&s.Rx.OrderedLock, b)
		put(s, evening.Add(mins(28)), b)
		checks := StartLine(s, known(), evening.Add(mins(40)))
		c := check(t, checks, CheckLock)
		if words := strings.ReplaceAll(c.Words, "\u00a0", " "); c.State != tt.want || !strings.Contains(words, tt.words) {
			t.Errorf("%s: %s %q, want %s %q", tt.name, c.State, words, tt.want, tt.words)
		}
		if tt.want == StopHere && strings.Contains(c.Words, "as ordered") {
			t.Errorf("%s: “as ordered” beside a stop: %q", tt.name, c.Words)
		}
		if lots := check(t, checks, CheckLots); lots.State == StopHere || tt.want == Ready && !strings.Contains(lots.Words, "Catheter lock") {
			t.Errorf("%s: lots %s %q", tt.name, lots.State, lots.Words)
		}
		if hep := check(t, checks, CheckHeparin); hep.State != Ready || !strings.Contains(strings.ReplaceAll(hep.Words, "\u00a0", " "), "3 750 IU") {
			t.Errorf("%s: the lock stands in the heparin: %s %q", tt.name, hep.State, hep.Words)
		}
	}
}

// Not typed is open where a lock is ordered. A household whose prescription says
// nothing of one is told and starts as before; without a catheter nothing is asked,
// not even of a lock that was written down.
func TestCatheterLockNotTyped(t *testing.T) {
	s := byCatheter(t)
	at := evening.Add(mins(40))
	if c := check(t, StartLine(s, known(), at), CheckLock); c.State != OpenYet || AllPassed(StartLine(s, known(), at)) {
		t.Errorf("ordered and not typed: %s %q", c.State, c.Words)
	}
	if list := OpenItems(s); !strings.Contains(kindsOf(list), "catheter_lock") {
		put(s, at, &Connected{})
		if list = OpenItems(s); !strings.Contains(kindsOf(list), "catheter_lock") {
			t.Errorf("not among what is open: %s", kindsOf(list))
		}
	}
	s = byCatheter(t)
	s.Rx.OrderedLock = OrderedLock{}
	checks := StartLine(s, known(), at)
	if c := check(t, checks, CheckLock); c.State != Look || c.Words != "No lock is ordered here. Ask your unit which." || !AllPassed(checks) {
		t.Errorf("not ordered: %s %q, %v", c.State, c.Words, HoldingUp(checks))
	}
	put(s, at, &Connected{})
	if list := kindsOf(OpenItems(s)); strings.Contains(list, "catheter_lock") {
		t.Errorf("asked for without an order: %s", list)
	}
	for _, access := range []string{"fistula", "graft", ""} {
		s := ready(t)
		s.Rx.Access, s.Rx.OrderedLock = access, OrderedLock{LockName: "citrate"}
		put(s, evening.Add(mins(28)), inHand(t))
		for _, c := range StartLine(s, known(), at) {
			if c.ID == CheckLock {
				t.Errorf("%s: %s %q", access, c.State, c.Words)
			}
		}
	}
	for _, c := range StartLine(&Session{}, History{}, at) {
		if c.ID == CheckLock {
			t.Error("asked for without a prescription")
		}
	}
}

func kindsOf(list []OpenItem) string {
	var names []string
	for _, o := range list {
		names = append(names, o.Kind)
	}
	return strings.Join(names, " ")
}

// A wrong lock stays beside the right one; no call answers it, not even one that was
// about the lock.
func TestWrongLockStaysInSight(t *testing.T) {
	s, wrong := byCatheter(t), inHand(t)
	wrong.Arterial, wrong.Venous = 170, 160
	put(s, evening.Add(mins(20)), wrong)
	put(s, evening.Add(mins(28)), inHand(t))
	at := evening.Add(mins(40))
	c := check(t, StartLine(s, known(), at), CheckLock)
	if words := strings.ReplaceAll(c.Words, "\u00a0", " "); c.State != Look || !strings.Contains(words, "At 17:20: Arterial lumen 1.7 mL, ordered 1.6 mL.") {
		t.Errorf("wrong, then right: %s %q", c.State, words)
	}
	s = byCatheter(t)
	put(s, evening.Add(mins(20)), wrong)
	put(s, evening.Add(mins(25)), &Rang{Whom: "the unit", Said: "those are the new lumens"})
	if c := check(t, StartLine(s, known(), at), CheckLock); c.State != StopHere || c.Rings || !strings.Contains(c.Words, "ring") {
		t.Errorf("rang: %s %q", c.State, c.Words)
	}
	put(s, evening.Add(mins(26)), &Override{Check: CheckLock, Reason: "the unit says these are the new lumens"})
	if c := check(t, StartLine(s, known(), at), CheckLock); c.Overridden == nil {
		t.Errorf("past a reason: %s %q", c.State, c.Words)
	}
	put(s, evening.Add(mins(30)), &CatheterLock{Name: "citrate", Content: ref(unit.Content(3000)), Arterial: 170, Venous: 160, Lot: "k2", Expiry: date(t, "2027-01-31")})
	if c := check(t, StartLine(s, known(), at), CheckLock); c.State != StopHere || !strings.Contains(c.Words, "30") {
		t.Errorf("another one after the call: %s %q", c.State, c.Words)
	}
}

// A lock out of date stays beside the one that is in date, as a bath does.
func TestExpiredLockStaysInSight(t *testing.T) {
	s, old := byCatheter(t), inHand(t)
	old.Expiry = date(t, "2026-01-31")
	put(s, evening.Add(mins(20)), old)
	if c := check(t, StartLine(s, known(), evening.Add(mins(21))), CheckLock); c.State != StopHere || !strings.HasPrefix(c.Words, "Lock expired") {
		t.Errorf("out of date: %s %q", c.State, c.Words)
	}
	put(s, evening.Add(mins(28)), inHand(t))
	if c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckLock); c.State != Look || !strings.Contains(c.Words, "At 17:20: Lock expired 31 January 2026.") || !strings.Contains(c.Words, "At 17:28:") {
		t.Errorf("then one in date: %s %q", c.State, strings.ReplaceAll(c.Words, "\u00a0", " "))
	}
}

// “As ordered” is said of a reading only where nothing of it is another than ordered,
// whatever was wrong with an earlier one.
func TestAsOrderedIsSaidOfWhatIs(t *testing.T) {
	s, first, second := byCatheter(t), inHand(t), inHand(t)
	first.Name, second.Arterial = "heparin", 180
	put(s, evening.Add(mins(20)), first)
	put(s, evening.Add(mins(28)), second)
	c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckLock)
	if words := strings.ReplaceAll(c.Words, "\u00a0", " "); c.State != StopHere || strings.Contains(words, "as ordered") || !strings.Contains(words, "At 17:28: Arterial lumen 1.8 mL") || !strings.Contains(words, "At 17:20: Lock is heparin") {
		t.Errorf("%s %q", c.State, words)
	}
	put(s, evening.Add(mins(30)), inHand(t))
	if c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckLock); c.State != Look || !strings.Contains(c.Words, "as ordered.") {
		t.Errorf("then the right one: %s %q", c.State, c.Words)
	}
}

// Heparin in the lock of somebody who bleeds, or takes a new blood thinner, is said;
// so it is when the next answer is better. Without heparin nothing is.
func TestHeparinInTheLock(t *testing.T) {
	at := evening.Add(mins(40))
	for _, tt := range []struct {
		name string
		lock func(*CatheterLock)
		told []Fitness
		want CheckState
		says string
	}{
		{"heparin, bleeding", nil, []Fitness{{Bleeding: true}}, Look, "Heparin in the lock, and bleeding told: ask your unit."},
		{"heparin, a new blood thinner", nil, []Fitness{{Thinner: true}}, Look, "and new blood thinner told"},
		{"heparin, bleeding, then none", nil, []Fitness{{Bleeding: true}, {}}, Look, "and bleeding told"},
		{"heparin, nothing told", nil, []Fitness{{}}, Ready, "as ordered"},
		{"citrate, bleeding", func(b *CatheterLock) { b.Name, b.Strength, b.Content = "citrate", nil, ref(unit.Content(400)) }, []Fitness{{Bleeding: true}}, Ready, "as ordered"},
		{"heparin beside citrate, bleeding", func(b *CatheterLock) { b.Name, b.Content = "citrate", ref(unit.Content(400)) }, []Fitness{{Bleeding: true}}, Look, "and bleeding told"},
	} {
		s, b := byCatheter(t), inHand(t)
		b.Name, b.Content, b.Strength = "Heparin", nil, ref(unit.Strength(5000))
		if tt.lock != nil {
			tt.lock(b)
		}
		s.Rx.LockName, s.Rx.LockContent, s.Rx.LockStrength = b.Name, b.Content, b.Strength
		for i := range tt.told {
			put(s, evening.Add(mins(24+i)), &tt.told[i])
		}
		put(s, evening.Add(mins(28)), b)
		if c := check(t, StartLine(s, known(), at), CheckLock); c.State != tt.want || !strings.Contains(c.Words, tt.says) {
			t.Errorf("%s: %s %q", tt.name, c.State, c.Words)
		}
	}
}

// What was not ordered is held against last time's, so that it is typed twice when it
// changes; what was ordered against nothing else.
func TestLockDifferences(t *testing.T) {
	last := inHand(t)
	now := *inHand(t)
	now.Arterial, now.Name, now.Content = 180, "heparin", nil
	now.Strength = ref(unit.Strength(5000))
	if d := LockDifferences(OrderedLock{}, &now, nil); len(d) != 0 {
		t.Errorf("nothing to compare with: %+v", d)
	}
	keys := ""
	for _, d := range LockDifferences(OrderedLock{}, &now, last) {
		if keys += strings.Join(d.Keys, " ") + " "; d.Ordered {
			t.Errorf("taken for an order: %+v", d)
		}
	}
	if keys != "name strength_iu_ml arterial_ml " {
		t.Errorf("against last time: %s", keys)
	}
	order := OrderedLock{LockName: "heparin", LockStrength: ref(unit.Strength(5000)), LockArterial: ref(unit.Drawn(180))}
	if d := LockDifferences(order, &now, last); len(d) != 0 {
		t.Errorf("as ordered, another than last time: %+v", d)
	}
	for _, tt := range []struct {
		a, b string
		same bool
	}{
		{"citrate 4 %", "Citrate", true}, {"Heparin lock 5000 IU/mL", "heparin", true}, {"taurolidine and citrate", "Citrate with Taurolidine", true},
		{"citrate", "sodium citrate", true},
		{"Heparin sodium lock solution", "heparin lock", true}, {"Sterile heparin sodium injection 5000 IU/mL for catheter lock", "Heparin", true}, {"Trisodium citrate 46.7 %", "citrate lock", true},
		{"taurolidine citrate", "citrate", false}, {"heparin-free citrate", "citrate with heparin", false}, {"sodium chloride", "heparin sodium", false},
		{"sodium bicarbonate lock", "sodium citrate lock", false}, {"sodium lock", "heparin lock", false},
		{"heparin", "taurolidine heparin", false}, {"4 %", "4%", true}, {"4 %", "heparin", false},
	} {
		if sameLock(tt.a, tt.b) != tt.same || sameLock(tt.b, tt.a) != tt.same {
			t.Errorf("%q and %q: %v, want %v", tt.a, tt.b, !tt.same, tt.same)
		}
	}
}
