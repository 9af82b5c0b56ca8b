package record

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
)

func orla() *Person {
	return &Person{Name: "Orla Finch", BirthYear: 1988, Colour: "reed", Adult: true}
}

// A pregnancy that was told before a session, or written of the person, ends only when
// that is said: who is written again for another reason is asked.
func TestAPregnancyDoesNotEndByItself(t *testing.T) {
	for _, where := range []string{"fitness", "person"} {
		b := newBook(t)
		if where == "fitness" {
			b.open("session-01")
			b.must("fitness", "session-01", &session.Fitness{Pregnant: true, Rang: "the nurse: by the paper"})
		} else {
			p := orla()
			p.Pregnant = true
			b.must("person", "", p)
		}
		p := orla()
		p.Allergies = "latex"
		e := b.entry("person", "", p)
		b.refuses(Ask, "pregnant", "a pregnancy was told on 20 October 2026. Is it over?", e)
		e.Again = map[string]string{"pregnant": "yes"}
		b.refuses(Ask, "pregnant", "typed as no and then as yes", e)
		if m := b.h.Member("person-one"); !m.Pregnant(b.now) {
			t.Fatalf("%s: over before it was said", where)
		}
		p.Pregnant = true
		b.must("person", "", p) // written again with it, nothing is asked
		over := orla()
		e = b.entry("person", "", over)
		e.Again = map[string]string{"pregnant": "no"}
		b.must2(e)
		if m := b.h.Member("person-one"); m.Pregnant(b.now) {
			t.Errorf("%s: not over although it was said", where)
		}
		b.must("person", "", orla()) // nor is anything asked once it is over
	}
}

// Somebody new, and somebody of whom nothing was told, are asked nothing.
func TestNobodyElseIsAskedOfAPregnancy(t *testing.T) {
	b := newBook(t)
	b.open("session-01")
	b.must("fitness", "session-01", &session.Fitness{None: true})
	b.must("person", "", orla())
	e := b.entry("person", "", &Person{Name: "Jory Finch", BirthYear: 1990, Colour: "plum", Adult: true})
	e.Person = "person-two"
	b.must2(e)
}

// An answer that does not tell of it ends nothing, and of several the moment asked for
// counts: one told afterwards does not hide the one before.
func TestPregnantAtAMoment(t *testing.T) {
	b := newBook(t)
	m := b.h.Member("person-one")
	before := b.now
	b.open("session-01")
	told := b.must("fitness", "session-01", &session.Fitness{Pregnant: true, Rang: "the nurse: by the paper"})
	between := b.now.Add(30 * time.Second)
	b.must("fitness", "session-01", &session.Fitness{None: true})
	if !m.Pregnant(b.now) {
		t.Error("ended by an answer that does not tell of it")
	}
	b.must("fitness", "session-01", &session.Fitness{Pregnant: true, Rang: "the nurse: by the paper"})
	if m.Pregnant(before) || !m.Pregnant(between) || !m.Pregnant(b.now) {
		t.Errorf("before %v, between %v, now %v", m.Pregnant(before), m.Pregnant(between), m.Pregnant(b.now))
	}
	if since, so := m.PregnantSince(between); !so || !since.Equal(told.At) {
		t.Errorf("told %v, %v", since, so)
	}
}

// A session knows whether it is one of a child: by the person as known at its start
// line, and by the age on the day it was opened.
func TestASessionOfAChild(t *testing.T) {
	b := newBook(t)
	child := &Person{Name: "Orla Finch", BirthYear: 2014, Colour: "reed"}
	b.must("person", "", child)
	b.open("session-01")
	s := b.h.Session("session-01")
	if !s.Child {
		t.Fatal("not one of a child")
	}
	if no := b.h.Member("person-one").NoPlan(b.now); no == nil || !strings.Contains(no.Words(), "A child") {
		t.Errorf("%v", no)
	}
	grown := *child
	grown.Adult = true
	adult := b.entry("person", "", &grown)
	adult.Again = map[string]string{"birth_year": "2014"} // which is asked about
	b.must2(adult)
	if s.Child {
		t.Error("still one of a child after the prescription was ticked as an adult's")
	}
	b.must("person", "", child)
	if !s.Child {
		t.Error("not one of a child again")
	}
	if c := b.h.copy().Session("session-01"); !c.Child {
		t.Error("lost in a copy")
	}
	past, err := AsOf(b.life, b.now)
	if err != nil || !past.Session("session-01").Child {
		t.Errorf("as of now: %v", err)
	}

	// One that is over stays what it was.
	b = newBook(t)
	b.must("person", "", child)
	b.treated("session-01")
	adult = b.entry("person", "", &grown)
	adult.Again = map[string]string{"birth_year": "2014"}
	b.must2(adult)
	b.treated("session-02")
	if one, two := b.h.Session("session-01"), b.h.Session("session-02"); !one.Child || two.Child {
		t.Errorf("the first %v, the second %v", one.Child, two.Child)
	}
}
