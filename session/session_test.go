package session

import (
	"slices"
	"testing"
	"time"

	"ebbline/unit"
)

func ids(s *Session) []string {
	var out []string
	for _, e := range s.Log {
		out = append(out, e.ID)
	}
	return out
}

// Entries stand in order of when they happened, whenever they were written;
// equal moments keep the order of adding.
func TestAddKeepsOrder(t *testing.T) {
	s := &Session{}
	for _, e := range []struct {
		id string
		m  int
	}{{"b", 10}, {"d", 30}, {"a", 5}, {"c", 10}, {"e", 30}} {
		s.Add(Event{ID: e.id, At: evening.Add(mins(e.m)), Body: &Note{}})
	}
	if got := ids(s); !slices.Equal(got, []string{"a", "b", "c", "d", "e"}) {
		t.Errorf("%v", got)
	}
	s.Remove("c")
	if got := ids(s); !slices.Equal(got, []string{"a", "b", "d", "e"}) || s.Find("c") != nil || s.Find("d") == nil {
		t.Errorf("%v", got)
	}
}

func TestFirstLastEach(t *testing.T) {
	s := &Session{}
	for i, v := range []unit.Volume{100, 200, 300} {
		put(s, evening.Add(mins(i)), &Drink{Volume: v})
	}
	s.Log[2].Struck = &Strike{Reason: "not mine"}
	if b, _ := First[Drink](s); b.Volume != 100 {
		t.Errorf("first %v", b.Volume)
	}
	if b, e := Last[Drink](s); b.Volume != 200 || e.ID != "e2" {
		t.Errorf("last %v", b.Volume)
	}
	sum := unit.Volume(0)
	Each(s, func(b *Drink, _ *Event) { sum += b.Volume })
	if sum != 300 {
		t.Errorf("sum %v", sum)
	}
	if b, e := Last[Saline](s); b != nil || e != nil {
		t.Errorf("saline %v", b)
	}
	if !s.Has(s.Log[0].Kind) || s.Has("saline") {
		t.Error("Has")
	}
}

func TestPhases(t *testing.T) {
	s := ready(t)
	phase := func(want Phase) {
		t.Helper()
		if got := s.Phase(); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	phase(SettingUp)
	put(s, on(0), &Connected{})
	phase(Running)
	put(s, on(240), &CameOff{Returned: "all"})
	phase(ComingOff)
	put(s, on(300), &Closed{})
	phase(Done)
	_, e := Last[Closed](s)
	e.Struck = &Strike{Reason: "too early"}
	phase(ComingOff)
	if !s.Treated() || s.Abandoned() {
		t.Error("treated, and not abandoned")
	}
	s.Log[0].Struck = &Strike{Reason: "wrong person"}
	if !s.Abandoned() {
		t.Error("the opening was struck out")
	}
	if _, at := s.Opened(); !at.Equal(s.Log[0].At) {
		t.Errorf("opened %v", at)
	}
}

func TestLate(t *testing.T) {
	for after, want := range map[time.Duration]bool{0: false, 15 * time.Minute: false, 15*time.Minute + time.Second: true, 14 * time.Hour: true} {
		e := Event{At: evening, Written: evening.Add(after)}
		if d, late := e.Late(); late != want || d != after {
			t.Errorf("written %v after: late %v by %v", after, late, d)
		}
	}
}

// What was held on the household's own machine says something of it; what was typed
// in afterwards, or held elsewhere, is told and not guarded.
func TestAtHomeAndAfterwards(t *testing.T) {
	for _, tt := range []struct {
		place, source string
		struck        bool
		home, after   bool
	}{
		{"home", "live", false, true, false}, {"home", "paper", false, true, true}, {"elsewhere", "paper", false, false, true},
		{"elsewhere", "live", false, false, true}, {"home", "live", true, false, false},
	} {
		s := newSession(t)
		e := put(s, evening, &Opened{Place: tt.place, Source: tt.source})
		if opened, _ := s.Opened(); opened.Afterwards() != tt.after {
			t.Errorf("%+v: afterwards %v", tt, opened.Afterwards())
		}
		if tt.struck {
			e.Struck = &Strike{}
		}
		if s.AtHome() != tt.home {
			t.Errorf("%+v: at home %v", tt, s.AtHome())
		}
	}
	if newSession(t).AtHome() {
		t.Error("a session that was never opened was held at home")
	}
}
