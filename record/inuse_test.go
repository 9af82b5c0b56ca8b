package record

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// A second person's start line stops while somebody else's treatment runs on the one
// machine, and names who and since when; once that is over, or is old, it does not.
func TestMachineInUseStopsTheOther(t *testing.T) {
	for _, tt := range []struct {
		name string
		set  func(b *book)
		how  session.Opened // of the second
		used bool
	}{
		{"running", nil, session.Opened{Place: "home", Source: "live", Confirmed: true}, true},
		{"15 hours on", func(b *book) { b.now = b.now.Add(15 * time.Hour) }, session.Opened{Place: "home", Source: "live", Confirmed: true}, true},
		{"17 hours on", func(b *book) { b.now = b.now.Add(17 * time.Hour) }, session.Opened{Place: "home", Source: "live", Confirmed: true}, false},
		{"off", func(b *book) {
			b.now = b.now.Add(4 * time.Hour)
			b.must("came_off", "session-01", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(2000))})
		}, session.Opened{Place: "home", Source: "live", Confirmed: true}, false},
		{"the second held elsewhere", nil, session.Opened{Place: "elsewhere", Where: "clinic by the lake (invented)", Source: "live", Confirmed: true}, false},
		{"the second from paper", nil, session.Opened{Place: "home", Source: "paper", Confirmed: true}, false},
	} {
		b := newBook(t)
		b.liveRun("session-01")

		if tt.set != nil {
			tt.set(b)
		}
		other := func(kind, id string, body any) {
			e := b.entry(kind, id, body)
			e.Person = "person-two"
			if found := b.try(e); len(found) > 0 {
				t.Fatalf("%s: %s: %v", tt.name, kind, found)
			}
		}
		other("person", "", &Person{Name: "Tam Reed", BirthYear: 1960, Colour: "plum", Adult: true})
		rx := aPrescription()
		other("prescription", "", &rx)
		other("session_opened", "session-02", &tt.how)
		c := b.checkOf("session-02", session.CheckCleaned)
		words := "The machine is in use by Orla Finch since "
		if got := strings.Contains(c.Words, words); got != tt.used || got && c.State != session.StopHere {
			t.Errorf("%s: %s %q", tt.name, c.State, c.Words)
		}
		if own := b.checkOf("session-01", session.CheckCleaned); strings.Contains(own.Words, "in use") {
			t.Errorf("%s: the first: %q", tt.name, own.Words)
		}
	}
}
