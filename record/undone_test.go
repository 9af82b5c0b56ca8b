package record

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// Whatever kind of entry it is: one after which a stop of this evening's start line
// is gone takes a typed reason when it is struck out or corrected, and then stands
// among what was undone (hazard H-140).
func TestUndoingAnyKindWantsAReason(t *testing.T) {
	for _, tt := range []struct {
		name, check string
		set         func(b *book) Entry // gives the entry after which the start line stops
		better      func(e Entry) any   // nil: it can only be struck out
	}{
		{"chemical disinfection", session.CheckCleaned, func(b *book) Entry {
			b.open("session-02")
			return b.must("disinfection", "session-02", &session.Disinfection{Programme: "chemical", Result: "passed"})
		}, func(Entry) any { return &session.Disinfection{Programme: "heat", Result: "passed"} }},
		{"chemical disinfection, moved since", session.CheckCleaned, func(b *book) Entry {
			b.open("session-02")
			e := b.must("disinfection", "session-02", &session.Disinfection{Programme: "chemical", Result: "passed"})
			b.keep("round_done", &RoundDone{Item: "moved", Outcome: "done"})
			return e
		}, func(Entry) any { return &session.Disinfection{Programme: "heat", Result: "passed"} }},
		{"moved", session.CheckCleaned, func(b *book) Entry {
			e := b.keep("round_done", &RoundDone{Item: "moved", Outcome: "done"})
			b.open("session-02")
			return e
		}, func(Entry) any { return &RoundDone{Item: "rinse", Outcome: "done"} }},
		{"stored, written while setting up", session.CheckCleaned, func(b *book) Entry {
			b.open("session-02")
			return b.keep("round_done", &RoundDone{Item: "stored", Outcome: "done"})
		}, func(Entry) any { return &RoundDone{Item: "waste", Outcome: "done"} }},
		{"water treatment replaced", session.CheckCleaned, func(b *book) Entry {
			e := b.keep("round_done", &RoundDone{Item: "new-water", Outcome: "done"})
			b.open("session-02")
			return e
		}, nil},
		{"prescription", session.CheckLock, func(b *book) Entry {
			b.byCatheter(session.OrderedLock{LockName: "heparin", LockStrength: ptr(unit.Strength(1000))})
			ordered := b.life[len(b.life)-1]
			b.open("session-02")
			e := b.entry("catheter_lock", "session-02", &session.CatheterLock{
				Name: "heparin", Strength: ptr(unit.Strength(5000)), Arterial: 160, Venous: 170, Lot: "K-1", Expiry: unit.DateOf(b.now).Add(90),
			})
			e.Again = map[string]string{"strength_iu_ml": "5000"}
			if found := b.try(e); len(found) > 0 {
				b.t.Fatal(found)
			}
			return ordered
		}, func(e Entry) any {
			rx := *(e.Body.(*session.Prescription))
			rx.LockStrength = ptr(unit.Strength(5000))
			return &rx
		}},
		{"delivery", session.CheckHeparin, func(b *book) Entry {
			b.keep("stock_item", &StockItem{Item: "heparin vial", PerSession: n(1), Pack: 10 * one, Storage: "room"})
			e := b.keep("delivery", &Delivery{Lines: []DeliveryLine{{
				Item: "heparin vial", Lot: "H-2", Expires: unit.DateOf(b.now).Add(90), Pieces: one,
				LotNumbers: session.LotNumbers{Strength: ptr(unit.Strength(5000))},
			}}})
			b.open("session-02")
			b.must("heparin_drawn", "session-02", &session.HeparinDrawn{Strength: 1000, Bolus: 2000, BolusVol: 200, Lot: "H-2", Expiry: unit.DateOf(b.now).Add(90)})
			return e
		}, func(e Entry) any {
			d := *(e.Body.(*Delivery))
			d.Lines = slices.Clone(d.Lines)
			d.Lines[0].LotNumbers = session.LotNumbers{Strength: ptr(unit.Strength(1000))}
			return &d
		}},
	} {
		for _, how := range []string{"struck", "corrected"} {
			if how == "corrected" && tt.better == nil || how == "struck" && tt.name == "prescription" {
				continue // the one before it says the same
			}
			b := newBook(t)
			b.heldNow("session-01")
			b.now = b.now.Add(44 * time.Hour)
			of := tt.set(b)
			if c := b.checkOf("session-02", tt.check); c.State != session.StopHere {
				t.Errorf("%s: %s %q", tt.name, c.State, c.Words)
				continue
			}
			make := func(why string) Entry {
				if how == "struck" {
					e := b.entry("struck", of.Session, &Struck{Entry: of.ID, Reason: why})
					e.Person = of.Person
					return e
				}
				e := of
				b.n, b.now = b.n+1, b.now.Add(time.Minute)
				e.ID, e.Written, e.Corrects, e.Reason, e.Body = b.entry("struck", "", &Struck{}).ID, b.now.UTC(), of.ID, why, tt.better(of)
				return e
			}
			for _, why := range []string{"abc", "aaaaaaaaaaaa"} {
				if words := Check(b.h, make(why)).On("reason"); !strings.Contains(words, "stopped the start") {
					t.Errorf("%s, %s with %q: %q", tt.name, how, why, words)
				}
			}
			if again := fold(t, b.life); !reflect.DeepEqual(b.h, again) {
				t.Errorf("%s, %s: asking changed the record: %s", tt.name, how, Difference(Picture{}.Of(b.h), Picture{}.Of(again)))
			}
			if found := b.try(make("I read the wrong line of it")); len(found) > 0 {
				t.Errorf("%s, %s with a reason: %v", tt.name, how, found)
				continue
			}
			s := b.h.Session("session-02")
			list := session.UndoneStops(s, b.h.Member("person-one").History(s))
			if i := slices.IndexFunc(list, func(u session.Undone) bool { return u.Check == tt.check }); i < 0 {
				t.Errorf("%s, %s: not among what was undone: %+v", tt.name, how, list)
			} else if u := list[i]; u.Reason != "I read the wrong line of it" || u.Struck != (how == "struck") || u.Words == "" || u.What == "" {
				t.Errorf("%s, %s: %+v", tt.name, how, u)
			}
		}
	}
}

