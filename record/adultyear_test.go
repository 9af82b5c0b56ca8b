package record

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// A prescription of an adult for somebody who may be under 18 is asked about, and taken
// when the year is typed again; up to 16 each time, else when it is new.
func TestAdultByTheBirthYearIsAsked(t *testing.T) {
	year := newBook(t).now.Year()
	for _, tt := range []struct {
		age          int
		adult        bool
		first, again bool // asked
	}{
		{9, true, true, true}, {9, false, false, false}, {16, true, true, true}, {17, true, true, false},
		{18, true, true, false}, {18, false, false, false}, {19, true, false, false}, {60, true, false, false},
	} {
		b := newBook(t)
		p := &Person{Name: "Orla Finch", BirthYear: year - tt.age, Adult: tt.adult, Colour: "reed"}
		e := b.entry("person", "", p)
		said := Check(b.h, e).On("birth_year")
		if asked := strings.Contains(said, "a prescription of an adult?"); asked != tt.first {
			t.Errorf("%d years, adult %v: %q", tt.age, tt.adult, said)
		}
		e.Again = map[string]string{"birth_year": strconv.Itoa(p.BirthYear)}
		b.must2(e)
		p.Allergies = "plaster"
		said = Check(b.h, b.entry("person", "", p)).On("birth_year")
		if asked := said != ""; asked != tt.again {
			t.Errorf("%d years, adult %v, written again: %q", tt.age, tt.adult, said)
		}
	}
	// Ticked later, it is new.
	b := newBook(t)
	b.must("person", "", &Person{Name: "Orla Finch", BirthYear: year - 17, Colour: "reed"})
	if said := Check(b.h, b.entry("person", "", &Person{Name: "Orla Finch", BirthYear: year - 17, Adult: true, Colour: "reed"})).On("birth_year"); said == "" {
		t.Error("ticked later: not asked")
	}
}

// A blood flow at the start that lies more than a fifth away from the ordered one is
// asked about as in a reading, and a reading of the same is not asked about again.
func TestBloodFlowAtTheStartIsAsked(t *testing.T) {
	for flow, asks := range map[unit.Flow]bool{30: true, 239: true, 240: false, 300: false, 360: false, 361: true} {
		b := paperBook(t)
		s := b.h.Session("session-1")
		s.Rx.BloodFlow = 300
		_, begun := session.Last[session.Connected](s)
		s.Remove(begun.ID)
		e := b.entry("connected", "session-1", &session.Connected{BloodFlow: &flow})
		if said := Check(b.h, e).On("blood_flow_ml_min"); (said != "") != asks {
			t.Errorf("%d at the start: %q", flow, said)
		}
		e.Again = map[string]string{"blood_flow_ml_min": flow.String()}
		b.must2(e)
		b.now = b.now.Add(10 * time.Minute)
		if said := Check(b.h, b.entry("reading", "session-1", &session.Reading{BloodFlow: &flow})).On("blood_flow_ml_min"); said != "" {
			t.Errorf("%d read after it was confirmed: %q", flow, said)
		}
	}
}

// The unit is asked for its rate alone where "it sets none" gives no plan: of a child and
// in a pregnancy.
func TestAskedForTheRateAlone(t *testing.T) {
	for _, tt := range []struct {
		who  Person
		none bool
	}{
		{Person{BirthYear: 1980, Adult: true}, true}, {Person{BirthYear: 1990, Adult: true, Pregnant: true}, false}, {Person{BirthYear: 2014}, false},
	} {
		b := newBook(t)
		tt.who.Name, tt.who.Colour = "Orla Finch", "reed"
		b.must("person", "", &tt.who)
		rx := aPrescription()
		rx.Rate = nil
		b.must("prescription", "", &rx)
		words := ""
		for _, a := range b.h.Member("person-one").Asks(unit.DateOf(b.now)) {
			if a.Code == session.AskRate {
				words = a.Words
			}
		}
		if words == "" || strings.Contains(words, "sets none") != tt.none {
			t.Errorf("%+v: %q", tt.who, words)
		}
	}
}
