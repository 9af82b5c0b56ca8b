package record

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// A long gap by the days that are ordered, or the second in six sessions, asks the unit
// for its figure, until one is written, or that it sets none.
func TestIdleIsAskedOnce(t *testing.T) {
	b := newBook(t)
	m := b.h.Member("person-one")
	four := aPrescription()
	four.Days = []string{"mon", "tue", "thu", "sat"}
	if said := m.IdleAsked(); !strings.HasPrefix(said, "By your days the machine stands longer than 48 h") {
		t.Errorf("three days a week: %q", said)
	}
	b.must("prescription", "", &four)
	if said := m.IdleAsked(); said != "" {
		t.Errorf("four days a week: %q", said)
	}
	held := func(n int, before time.Duration) {
		b.now = b.now.Add(before)
		b.heldNow(fmt.Sprintf("session-%02d", n))
	}
	held(1, 0)
	for n := 2; n <= 3; n++ {
		held(n, 24*time.Hour) // two days from start to start
	}
	held(4, 48*time.Hour)
	if said := m.IdleAsked(); said != "" {
		t.Errorf("after one long gap: %q", said)
	}
	stood := 0
	for _, s := range m.Sessions { // what is asked for rests on what the start line said
		end, _ := s.Ended()
		said := slices.ContainsFunc(session.StartLine(s, m.History(s), end), func(c session.Check) bool { return slices.Contains(c.Codes, "idle_own") })
		if is := session.StoodOver(s, m.cleanedBefore(s), end); is != said {
			t.Errorf("%s: stood over %v, said at its start %v", s.ID, is, said)
		}
		if said {
			stood++
		}
	}
	if stood != 1 {
		t.Errorf("the start line said it %d times", stood)
	}
	held(5, 24*time.Hour)
	held(6, 24*time.Hour)
	held(7, 48*time.Hour)
	said := m.IdleAsked()
	if !strings.Contains(said, "longer than 48 h, the program’s own figure, before 2 of your last 6 sessions") {
		t.Errorf("after two: %q", said)
	}
	if list := m.AllAsked(unit.DateOf(b.now)); len(list) == 0 || list[len(list)-1] != said {
		t.Errorf("not among what is asked: %q", list)
	}
	rules := WaterRules{Edition: water.ISO2019, Use: "standard", SetBy: "Dr Q (invented)", SetOn: unit.DateOf(b.now)}
	for name, set := range map[string]func(*WaterRules){
		"a figure":  func(r *WaterRules) { h := unit.Hours(7200); r.MaxIdle = &h },
		"sets none": func(r *WaterRules) { r.IdleNone = true },
	} {
		one := rules
		set(&one)
		b.keep("water_rules", &one)
		if said := m.IdleAsked(); said != "" {
			t.Errorf("%s: %q", name, said)
		}
	}
	b.keep("water_rules", &rules)
	if said := m.IdleAsked(); said == "" {
		t.Error("rules that say nothing of it count as an answer")
	}
	both := rules
	hours := unit.Hours(7200)
	both.IdleNone, both.MaxIdle = true, &hours
	if found := b.try(b.entry("water_rules", "", &both)); len(found) == 0 {
		t.Error("a figure and none of it are taken together")
	}
}
