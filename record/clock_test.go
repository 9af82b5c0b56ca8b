package record

import (
	"fmt"
	"go/parser"
	"go/token"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

func london(t *testing.T, text string) time.Time {
	t.Helper()
	zone, err := LoadZone("Europe/London")
	if err != nil {
		t.Fatal(err)
	}
	at, err := time.Parse("2006-01-02T15:04Z", text)
	if err != nil {
		t.Fatal(err)
	}
	return at.In(zone)
}

// A face of which it was said that it is the second one is never taken for
// yesterday's because that second one has not come.
func TestSecondFaceIsNotYesterdays(t *testing.T) {
	now := london(t, "2026-10-25T00:40Z") // 01:40, for the first time
	if at, problem := ReadClock("", "01:30", "second", now); !strings.Contains(problem, "second 01:30 has not come yet") {
		t.Errorf("the second 01:30 at the first 01:40 is %v (%s)", at, problem)
	}
	if at, problem := ReadClock("", "01:30", "first", now); problem != "" || !at.Equal(london(t, "2026-10-25T00:30Z")) {
		t.Errorf("the first 01:30 is %v (%s)", at, problem)
	}
	if at, problem := ReadClock("", "01:50", "first", now); problem == "" {
		t.Errorf("01:50 ten minutes ahead is %v", at)
	}
}

// A typed time that is a few minutes ahead is yesterday's by the clock; in a
// session that began today it is refused.
func TestTypedTimeBelongsToTheSession(t *testing.T) {
	b := newBook(t)
	b.open("session-1")
	ahead := b.now.Add(10 * time.Minute)
	at, problem := ReadClock("", ahead.Format("15:04"), "", b.now)
	if problem != "" || !at.Before(b.now.Add(-23*time.Hour)) {
		t.Fatalf("%s typed at %s is %v (%s)", ahead.Format("15:04"), b.now.Format("15:04"), at, problem)
	}
	e := b.entry("weigh_in", "session-1", &session.WeighIn{Weight: 74100, Scale: "bathroom", ReadIn: "kg"})
	e.At = at
	if found := Check(b.h, e); !strings.Contains(found.On("at"), "long before this session") {
		t.Errorf("a weight of yesterday's clock in a session of today: %v", found)
	}
	e.At = b.now.Add(-40 * time.Minute)
	if found := Check(b.h, e); found.Refused() {
		t.Errorf("a weight forty minutes before the page was opened: %v", found)
	}
}

// A version begins at midnight where the person lives, not where the sun is in
// Greenwich, and the later written of two of one day counts (H-22).
func TestVersionBeginsAtLocalMidnight(t *testing.T) {
	for _, name := range []string{"Pacific/Auckland", "Asia/Kolkata", "Europe/London", "America/New_York", "Pacific/Honolulu"} {
		zone, err := LoadZone(name)
		if err != nil {
			t.Fatal(err)
		}
		b := newBook(t)
		b.zone = zone
		b.now = time.Date(2026, 11, 4, 21, 0, 0, 0, zone)
		rx := aPrescription()
		rx.DryWeight, rx.OrderedOn, rx.ValidFrom = 71_500, unit.NewDate(2026, 11, 4), unit.NewDate(2026, 11, 5)
		b.must("prescription", "", &rx)
		rx2 := rx
		rx2.DryWeight = 71_000
		b.must("prescription", "", &rx2)
		for i, tt := range []struct {
			at   time.Time
			want unit.Mass
		}{
			{time.Date(2026, 11, 4, 23, 57, 0, 0, zone), 72_000},
			{time.Date(2026, 11, 5, 0, 1, 0, 0, zone), 71_000},
		} {
			b.now = tt.at
			id := fmt.Sprintf("session-%d", i)
			b.open(id)
			if s := b.h.Session(id); s.Rx.DryWeight != tt.want {
				t.Errorf("%s, %s: dry weight %s, want %s", name, tt.at.Format("2 Jan 15:04"), s.Rx.DryWeight, tt.want)
			}
			b.must("closed", id, &session.Closed{})
		}
	}
}

// Under 35 kg there is no plan without the unit's own limits; at 35 kg there
// is (H-18). The prescription is taken all the same, typed twice, so that the record
// is kept.
func TestLightPeopleNeedTheirUnitsLimits(t *testing.T) {
	for _, tt := range []struct {
		dry    unit.Mass
		limits bool
		plan   bool
	}{{34_900, false, false}, {34_900, true, true}, {35_000, false, true}} {
		b := newBook(t)
		rx := aPrescription()
		rx.DryWeight = tt.dry
		if !tt.limits {
			rx.Limits = session.Limits{}
		}
		e := b.entry("prescription", "", &rx)
		e.Again = map[string]string{"dry_weight_kg": tt.dry.String()}
		if found := Check(b.h, e); len(found) > 0 {
			t.Errorf("%s kg, limits by the unit %v: %v", tt.dry, tt.limits, found)
		}
		e.Again = nil
		if found := Check(b.h, e).On("dry_weight_kg"); strings.Contains(found, "no plan is made") == tt.plan {
			t.Errorf("%s kg, limits by the unit %v, typed once: %s", tt.dry, tt.limits, found)
		}
		s := &session.Session{Rx: &rx}
		if no := session.NoPlanOf(s, session.History{}, b.now); (no == nil) != tt.plan {
			t.Errorf("%s kg, limits by the unit %v: %v, want a plan %v", tt.dry, tt.limits, no, tt.plan)
		}
	}
}

// The session after one without a weight, or after one held elsewhere, starts
// from what is known: no older weight stands in for the missing one (H-13), and
// a weight from elsewhere is the last one (H-14).
func TestChainOfWeights(t *testing.T) {
	b := newBook(t)
	held := func(id, place string, post unit.Mass) {
		b.now = b.now.Add(47 * time.Hour)
		where := ""
		if place == "elsewhere" {
			where = "the unit"
		}
		b.must("session_opened", id, &session.Opened{Place: place, Source: "paper", Where: where, Confirmed: true})
		b.must("connected", id, &session.Connected{})
		b.must("came_off", id, &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(250))})
		if post > 0 {
			b.must("weigh_out", id, &session.WeighOut{Weight: post, Scale: "bathroom"})
		}
		b.must("closed", id, &session.Closed{})
	}
	m := b.h.Member("person-one")
	held("session-1", "home", 72_100)
	if h := m.History(nil); h.LastPost == nil || h.LastPost.Weight != 72_100 {
		t.Fatalf("after the first: %+v", h.LastPost)
	}
	held("session-2", "home", 0)
	if h := m.History(nil); h.LastPost != nil {
		t.Errorf("a session left without a weight has the one before: %s kg", h.LastPost.Weight)
	}
	held("session-3", "elsewhere", 71_900)
	h := m.History(nil)
	if h.LastPost == nil || h.LastPost.Weight != 71_900 || h.Treated != 3 {
		t.Errorf("after a session elsewhere: %+v", h)
	}
	// A session opened and closed without a treatment is a link too: nothing was
	// weighed after it.
	b.now = b.now.Add(47 * time.Hour)
	b.open("session-4")
	b.must("closed", "session-4", &session.Closed{})
	if h := m.History(nil); h.Treated != 3 {
		t.Errorf("a session without a treatment counts as one: %d", h.Treated)
	}
	// One that is struck out was never there.
	opened := b.h.Session("session-4").Log[0].ID
	b.must("struck", "", &Struck{Entry: opened, Reason: "pressed by mistake"})
	if h := m.History(nil); h.LastPost == nil || h.LastPost.Weight != 71_900 {
		t.Errorf("after striking it out: %+v", h.LastPost)
	}
}

