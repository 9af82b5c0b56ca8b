package session

import (
	"fmt"
	"strings"
	"testing"

	"ebbline/unit"
)

// A flush that was due is a note after 5 minutes and a look after half the interval, by
// treated time, until it is written down as given in its time, or as left out. By hand:
// one every 30 minutes, so the first is due at 30, a note from 35 on and a look from 45.
func TestFlushLate(t *testing.T) {
	type step struct {
		min  int
		body any
	}
	for _, tt := range []struct {
		name string
		at   int
		log  []step
		want string // number, level and minute of each
	}{
		{"not due", 29, nil, ""},
		{"due", 35, nil, ""},
		{"a note", 36, nil, "1 note 35"},
		{"a note still", 44, nil, "1 note 35"},
		{"its time is over", 45, nil, "1 look 45"},
		{"two", 66, nil, "1 look 45, 2 note 65"},
		{"given", 66, []step{{30, flush(100)}, {60, flush(100)}}, ""},
		{"given late", 50, []step{{44, flush(100)}}, ""},
		{"left out", 50, []step{{40, &FlushLeftOut{Number: 1}}}, ""},
		{"left out, the next is not", 80, []step{{40, &FlushLeftOut{Number: 1}}}, "2 look 75"},
		{"said to be left out beforehand", 80, []step{{10, &FlushLeftOut{Number: 2}}}, "1 look 45"},
		{"a pause moves it", 52, []step{{20, &Pause{}}, {36, &Resume{}}}, "1 note 51"},
		{"it stands still", 300, []step{{31, &Pause{}}}, ""},
		{"a shorter session has no more", 130, []step{{20, &GoalChanged{Goal: 3300, Length: ref(unit.Minutes(60))}}}, "1 look 45"},
		{"after the end", 300, []step{{30, flush(100)}, {66, &CameOff{Returned: "all"}}}, "2 note 65"},
		{"no such one", 50, []step{{40, &FlushLeftOut{Number: 9}}}, "1 look 45"},
	} {
		s := flushed(t)
		for _, x := range tt.log {
			put(s, on(x.min), x.body)
		}
		var got []string
		for _, r := range Remarks(s, on(tt.at)) {
			if r.Code == "flush_late" {
				got = append(got, fmt.Sprintf("%s %s %d", strings.Fields(r.Words)[1], r.Level, int(r.At.Sub(on(0)).Minutes())))
			}
		}
		if strings.Join(got, ", ") != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
	s := connected(t) // none is ordered
	if list := FlushesMissing(s, on(200)); list != nil {
		t.Errorf("%+v", list)
	}
}

// One that is said to be left out is off the goal at once, is not due any more, and
// counts as left out; given after all, it is in the goal again.
func TestFlushSaidToBeLeftOut(t *testing.T) {
	s := flushed(t)
	put(s, on(36), &FlushLeftOut{Number: 1})
	if n := setNow(t, s, 37); n.Omitted != 100 || n.Options[0].Goal != 3200 {
		t.Errorf("omitted %v, goal %v", n.Omitted, n.Options[0].Goal)
	}
	if due, ok := NextFlush(s, on(37)); !ok || due.Number != 2 {
		t.Errorf("due %+v", due)
	}
	if given, out := FlushesGiven(s, on(37)); given != 0 || out != 1 {
		t.Errorf("%d given, %d left out", given, out)
	}
	put(s, on(40), flush(100))
	if n := setNow(t, s, 41); n.Omitted != 0 || n.Options[0].Goal != 3300 {
		t.Errorf("given after all: omitted %v, goal %v", n.Omitted, n.Options[0].Goal)
	}
	if given, out := FlushesGiven(s, on(41)); given != 1 || out != 0 {
		t.Errorf("given after all: %d given, %d left out", given, out)
	}
	s = flushed(t)
	put(s, on(32), &FlushLeftOut{Number: 1})
	s.Log[len(s.Log)-1].Struck = &Strike{}
	if n := setNow(t, s, 37); n.Options[0].Goal != 3300 {
		t.Errorf("struck: goal %v", n.Options[0].Goal)
	}
}
