package simulate

import (
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// Every session of an invented household, the first included, writes the lot of
// all that it opens: its start line is quiet about lots, and names them.
func TestEverySessionWritesItsLots(t *testing.T) {
	life, err := Make(Options{Seed: 3, Months: 4, Until: time.Date(2026, 6, 10, 19, 30, 0, 0, Zone()), Open: true})
	if err != nil {
		t.Fatal(err)
	}
	house := record.NewHousehold()
	for _, e := range life.Entries {
		if err := house.Apply(e); err != nil {
			t.Fatal(err)
		}
	}
	m := house.Member(life.Person)
	seen := 0
	for _, s := range m.Sessions {
		for _, c := range session.StartLine(s, m.History(s), house.LastAt) {
			if c.ID != session.CheckLots {
				continue
			}
			seen++
			if c.State != session.Ready {
				t.Errorf("%s: %s %q", s.ID, c.State, c.Words)
			}
			for _, item := range []string{"ialyser", "lines", "needles", "concentrate", "bicarbonate", "saline", "flush", "eparin", "anaesthetic", "chlorine test"} {
				if !strings.Contains(c.Words, item) {
					t.Errorf("%s: no %s in %q", s.ID, item, c.Words)
				}
			}
		}
	}
	if seen < 50 {
		t.Errorf("only %d sessions were looked at", seen)
	}
}