// A weight after that is typed in when the next session has begun, or a break
// of months, does not stand in the way of weighing ever after.
func TestLateWeightAndLongBreak(t *testing.T) {
	b := newBook(t)
	held := func(id string, post unit.Mass, after time.Duration) {
		t.Helper()
		b.now = b.now.Add(after)
		b.must("session_opened", id, &session.Opened{Place: "home", Source: "paper", Confirmed: true})
		e := b.entry("weigh_in", id, &session.WeighIn{Weight: 74_100, Scale: "bathroom", ReadIn: "kg"})
		e.Again = map[string]string{"weight_kg": "74.1"}
		if found := b.try(e); len(found) > 0 {
			t.Fatalf("weighing before %s: %v", id, found)
		}
		b.must("connected", id, &session.Connected{})
		b.must("came_off", id, &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(250)), Removed: ptr(unit.Volume(2000))})
		if post > 0 {
			b.must("weigh_out", id, &session.WeighOut{Weight: post, Scale: "bathroom"})
		}
	}
	held("session-1", 0, 47*time.Hour)
	held("session-2", 72_200, 47*time.Hour)
	b.must("weigh_out", "session-1", &session.WeighOut{Weight: 72_200, Scale: "bathroom"}) // found on a slip of paper
	held("session-3", 72_100, 47*time.Hour)
	held("session-4", 72_100, 100*24*time.Hour) // a hundred days elsewhere, nothing typed in
	held("session-5", 72_100, 47*time.Hour)
	if got := len(b.h.Member("person-one").intervals(nil, 0)); got != 2 { // 2 to 3 and 4 to 5
		t.Errorf("%d intervals teach the usual gain, want 2", got)
	}
}

// The table of time zones is part of the program, so that a computer without
// one, or with an old one in another place, still knows the person's clock
// (H-33).
func TestZoneTableIsBuiltIn(t *testing.T) {
	tree, err := parser.ParseFile(token.NewFileSet(), "zone.go", nil, parser.ImportsOnly)
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range tree.Imports {
		if i.Path.Value == `"time/tzdata"` {
			return
		}
	}
	t.Error("zone.go does not bring the table along")
}
