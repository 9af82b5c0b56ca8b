package session

import (
	"strings"
	"testing"

	"ebbline/unit"
)

// What was put on the start line holds it up from its day on, the day itself
// included; with nothing there the start line has no such check.
func TestWaitingHoldsUpTheStart(t *testing.T) {
	now := evening.Add(mins(40))
	today := unit.DateOf(now)
	for _, tt := range []struct {
		name string
		list []Waiting
		want CheckState // "" for no such check
		word string
	}{
		{"nothing", nil, "", ""},
		{"tomorrow", []Waiting{{Words: "Door seal: due.", On: today.Add(1)}}, "", ""},
		{"today", []Waiting{{Words: "Door seal: due.", On: today}}, StopHere, "Door seal"},
		{"whatever the day", []Waiting{{Words: "Water over its limit: lead."}}, StopHere, "lead"},
		{"the second of two", []Waiting{{Words: "Door seal: due.", On: today.Add(1)}, {Words: "Belt is due by its hours."}}, StopHere, "Belt"},
	} {
		var found []Check
		for _, c := range StartLine(ready(t), History{MachineCare: MachineCare{Waiting: tt.list}}, now) {
			if c.ID == CheckWaiting {
				found = append(found, c)
			}
		}
		switch {
		case tt.want == "" && len(found) > 0:
			t.Errorf("%s: %+v", tt.name, found)
		case tt.want != "" && (len(found) != 1 || found[0].State != tt.want || !strings.Contains(found[0].Words, tt.word)):
			t.Errorf("%s: %+v, want %s with %q", tt.name, found, tt.want, tt.word)
		}
	}
	s := ready(t)
	put(s, evening.Add(mins(39)), &Override{Check: CheckWaiting, Reason: "technician looked and rang back"})
	h := known()
	h.Waiting = []Waiting{{Words: "Door seal: due."}}
	if checks := StartLine(s, h, now); !AllPassed(checks) {
		t.Errorf("with a written reason: %+v", HoldingUp(checks))
	}
}

// A disinfection that was left out is said; it stops where the unit set how
// long the machine may stand. Fevers followed where heat disinfection was left
// out (an outbreak report of 1994).
func TestDisinfectionLeftOut(t *testing.T) {
	now := evening.Add(mins(40))
	for who, want := range map[string]CheckState{"": Look, "Dr Q (invented)": StopHere} {
		h := History{Treated: 3, MachineCare: MachineCare{Idle: IdleRule{Longest: mins(48 * 60), SetBy: who, SetOn: date(t, "2026-01-02")}}}
		c := check(t, StartLine(ready(t), h, now), CheckCleaned)
		if c.State != want || who != "" && !strings.Contains(c.Limit, who) {
			t.Errorf("idle hours set by %q: %s, %q, %q", who, c.State, c.Words, c.Limit)
		}
	}
}

// While a notice about the water is open one test is not enough: chlorine jumps
// when the supplier works, and the second carbon is looked at too.
func TestChlorineWhileANoticeIsOpen(t *testing.T) {
	now := evening.Add(mins(40))
	doubted := History{MachineCare: MachineCare{Doubted: true}}
	s := ready(t)
	if c := check(t, StartLine(s, doubted, now), CheckChlorine); c.State != Look || !strings.Contains(c.Words, "behind each carbon") {
		t.Errorf("tested at one place: %s, %q", c.State, c.Words)
	}
	first, _ := Last[Chlorine](s)
	second := *first
	second.Point = "second_carbon"
	put(s, evening.Add(mins(20)), &second)
	if c := check(t, StartLine(s, doubted, now), CheckChlorine); c.State != Ready {
		t.Errorf("tested behind both: %s, %q", c.State, c.Words)
	}
}

// A strip that shows nothing says "less than the least it can tell", never zero.
func TestNothingShownIsNoNought(t *testing.T) {
	s := ready(t)
	edit(s, func(b *Chlorine) { b.Below, b.Result, b.ReadsDown = false, 0, 100 })
	if c := check(t, StartLine(s, History{}, evening.Add(mins(40))), CheckChlorine); c.State != Ready || !strings.HasPrefix(c.Words, "Less than 0.1") {
		t.Errorf("%s, %q", c.State, c.Words)
	}
}
