package session

import (
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// wrote puts what happened at one moment and was written at another, in seconds
// after the connecting; it comes after all that was written before.
func wrote(s *Session, at, written int, body any) *Event {
	e := put(s, on(0).Add(time.Duration(at)*time.Second), body)
	e.Written = on(0).Add(time.Duration(written) * time.Second)
	id := e.ID
	place := 0
	for i := range s.Log {
		place = max(place, s.Log[i].Place)
	}
	one := *e
	one.Place = place + 1
	s.Remove(id)
	s.Add(one)
	return s.Find(id)
}

const m1901 = 60 // seconds after the connecting

// What is said to be there, or read, after a trouble was over stays open, whatever
// time was typed for it and in whatever order it comes; what is over ends only what
// was written before it and did not happen after it, by the minute (H-138).
func TestOverEndsOnlyWhatWasWrittenBefore(t *testing.T) {
	open := func() *Trouble { return &Trouble{Trouble: TroubleFluid, State: TroubleOpen} }
	over := func() *Trouble {
		return &Trouble{Trouble: TroubleFluid, State: TroubleOver, Said: "Sister Holm: it has cooled"}
	}
	hot := func() *Reading { return fluidC(38.9) }
	for name, tt := range map[string]struct {
		write func(*Session)
		now   int
		open  bool
	}{
		"over after it": {func(s *Session) { wrote(s, 60, 60, open()); wrote(s, 100, 100, over()) }, 110, false},
		"typed by the minute after it": {func(s *Session) {
			wrote(s, 60, 60, open())
			wrote(s, 100, 100, over())
			wrote(s, m1901, 110, open())
		}, 120, true},
		"sent late by another screen": {func(s *Session) {
			wrote(s, 10, 10, open())
			wrote(s, 100, 100, over())
			wrote(s, 70, 130, open())
		}, 140, true},
		"long before, typed after": {func(s *Session) {
			wrote(s, 600, 600, over())
			wrote(s, 60, 700, open())
		}, 710, true},
		"a hot reading of that minute": {func(s *Session) {
			wrote(s, 10, 10, open())
			wrote(s, 100, 100, over())
			wrote(s, m1901, 110, hot())
		}, 120, true},
		"a hot reading before it": {func(s *Session) { wrote(s, 60, 60, hot()); wrote(s, 100, 100, over()) }, 110, false},
		"over dated ahead, and there meanwhile": {func(s *Session) {
			wrote(s, 10, 10, open())
			wrote(s, 180, 70, over())
			wrote(s, 90, 90, open())
		}, 200, true},
		"over dated ahead ends what was before": {func(s *Session) { wrote(s, 10, 10, open()); wrote(s, 180, 70, over()) }, 80, false},
		"there, dated ahead":                    {func(s *Session) { wrote(s, 180, 70, open()) }, 80, true},
		"both by a clock that is ahead":         {func(s *Session) { wrote(s, 180, 70, open()); wrote(s, 190, 80, over()) }, 90, false},
		"dated ahead, over at once":             {func(s *Session) { wrote(s, 180, 65, open()); wrote(s, 70, 70, over()) }, 200, false},
		"a hot reading, dated ahead":            {func(s *Session) { wrote(s, 180, 70, hot()) }, 80, true},
		"over by the minute":                    {func(s *Session) { wrote(s, 100, 100, open()); wrote(s, m1901, 110, over()) }, 120, false},
		"over the minute before":                {func(s *Session) { wrote(s, 130, 130, open()); wrote(s, m1901, 140, over()) }, 150, true},
		"both in one second":                    {func(s *Session) { wrote(s, 100, 100, open()); wrote(s, 100, 100, over()) }, 110, false},
		"the other way in one second":           {func(s *Session) { wrote(s, 100, 100, over()); wrote(s, 100, 100, open()) }, 110, true},
		"made hot by a correction": {func(s *Session) {
			wrote(s, 100, 100, over())
			e := wrote(s, 60, 120, hot())
			e.Was = []Version{{At: e.At, Written: on(0).Add(65 * time.Second), Body: fluidC(36.5)}}
		}, 130, true},
		"another word in it": {func(s *Session) {
			wrote(s, 100, 100, over())
			e := wrote(s, 60, 120, open())
			e.Was = []Version{{At: e.At, Written: on(0).Add(60 * time.Second), Body: open()}}
		}, 130, false},
		"over, moved later by a correction": {func(s *Session) {
			e := wrote(s, 300, 310, over())
			e.Was = []Version{{At: on(0).Add(100 * time.Second), Written: on(0).Add(100 * time.Second), Body: over()}}
			wrote(s, 200, 200, open())
		}, 320, true},
	} {
		s := connected(t)
		tt.write(s)
		_, stays := BloodStaysOut(s, on(0).Add(time.Duration(tt.now)*time.Second))
		if stays != tt.open {
			t.Errorf("%s: open %t", name, stays)
		}
	}
}

// Of a session typed in from paper the times alone count: it is typed in any order.
func TestTroublesOfAPaperGoByTheirTimes(t *testing.T) {
	for order, seconds := range map[string][2]int{"as it happened": {600, 700}, "the other way": {700, 600}} {
		s := connected(t)
		how, _ := First[Opened](s)
		how.Source = "paper"
		wrote(s, 60, 5000+seconds[0], &Trouble{Trouble: TroubleAir, State: TroubleOpen})
		wrote(s, 240, 5000+seconds[1], &Trouble{Trouble: TroubleAir, State: TroubleOver, Said: "Sister Holm: outside"})
		for at, want := range map[int]string{0: "", 1: TroubleAir, 3: TroubleAir, 4: ""} {
			if got := openCodes(s, at); got != want {
				t.Errorf("%s, at %d: %q, want %q", order, at, got, want)
			}
		}
	}
}

// Something wrong that is written after the look ends it, whatever time it has.
func TestWashbackLookBeforeAnOlderTrouble(t *testing.T) {
	s := connected(t)
	wrote(s, 3600, 3600, threeTicks())
	wrote(s, 3500, 3660, &Trouble{Trouble: TroubleLow, State: TroubleOpen})
	if _, ok := WashbackLooked(s, on(62)); ok {
		t.Error("the look still counts though something was said to be wrong after it")
	}
}

// Blood given back past a trouble is said in words, and so is what was never over.
func TestGivenBackWords(t *testing.T) {
	off := func(returned string) *CameOff { return &CameOff{Returned: returned, Washback: ref(unit.Volume(0))} }
	air := &Trouble{Trouble: TroubleAir, State: TroubleOpen}
	for name, tt := range map[string]struct {
		write func(*Session)
		want  string
	}{
		"open": {func(s *Session) { put(s, on(200), air); put(s, on(210), off("all")) }, "Blood was given back while “Air or foam” was open since "},
		"out":  {func(s *Session) { put(s, on(200), air); put(s, on(210), off("none")) }, ""},
		"over": {func(s *Session) { overAt(s, TroubleAir, 190, 200); put(s, on(210), off("all")) }, ""},
		"another": {func(s *Session) {
			put(s, on(200), &Trouble{Trouble: TroubleLow, State: TroubleOpen})
			put(s, on(210), off("all"))
		}, ""},
		"after":     {func(s *Session) { put(s, on(210), off("all")); put(s, on(220), air) }, ""},
		"back-date": {func(s *Session) { wrote(s, 200*60, 200*60, air); wrote(s, 190*60, 205*60, off("all")) }, "That blood was given back was written down at "},
	} {
		s := connected(t)
		tt.write(s)
		got := strings.Join(GivenBackWords(s), " ")
		if (got == "") != (tt.want == "") || !strings.HasPrefix(got, tt.want) {
			t.Errorf("%s: %q, want %q", name, got, tt.want)
		}
		if never := strings.Join(NeverOverWords(s), " "); strings.Contains(never, "was never over") == (name == "over") {
			t.Errorf("%s: never over: %q", name, never)
		}
	}
}
