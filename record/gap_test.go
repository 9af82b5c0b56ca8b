package record

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// nights is a household written by hand over weeks, in a zone whose clocks
// change: sessions typed in from paper, and one being set up.
type nights struct {
	t       *testing.T
	zone    *time.Location
	entries []Entry
}

func newNights(t *testing.T, change func(*session.Prescription)) *nights {
	t.Helper()
	zone, err := LoadZone("Europe/Ljubljana")
	if err != nil {
		t.Fatal(err)
	}
	n := &nights{t: t, zone: zone}
	n.add("person-1", "person", "", n.at(1, 9, 0), &Person{Name: "Ada Brook", BirthYear: 1970, Colour: "reed", Adult: true})
	n.add("machine-1", "machine", "", n.at(1, 9, 1), &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass"})
	rx := aPrescription()
	rx.ValidFrom = unit.NewDate(2026, 3, 1)
	change(&rx)
	n.add("rx-00001", "prescription", "", n.at(1, 9, 2), &rx)
	return n
}

// at is a moment of March 2026; the 2nd is a Monday, the clocks go forward in the
// night to the 29th.
func (n *nights) at(day, hour, minute int) time.Time {
	return time.Date(2026, 3, day, hour, minute, 0, 0, n.zone)
}

func (n *nights) add(id, kind, sessionID string, at time.Time, body any) {
	n.entries = append(n.entries, Entry{ID: id, Kind: kind, At: at, Zone: n.zone.String(), Written: at.UTC(), Person: "person-one", Session: sessionID, Body: body})
}

func (n *nights) held(day, hour int) {
	id := fmt.Sprintf("session-%02d", day)
	n.add("open-"+id, "session_opened", id, n.at(day, hour, 0), &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	n.add("look-"+id, "access_check", id, n.at(day, hour, 5), &session.AccessCheck{Thrill: "present", Red: day == 25})
	n.add("begin-"+id, "connected", id, n.at(day, hour, 45), &session.Connected{})
	n.add("end-"+id, "came_off", id, n.at(day, hour, 45).Add(4*time.Hour), &session.CameOff{Returned: "all"})
}

func (n *nights) open(day, hour int) {
	n.add("open-now", "session_opened", "session-now", n.at(day, hour, 0), &session.Opened{Place: "home", Source: "live", Confirmed: true})
}

// gap is the check of the session now, as it stood at a moment.
func (n *nights) gap(at time.Time) session.Check {
	n.t.Helper()
	h, err := AsOf(n.entries, at)
	if err != nil {
		n.t.Fatal(err)
	}
	s := h.Session("session-now")
	if s == nil {
		n.t.Fatal("the session is not open")
	}
	for _, c := range session.StartLine(s, h.Member("person-one").History(s), at) {
		if c.ID == session.CheckGap {
			return c
		}
	}
	n.t.Fatal("there is no gap")
	return session.Check{}
}

// The gap over a record: by days and by hours, over the night on which the clocks
// change, from sessions on paper.
func TestGapOfTheRecord(t *testing.T) {
	days := func(list ...string) func(*session.Prescription) {
		return func(rx *session.Prescription) { rx.Days = list }
	}
	hours := func(every int) func(*session.Prescription) {
		return func(rx *session.Prescription) { rx.Days, rx.EveryHours = nil, every }
	}
	three := days("mon", "wed", "fri")
	for _, tt := range []struct {
		name  string
		order func(*session.Prescription)
		held  []int
		now   int
		state session.CheckState
		words string
	}{
		{"the first", three, nil, 4, session.Ready, "No session before this one is written down."},
		{"Monday to Wednesday", three, []int{2}, 4, session.Ready, "43\u00a0h since the last session ended, none missed."},
		{"Friday to Monday", three, []int{2, 4, 6}, 9, session.Ready, "67\u00a0h since the last session ended, none missed."},
		{"Friday to Monday, the clocks went forward", three, []int{23, 25, 27}, 30, session.Ready, "66\u00a0h since"},
		{"Wednesday left out", three, []int{2}, 6, session.Look, "91\u00a0h since the last session ended, 1 session missed."},
		{"six days", three, []int{2}, 8, session.StopHere, "139\u00a0h since the last session ended, 2 sessions missed. Ring about potassium"},
		{"Wednesday's moved to Thursday", three, []int{2}, 5, session.Ready, "67\u00a0h since the last session ended, none missed."},
		{"daily, two left out over a weekend", days("mon", "tue", "wed", "thu", "fri", "sat"), []int{5}, 9, session.StopHere, "2 sessions missed"},
		{"48 h", hours(48), []int{2}, 4, session.Ready, "none missed"},
		{"48 h, six days", hours(48), []int{2}, 8, session.StopHere, "139\u00a0h since the last session ended, 2 sessions missed."},
		{"48 h, a day late", hours(48), []int{2}, 5, session.Look, "67\u00a0h since the last session ended, none missed."},
		{"48 h, over the change of clocks", hours(48), []int{28}, 30, session.Ready, "42\u00a0h since the last session ended, none missed."},
	} {
		n := newNights(t, tt.order)
		for _, day := range tt.held {
			n.held(day, 17)
		}
		n.open(tt.now, 17)
		if c := n.gap(n.at(tt.now, 17, 10)); c.State != tt.state || !strings.Contains(c.Words, tt.words) {
			t.Errorf("%s: %s %q, want %s %q", tt.name, c.State, c.Words, tt.state, tt.words)
		}
	}
}

// As of a moment counts what had happened by then: a session whose end was not
// yet, one that was struck out since, an order that was changed since.
func TestGapAsOf(t *testing.T) {
	n := newNights(t, func(rx *session.Prescription) { rx.Days = []string{"mon", "wed", "fri"} })
	n.held(2, 17)
	n.held(4, 17)
	n.open(6, 17)
	n.add("strike-1", "struck", "session-04", n.at(6, 18, 0), &Struck{Entry: "begin-session-04", Reason: "it was not begun"})
	if c := n.gap(n.at(6, 17, 59)); c.State != session.Ready || !strings.Contains(c.Words, "44\u00a0h since the last session ended, none missed.") {
		t.Errorf("before the strike: %s %q", c.State, c.Words)
	}
	if c := n.gap(n.at(6, 18, 0)); c.State != session.Look || !strings.Contains(c.Words, "92\u00a0h since the last session ended, 1 session missed.") {
		t.Errorf("after the strike: %s %q", c.State, c.Words)
	}
	// A new order from the next Monday on changes nothing of the days before.
	rx := aPrescription()
	rx.Days, rx.ValidFrom = []string{"mon", "tue", "wed", "thu", "fri"}, unit.NewDate(2026, 3, 6)
	n.add("rx-00002", "prescription", "", n.at(5, 9, 0), &rx)
	if c := n.gap(n.at(6, 17, 30)); !strings.Contains(c.Words, "none missed") {
		t.Errorf("with a new order from today on: %q", c.Words)
	}
}

// The signs at the access are told on from session to session by the record.
func TestSignsOfEarlierSessions(t *testing.T) {
	n := newNights(t, func(rx *session.Prescription) { rx.Days = []string{"mon", "wed", "fri"} })
	n.held(25, 17)
	n.open(27, 17)
	n.add("look-now", "access_check", "session-now", n.at(27, 17, 5), &session.AccessCheck{Thrill: "present", Warm: true})
	h, err := AsOf(n.entries, n.at(27, 17, 10))
	if err != nil {
		t.Fatal(err)
	}
	s := h.Session("session-now")
	for _, c := range session.StartLine(s, h.Member("person-one").History(s), n.at(27, 17, 10)) {
		if c.ID == session.CheckAccess && (c.State != session.StopHere || !strings.Contains(c.Words, "Red (25\u00a0March), warm: two signs in 7 days.")) {
			t.Errorf("%s %q", c.State, c.Words)
		}
	}
}

// An access check and an answer from before the new keys are read as they were,
// with and without them.
func TestOldAccessChecksAreRead(t *testing.T) {
	kind, _ := Find("access_check")
	for raw, want := range map[string]session.AccessCheck{
		`{"thrill":"present","bruit":"present","skin":"red","chills":false}`: {Thrill: "present", Bruit: "present", Skin: "red"},
		`{"thrill":"absent","chills":true}`:                                  {Thrill: "absent", Chills: true},
		`{"thrill":"beating","bruit":"not_done","red":true,"hand":true}`:     {Thrill: "beating", Bruit: "not_done", Red: true, Hand: true},
	} {
		body, found := kind.FromJSON(json.RawMessage(raw))
		if len(found) > 0 || *body.(*session.AccessCheck) != want {
			t.Errorf("%s: %+v %v", raw, body, found)
		}
	}
	fit, _ := Find("fitness")
	body, found := fit.FromJSON(json.RawMessage(`{"fever":false,"chest_pain":true}`))
	if len(found) > 0 || *body.(*session.Fitness) != (session.Fitness{ChestPain: true}) {
		t.Errorf("%+v %v", body, found)
	}
	// What was written before marshals to the bytes that it was.
	if raw, err := json.Marshal(&session.AccessCheck{Thrill: "present", Bruit: "present", Skin: "clean"}); err != nil || string(raw) != `{"thrill":"present","bruit":"present","skin":"clean","chills":false}` {
		t.Errorf("%s %v", raw, err)
	}
}

// Whose access is heard and not felt is the unit's word, with its name and date.
func TestHeardNotFeltNeedsAnOwner(t *testing.T) {
	b := newBook(t)
	rx := aPrescription()
	rx.Limits = session.Limits{HeardNotFelt: true, Rate: rx.Rate, MaxRemoval: rx.MaxRemoval}
	rx.Rate, rx.MaxRemoval = nil, nil
	if found := b.try(b.entry("prescription", "", &rx)); found.On("limits_set_by") == "" || found.On("limits_set_on") == "" {
		t.Errorf("without an owner: %v", found)
	}
	rx.SetBy, rx.SetOn = "Nurse Q (invented)", unit.NewDate(2026, 10, 2)
	if found := b.try(b.entry("prescription", "", &rx)); len(found) > 0 {
		t.Errorf("with one: %v", found)
	}
}
