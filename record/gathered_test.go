package record_test

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/session"
)

// What is gathered while entries come in is what reading all sessions again
// gives, whatever is corrected, struck out or typed in between old sessions.
func TestGatheredHistoryIsTheWholeOne(t *testing.T) {
	until := time.Date(2026, 6, 10, 19, 30, 0, 0, simulate.Zone())
	life, err := simulate.Make(simulate.Options{Seed: 5, Months: 3, Until: until})
	if err != nil {
		t.Fatal(err)
	}
	h := record.NewHousehold()
	dice := rand.New(rand.NewPCG(5, 5))
	changed, compared := 0, 0
	var seen []record.Entry
	for i, e := range life.Entries {
		if e.Kind == "round_done" {
			continue // a disinfection outside a session is added to what is gathered from sessions
		}
		if err := h.Apply(e); err != nil {
			t.Fatal(err)
		}
		if e.Person != "" { // what belongs to the household has no sessions to disturb
			seen = append(seen, e)
		}
		if m := h.Member(life.Person); m != nil && len(m.Sessions) > 0 && i%150 == 0 {
			extra := disturb(dice, h, seen, i)
			if err := h.Apply(extra); err != nil {
				t.Fatal(err)
			}
			changed++
			for _, s := range append([]*session.Session{nil}, m.Sessions...) {
				got, want := m.History(s), session.HistoryOf(m.Earlier(s))
				compared++
				if got.Scale != want.Scale || got.Treated != want.Treated || got.Hospital != want.Hospital || got.Stomach != want.Stomach ||
					got.LastPost != want.LastPost || !got.LastPostAt.Equal(want.LastPostAt) || got.Cleaned != want.Cleaned ||
					got.Strength != want.Strength || !slices.Equal(got.Goals, want.Goals) || !slices.Equal(got.Fluids, want.Fluids) ||
					got.FluidOn != want.FluidOn || !slices.Equal(got.Drops, want.Drops) || !reflect.DeepEqual(got.Fell, want.Fell) || got.Unable != want.Unable ||
					got.Signs != want.Signs || !got.LastBegan.Equal(want.LastBegan) || got.LastRan != want.LastRan || got.LastPlanned != want.LastPlanned {
					t.Fatalf("after %s (%s) the history before %v is\n%+v\nand read again\n%+v", extra.ID, extra.Kind, s, got, want)
				}
			}
		}
	}
	if changed < 10 || compared < 200 {
		t.Errorf("%d changes and %d comparisons are too few to say", changed, compared)
	}
}

// disturb makes an entry that changes an old session: strikes something out,
// corrects a weight, or types in a paper session of an old day.
func disturb(dice *rand.Rand, h *record.Household, seen []record.Entry, n int) record.Entry {
	last := seen[len(seen)-1]
	e := record.Entry{ID: fmt.Sprintf("disturb-%04d", n), At: last.At, Zone: last.Zone, Written: last.Written, Person: last.Person}
	sessions := h.Member(last.Person).Sessions
	old := sessions[dice.IntN(len(sessions))]
	switch dice.IntN(3) {
	case 0:
		counts := []string{"session_opened", "weigh_in", "vitals_before", "fluid_check", "heparin_drawn", "plan", "connected", "weigh_out", "disinfection"}
		kind := counts[dice.IntN(len(counts))]
		at := slices.IndexFunc(old.Log, func(e session.Event) bool { return e.Kind == kind })
		e.Kind, e.Body = "struck", &record.Struck{Entry: old.Log[max(at, 0)].ID, Reason: "to see"}
	case 1:
		if out, at := session.Last[session.WeighOut](old); out != nil {
			e.Kind, e.Session, e.Corrects, e.Reason = "weigh_out", old.ID, at.ID, "to see"
			e.At, e.Body = at.At, &session.WeighOut{Weight: out.Weight + 100, Scale: "another scale"}
			return e
		}
		fallthrough
	default:
		_, at := old.Opened()
		e.Kind, e.Session, e.At = "session_opened", fmt.Sprintf("paper-%04d", n), at.Add(-20*time.Hour)
		e.Body = &session.Opened{Place: "elsewhere", Source: "paper", Where: "the unit"}
	}
	return e
}

// ReadStored gives what ReadEntry gives for everything that a household of
// three months writes.
func TestStoredLifeComesBack(t *testing.T) {
	until := time.Date(2026, 11, 10, 19, 30, 0, 0, simulate.Zone())
	life, err := simulate.Make(simulate.Options{Seed: 6, Months: 3, Until: until, Open: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range life.Entries {
		raw, err := e.MarshalJSON()
		if err != nil {
			t.Fatal(err)
		}
		strict, err := record.ReadEntry(raw)
		if err != nil {
			t.Fatalf("%v\n%s", err, raw)
		}
		stored, err := record.ReadStored(raw)
		if err != nil || !reflect.DeepEqual(stored, strict) {
			t.Fatalf("%s\nis read back as %+v (%v), and a stranger's as %+v", raw, stored, err, strict)
		}
	}
	if len(life.Entries) < 1000 {
		t.Errorf("only %d entries", len(life.Entries))
	}
}