// What stops nothing needs no more than a word, and so does everything while no
// session is set up live.
func TestUndoingWhatStoppedNothing(t *testing.T) {
	b := newBook(t)
	b.heldNow("session-01")
	moved := b.keep("round_done", &RoundDone{Item: "moved", Outcome: "done"})
	if found := Check(b.h, b.house("struck", &Struck{Entry: moved.ID, Reason: "abc"})); len(found) > 0 {
		t.Errorf("no session is set up: %v", found)
	}
	b.must("session_opened", "session-02", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	if found := Check(b.h, b.house("struck", &Struck{Entry: moved.ID, Reason: "abc"})); len(found) > 0 {
		t.Errorf("a session on paper: %v", found)
	}
	b.must("closed", "session-02", &session.Closed{})
	b.now = b.now.Add(44 * time.Hour)
	b.open("session-03")
	weighed := b.must("weigh_in", "session-03", &session.WeighIn{Weight: 74000, Scale: "bathroom", ReadIn: "kg"})
	item := b.keep("stock_item", &StockItem{Item: "gauze", PerSession: n(1), Pack: 10 * one, Storage: "room"})
	b.keep("struck", &Struck{Entry: item.ID, Reason: "abc"})
	again := b.entry("weigh_in", "session-03", &session.WeighIn{Weight: 74100, Scale: "bathroom", ReadIn: "kg"})
	again.Corrects, again.Reason = weighed.ID, "abc"
	if found := b.try(again); len(found) > 0 {
		t.Errorf("a weight: %v", found)
	}
	// Paper that is opened beside it does not take the guard away.
	b.must("session_opened", "session-04", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	b.refuses(Refuse, "reason", "stopped the start", b.house("struck", &Struck{Entry: moved.ID, Reason: "abc"}))
}
