package record

import (
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// past makes entries of one invented person and session, a minute apart in
// writing and at the moments given.
type past struct {
	entries []Entry
	from    time.Time
}

func (p *past) add(id, kind string, minute int, of string, body any) {
	e := Entry{ID: id, Kind: kind, At: p.from.Add(time.Duration(minute) * time.Minute), Zone: "UTC", Person: "person-one", Body: body}
	e.Written = p.from.Add(72*time.Hour + time.Duration(len(p.entries))*time.Minute)
	if k, _ := Find(kind); k.Session || kind == "struck" {
		e.Session = "session-01"
	}
	if of != "" {
		e.Corrects, e.Reason = of, "misread"
	}
	p.entries = append(p.entries, e)
}

func (p *past) asOf(t *testing.T, minute int) *Household {
	t.Helper()
	h, err := AsOf(p.entries, p.from.Add(time.Duration(minute)*time.Minute))
	if err != nil {
		t.Fatal(err)
	}
	return h
}

func weightAt(h *Household) unit.Mass {
	s := h.Session("session-01")
	if s == nil {
		return -1
	}
	b, _ := session.Last[session.WeighIn](s)
	if b == nil {
		return 0
	}
	return b.Weight
}

// The moment of an entry decides, not when it was written; a correction counts
// from the time it gives, a strike from its own.
func TestAsOf(t *testing.T) {
	p := past{from: time.Date(2026, 3, 12, 17, 0, 0, 0, time.UTC)}
	weigh := func(id string, minute int, of string, kg unit.Mass) {
		p.add(id, "weigh_in", minute, of, &session.WeighIn{Weight: kg * 1000, Scale: "bath", ReadIn: "kg"})
	}
	p.add("person-1", "person", 500, "", &Person{Name: "Ada"}) // written down long after: who it is counts all the same
	p.add("opened-1", "session_opened", 0, "", &session.Opened{Place: "home", Source: "paper"})
	p.add("chlorine-1", "chlorine", -20, "", &session.Chlorine{})
	weigh("weight-1", 10, "", 60)
	weigh("weight-2", 30, "weight-1", 61) // corrected, with another time
	weigh("weight-3", 20, "weight-2", 62) // and again
	p.add("strike-1", "struck", 40, "", &Struck{Entry: "weight-3", Reason: "another person’s"})

	for _, tt := range []struct {
		minute int
		want   unit.Mass
	}{{-1, -1}, {0, 0}, {9, 0}, {10, 60_000}, {19, 60_000}, {20, 62_000}, {30, 62_000}, {39, 62_000}, {40, 0}} {
		if got := weightAt(p.asOf(t, tt.minute)); got != tt.want {
			t.Errorf("at %d min: weight %d g, want %d", tt.minute, got, tt.want)
		}
	}
	if s := p.asOf(t, 0).Session("session-01"); !s.Has("chlorine") {
		t.Error("what was tested before the session was opened is not in it")
	}
}

// A correction to an earlier time takes the place of what had not happened yet.
func TestAsOfCorrectedToEarlier(t *testing.T) {
	p := past{from: time.Date(2026, 3, 12, 17, 0, 0, 0, time.UTC)}
	p.add("person-1", "person", 0, "", &Person{Name: "Ada"})
	p.add("opened-1", "session_opened", 60, "", &session.Opened{Place: "home", Source: "paper"})
	p.add("weight-1", "weigh_in", 20, "", &session.WeighIn{Weight: 60_000, Scale: "bath", ReadIn: "kg"})
	p.add("opened-2", "session_opened", 5, "opened-1", &session.Opened{Place: "home", Source: "paper"})
	if got := weightAt(p.asOf(t, 30)); got != 60_000 {
		t.Errorf("weight %d g", got)
	}
	if got := weightAt(p.asOf(t, 4)); got != -1 {
		t.Errorf("the session is there before it was opened: %d", got)
	}
	p.add("strike-1", "struck", 25, "", &Struck{Entry: "weight-1", Reason: "another person’s"})
	if got := weightAt(p.asOf(t, 24)); got != 60_000 {
		t.Errorf("struck before its time: %d", got)
	}
}

// At the last moment all is as it is in the household that the pages show.
func TestAsOfTheEnd(t *testing.T) {
	p := past{from: time.Date(2026, 3, 12, 17, 0, 0, 0, time.UTC)}
	p.add("person-1", "person", 0, "", &Person{Name: "Ada"})
	p.add("opened-1", "session_opened", 1, "", &session.Opened{Place: "home", Source: "paper"})
	p.add("weight-1", "weigh_in", 20, "", &session.WeighIn{Weight: 60_000, Scale: "bath", ReadIn: "kg"})
	p.add("weight-2", "weigh_in", 15, "weight-1", &session.WeighIn{Weight: 61_000, Scale: "bath", ReadIn: "kg"})
	whole := NewHousehold()
	for _, e := range p.entries {
		if err := whole.Apply(e); err != nil {
			t.Fatal(err)
		}
	}
	then := p.asOf(t, 1000)
	if then.Entries() != whole.Entries() || weightAt(then) != weightAt(whole) {
		t.Errorf("%d entries, %d g; want %d, %d g", then.Entries(), weightAt(then), whole.Entries(), weightAt(whole))
	}
	if was := then.Session("session-01").Log[1].Was; len(was) != 1 || was[0].ID != "weight-1" {
		t.Errorf("what it said before is gone: %+v", was)
	}
}
