package record

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// A book is a household written by hand, entry by entry, in a zone whose clocks
// change. All of it is invented.
type book struct {
	t    *testing.T
	h    *Household
	n    int
	zone *time.Location
	now  time.Time
	life []Entry // all that was taken

	still bool   // all is written in one second
	batch string // the last one that was made, where one was
}

func newBook(t *testing.T) *book {
	t.Helper()
	zone, err := LoadZone("Europe/London")
	if err != nil {
		t.Fatal(err)
	}
	b := &book{t: t, h: NewHousehold(), zone: zone, now: time.Date(2026, 10, 20, 18, 0, 0, 0, zone)}
	b.must("person", "", &Person{Name: "Orla Finch", BirthYear: 1958, Colour: "reed", Adult: true})
	b.must("kidney_unit", "", &KidneyUnit{Name: "Unit by the mill (invented)", Day: "1", Night: "2", Ambulance: "3"})
	b.must("machine", "", &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass"})
	rx := aPrescription()
	b.must("prescription", "", &rx)
	return b
}

func aPrescription() session.Prescription {
	day := unit.NewDate(2026, 10, 1)
	length, strength, bolus := unit.Minutes(240), unit.Strength(1000), unit.Dose(2000)
	dial, rate, most := unit.Flow(500), unit.RatePerKg(1300), unit.Volume(4000)
	return session.Prescription{
		OrderedBy: "Dr Q (invented)", OrderedOn: day, How: "paper", ValidFrom: day, ReviewBy: day.Add(200),
		Days: []string{"mon", "wed", "fri"}, Length: &length, DryWeight: 72000, DrySetBy: "Dr Q (invented)", DrySetOn: day, DryReview: day.Add(90),
		Dialyser: "high-flux", BloodFlow: 300, DialFlow: &dial, BathK: 200, BathCa: 150,
		Heparin: "unfractionated", HepStrength: &strength, HepBolus: &bolus,
		Access: "fistula", AccessSide: "left_arm", Technique: "rope_ladder", GaugeA: 16, GaugeV: 16, Intake: 300, Washback: 300,
		Limits: session.Limits{SetBy: "Dr Q (invented)", SetOn: day, Rate: &rate, MaxRemoval: &most},
	}
}

// entry makes an entry of the present moment.
func (b *book) entry(kind, sessionID string, body any) Entry {
	b.n++
	if !b.still {
		b.now = b.now.Add(time.Minute)
	}
	e := Entry{ID: fmt.Sprintf("entry-%05d", b.n), Kind: kind, At: b.now, Zone: b.zone.String(), Written: b.now.UTC(), Session: sessionID, Body: body}
	switch kind {
	case "demonstration", "kidney_unit", "machine", "clock_moved":
	default:
		e.Person = "person-one"
	}
	return e
}

// try holds an entry against the record and, when it may be taken, adds it.
func (b *book) try(e Entry) Findings {
	b.t.Helper()
	found := Check(b.h, e)
	if len(found) == 0 {
		// Through its JSON and back, as the journal keeps it.
		raw, err := json.Marshal(e)
		if err != nil {
			b.t.Fatal(err)
		}
		stored, err := ReadEntry(raw)
		if err != nil {
			b.t.Fatalf("%s does not read back: %v\n%s", e.Kind, err, raw)
		}
		if err := b.h.Apply(stored); err != nil {
			b.t.Fatal(err)
		}
		b.life = append(b.life, stored)
	}
	return found
}

func (b *book) must(kind, sessionID string, body any) Entry {
	b.t.Helper()
	e := b.entry(kind, sessionID, body)
	if found := b.try(e); len(found) > 0 {
		b.t.Fatalf("%s: %v", kind, found)
	}
	return e
}

// open begins a live session.
func (b *book) open(id string) {
	b.t.Helper()
	b.must("session_opened", id, &session.Opened{Place: "home", Source: "live", Confirmed: true})
}

// paper begins a session that is typed in afterwards and brings it to
// treatment.
func (b *book) paperRun(id string) {
	b.t.Helper()
	b.must("session_opened", id, &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	b.must("weigh_in", id, &session.WeighIn{Weight: 74100, Scale: "bathroom", ReadIn: "kg"})
	b.must("connected", id, &session.Connected{})
}

func ptr[T any](v T) *T { return &v }
