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

// A low pressure is over by itself with two readings running that are inside; every
// other trouble stays until it is said to be over. The sheet of the closed session
// says the same.
func TestLowPressureIsOverByItself(t *testing.T) {
	low := happened{30, opens(TroubleLow)}
	for _, tt := range []struct {
		name string
		log  []happened
		open bool
	}{
		{"nothing read", []happened{low}, true},
		{"one inside", []happened{low, {35, bp(121)}}, true},
		{"two inside", []happened{low, {35, bp(121)}, {50, bp(122)}}, false},
		{"one of them without a pressure", []happened{low, {35, bp(121)}, {50, removedAt(400)}}, true},
		{"a pulse between them", []happened{low, {35, bp(121)}, {40, removedAt(400)}, {50, bp(122)}}, false},
		{"inside before it", []happened{{20, bp(121)}, {25, bp(121)}, low}, true},
		{"one of them in that minute", []happened{low, {30, bp(121)}, {35, bp(122)}}, true},
		{"one low between", []happened{low, {35, bp(121)}, {40, bp(80)}, {45, bp(122)}}, true},
		{"low, said without a figure, between", []happened{low, {35, bp(121)}, {40, &LowPressure{}}, {45, bp(122)}}, true},
		{"low, then two inside", []happened{low, {35, bp(121)}, {40, bp(80)}, {45, bp(122)}, {60, bp(123)}}, false},
		{"opened again after", []happened{low, {35, bp(121)}, {50, bp(122)}, {60, opens(TroubleLow)}}, true},
		{"opened again, and two inside", []happened{low, {35, bp(121)}, {50, bp(122)}, {60, opens(TroubleLow)}, {65, bp(121)}, {80, bp(122)}}, false},
		{"another trouble", []happened{{30, opens(TroubleHeart)}, {35, bp(121)}, {50, bp(122)}}, true},
		{"said to be over", []happened{low, {35, &Trouble{Trouble: TroubleLow, State: TroubleOver}}}, false},
	} {
		s := fallen(t)
		for _, h := range tt.log {
			put(s, on(h.at), h.body)
		}
		last := on(tt.log[len(tt.log)-1].at)
		if got := OpenTroubles(s, last); (len(got) == 1) != tt.open {
			t.Errorf("%s: open: %+v", tt.name, got)
		}
		put(s, on(240), &CameOff{Returned: "all"})
		put(s, on(250), &Closed{})
		if got := NeverOverWords(s); (len(got) == 1) != tt.open {
			t.Errorf("%s: on the sheet: %q", tt.name, got)
		}
	}
}

// What is written of a low pressure later than the readings stays open, whatever time
// was typed for it; in a session typed in afterwards the times count.
func TestLowPressureWrittenLate(t *testing.T) {
	for name, paper := range map[string]bool{"as it happens": false, "from paper": true} {
		s := fallen(t)
		if paper {
			put(s, on(-60), &Opened{Place: "home", Source: "paper"})
		}
		wrote(s, 2100, 2100, bp(121))
		wrote(s, 3000, 3000, bp(122))
		wrote(s, 1800, 3060, opens(TroubleLow))
		if got := OpenTroubles(s, on(60)); (len(got) == 0) != paper {
			t.Errorf("%s: %+v", name, got)
		}
	}
}
