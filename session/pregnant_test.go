package session

import (
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// A pregnancy is known from the person, from this session's answer and from an
// earlier session's, until the person is written again.
func TestIsPregnant(t *testing.T) {
	week := 7 * 24 * time.Hour
	for _, tt := range []struct {
		name string
		h    History
		here *Fitness
		want bool
	}{
		{"nothing said", History{}, nil, false},
		{"no to all", History{}, &Fitness{None: true}, false},
		{"written of the person", History{Who: Whom{Pregnant: true, Written: evening.Add(-week)}}, nil, true},
		{"told here", History{}, &Fitness{Pregnant: true}, true},
		{"told here after the person was written", History{Who: Whom{Written: evening.Add(-week)}}, &Fitness{Pregnant: true}, true},
		{"told earlier", History{Who: Whom{Written: evening.Add(-2 * week)}, PregnantTold: evening.Add(-week)}, nil, true},
		{"told earlier, not ticked now", History{PregnantTold: evening.Add(-week)}, &Fitness{None: true}, true},
		{"told earlier, the person written again since", History{Who: Whom{Written: evening.Add(-week)}, PregnantTold: evening.Add(-2 * week)}, nil, false},
		{"told here, the person written again since", History{Who: Whom{Written: evening.Add(mins(5))}}, &Fitness{Pregnant: true}, false},
	} {
		s := newSession(t)
		put(s, evening, &Opened{Place: "home", Source: "live"})
		if tt.here != nil {
			put(s, evening.Add(mins(1)), tt.here)
		}
		if got := IsPregnant(s, tt.h, evening.Add(mins(10))); got != tt.want {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
	s := newSession(t)
	put(s, evening.Add(mins(30)), &Fitness{Pregnant: true})
	if IsPregnant(s, History{}, evening.Add(mins(10))) {
		t.Error("told only later: known before")
	}
	var h History
	one := ready(t)
	put(one, evening.Add(mins(3)), &Fitness{Pregnant: true})
	h.Add(one)
	if !h.PregnantTold.Equal(evening.Add(mins(3))) {
		t.Errorf("told in an earlier session at %v", h.PregnantTold)
	}
}

// A pregnancy is rung about when it is told first, and only then: a call answers it,
// a better answer does not.
func TestPregnantIsRungAboutOnce(t *testing.T) {
	day := 24 * time.Hour
	before := evening.Add(-2 * day)
	call := &Rang{Whom: "the unit", Said: "come in on Monday"}
	for _, tt := range []struct {
		name string
		h    History
		log  []any
		want CheckState
	}{
		{"told first", History{}, []any{&Fitness{Pregnant: true}}, StopHere},
		{"told first, and rung", History{}, []any{&Fitness{Pregnant: true}, call}, Look},
		{"told first, rung in the same answer", History{}, []any{&Fitness{Pregnant: true, Rang: "Nurse: come in"}}, Look},
		{"told first, then unticked", History{}, []any{&Fitness{Pregnant: true}, &Fitness{None: true}}, StopHere},
		{"told first, then told again", History{}, []any{&Fitness{Pregnant: true}, &Fitness{Pregnant: true, Stomach: true}}, StopHere},
		{"told first, rung, then told again", History{}, []any{&Fitness{Pregnant: true}, call, &Fitness{Pregnant: true}}, Look},
		{"told in an earlier session", History{PregnantTold: before}, []any{&Fitness{Pregnant: true}}, Ready},
		{"told before the person was written again", History{PregnantTold: before, Who: Whom{Written: before.Add(day)}}, []any{&Fitness{Pregnant: true}}, StopHere},
		{"written of the person before", History{Who: Whom{Pregnant: true, Written: before}}, []any{&Fitness{Pregnant: true}}, Ready},
		{"written of the person after it was told", History{Who: Whom{Pregnant: true, Written: evening.Add(mins(2))}}, []any{&Fitness{Pregnant: true}}, StopHere},
	} {
		s := newSession(t)
		put(s, evening, &Opened{Place: "home", Source: "live"})
		for i, b := range tt.log {
			put(s, evening.Add(mins(1+i)), b)
		}
		c := check(t, StartLine(s, tt.h, evening.Add(mins(20))), CheckFit)
		if c.State != tt.want || tt.want == StopHere && !strings.Contains(c.Words, "pregnant, or may be") {
			t.Errorf("%s: %s %q, want %s", tt.name, c.State, c.Words, tt.want)
		}
	}
	if (&Fitness{Pregnant: true}).Any() == false {
		t.Error("a pregnancy alone is an answer")
	}
}

// What was told in a session that was set up and broken off counts in the next one,
// although the earlier session is then in its history.
func TestPregnantToldInABrokenSession(t *testing.T) {
	broken := newSession(t)
	put(broken, evening.Add(-mins(60)), &Opened{Place: "home", Source: "live"})
	put(broken, evening.Add(-mins(50)), &Fitness{Pregnant: true})
	s := newSession(t)
	put(s, evening, &Opened{Place: "home", Source: "live"})
	put(s, evening.Add(mins(1)), &Fitness{None: true})
	h := History{Broken: []*Session{broken}, PregnantTold: evening.Add(-mins(50))}
	if c := check(t, StartLine(s, h, evening.Add(mins(5))), CheckFit); c.State != StopHere {
		t.Errorf("%s %q", c.State, c.Words)
	}
}

// A pregnancy told while the treatment runs is a look with what to do; what is said later
// of a rate names 13 mL/h/kg as where the program stops, and quotes no studies to her.
func TestPregnancyToldWhileRunning(t *testing.T) {
	for _, told := range []bool{false, true} {
		s := fallen(t)
		s.Rx.Rate, s.Rx.MaxRemoval = nil, nil
		put(s, on(20), &Fitness{Pregnant: told, Fever: !told})
		put(s, on(30), &Reading{Rate: ref(unit.Rate(1400))})
		if got := saidOfCode(s, "pregnant_told", 31); (len(got) == 1) != told || told && !strings.Contains(got[0], "Ring your unit now") {
			t.Errorf("told %v: %v", told, got)
		}
		n, err := SetNow(s, on(31))
		if err != nil {
			t.Fatal(err)
		}
		words := strings.ReplaceAll(strings.Join(n.Said, "|"), "\u00a0", " ")
		if ours, stops := strings.Contains(words, "13 mL/h/kg (ours)"), strings.Contains(words, "13 mL/h/kg, where Ebbline stops; your unit wrote none"); ours == told || stops != told {
			t.Errorf("told %v: %q", told, words)
		}
		put(s, on(32), &GoalChanged{Goal: 4000})
		n, err = SetNow(s, on(33))
		if err != nil {
			t.Fatal(err)
		}
		words = strings.ReplaceAll(strings.Join(n.Said, "|"), "\u00a0", " ")
		if (len(n.Cautions) == 0) != told || strings.Contains(words, "(ours)") == told {
			t.Errorf("told %v, a goal far too high: %d cautions, %q", told, len(n.Cautions), words)
		}
	}
	// Told before the start, it is no news.
	s := fallen(t)
	put(s, on(-20), &Fitness{Pregnant: true})
	put(s, on(20), &Fitness{Pregnant: true})
	if got := saidOfCode(s, "pregnant_told", 31); len(got) > 0 {
		t.Errorf("told before: %v", got)
	}
}
