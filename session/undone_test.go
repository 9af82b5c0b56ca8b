package session

import (
	"strings"
	"testing"

	"ebbline/unit"
)

// Each value that stopped the start is found by its entry, whatever came after it;
// what only has to be done again, or stopped nothing, is not.
func TestStoppedBy(t *testing.T) {
	for _, one := range stopping() {
		s := newSession(t)
		s.Rx.SystolicLow = ref(unit.Pressure(90))
		put(s, evening, &Opened{Place: "home"})
		bad := put(s, evening.Add(mins(10)), one.bad).ID
		good := put(s, evening.Add(mins(20)), one.good).ID
		put(s, evening.Add(mins(25)), &Rang{Whom: "Nurse Berg", Said: "go on"})
		if check, words := StoppedBy(s, known(), bad); check != one.check || !strings.Contains(words, one.says) {
			t.Errorf("%s %q: %q %q", one.check, one.says, check, words)
		}
		if check, words := StoppedBy(s, known(), good); check != "" {
			t.Errorf("%s: the better value stopped %q %q", one.check, check, words)
		}
		s.Find(bad).Struck = &Strike{At: evening.Add(mins(30)), By: "Ada", Reason: "it was the other arm"}
		if check, _ := StoppedBy(s, known(), bad); check != one.check {
			t.Errorf("%s: struck out it stopped nothing", one.check)
		}
	}
	s := ready(t)
	weight := put(s, evening.Add(mins(36)), &WeighIn{Weight: 60_400, Scale: "bath"}).ID
	if check, words := StoppedBy(s, known(), weight); check != "" {
		t.Errorf("a newer weight than the plan's: %q %q", check, words)
	}
	if check, _ := StoppedBy(s, known(), "nothing-of-it"); check != "" {
		t.Errorf("an entry that is not there stopped %q", check)
	}
	s = connected(t)
	if check, _ := StoppedBy(s, known(), put(s, on(10), &Chlorine{Result: 300, ReadsDown: 50, Point: firstCarbon}).ID); check != "" {
		t.Errorf("a test while running stopped %q", check)
	}
}

// What stopped and was struck out or corrected is listed with who, when and why;
// what was corrected to as bad a value is not undone.
func TestUndoneStops(t *testing.T) {
	s := ready(t)
	if list := UndoneStops(s, known()); len(list) != 0 {
		t.Fatalf("%+v", list)
	}
	struck := put(s, evening.Add(mins(11)), &Chlorine{Result: 150, ReadsDown: 50, Point: firstCarbon})
	struck.Struck = &Strike{At: evening.Add(mins(15)), By: "Ada", Reason: "this was the tap water, to try the strip"}
	label := s.Find("e8")
	label.Was = []Version{{ID: "old-1", At: label.At, By: "Ada", Body: &BathLabel{K: 300, Ca: 150, Expiry: date(t, "2027-01-31")}, Reason: "read the 2 as a 3"}}
	self := s.Find("e7")
	self.Was = []Version{{ID: "old-2", At: self.At, By: "Ada", Body: &SelfTest{Passed: true, Tries: 2}, Reason: "one try"}}
	list := UndoneStops(s, known())
	if len(list) != 2 {
		t.Fatalf("%+v", list)
	}
	if u := list[0]; u.Check != CheckChlorine || !u.Struck || u.By != "Ada" || !strings.Contains(u.Words, "0.15\u00a0mg/L, limit 0.1") || !strings.Contains(u.Reason, "tap water") || !u.Then.Equal(evening.Add(mins(11))) {
		t.Errorf("%+v", u)
	}
	if u := list[1]; u.Check != CheckBath || u.Struck || !strings.Contains(u.Words, "Label K 3") || u.Reason != "read the 2 as a 3" {
		t.Errorf("%+v", u)
	}
	// As bad again: it is not undone.
	edit(s, func(b *BathLabel) { b.K = 100 })
	if list := UndoneStops(s, known()); len(list) != 1 {
		t.Errorf("corrected to another wrong label: %+v", list)
	}
}

// A stop is gone when its check holds one fewer of its matter; one that another
// entry makes too, or that says something else of the same entry, is not.
func TestStopsGone(t *testing.T) {
	at := evening.Add(mins(40))
	s := ready(t)
	wrong := put(s, evening.Add(mins(36)), &BathLabel{K: 300, Ca: 150, Lot: "b2", Expiry: date(t, "2027-01-31")})
	before := StopsAt(s, known(), at)
	if len(before) != 1 || len(before.Gone(before)) != 0 {
		t.Fatalf("%+v", before)
	}
	wrong.Body.(*BathLabel).K, wrong.Body.(*BathLabel).Ca = 200, 125
	if gone := before.Gone(StopsAt(s, known(), at)); len(gone) != 0 {
		t.Errorf("it stops for another reason: %+v", gone)
	}
	s.Find(wrong.ID).Struck = &Strike{At: at, Reason: "another canister"}
	gone := before.Gone(StopsAt(s, known(), at))
	if len(gone) != 1 || gone[0].Check != CheckBath || !strings.Contains(gone[0].Words, "Label K 3") || !gone[0].Then.Equal(evening.Add(mins(36))) {
		t.Errorf("%+v", gone)
	}
	weight := put(s, evening.Add(mins(37)), &WeighIn{Weight: 60_400, Scale: "bath"})
	overtaken := StopsAt(s, known(), at)
	weight.Struck = &Strike{At: at, Reason: "typed in twice"}
	if gone := overtaken.Gone(StopsAt(s, known(), at)); len(gone) != 0 {
		t.Errorf("a plan that only had to be made again: %+v", gone)
	}
}
