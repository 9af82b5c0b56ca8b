package record

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// What contradicts itself is not taken; a tick alone is an answer.
func TestVitalsBeforeFitTogether(t *testing.T) {
	b := newBook(t)
	b.open("session-1")
	up, low, warm := ptr(unit.Pressure(130)), ptr(unit.Pressure(125)), ptr(unit.Temperature(366))
	for _, tt := range []struct {
		name, field string // empty: taken
		body        session.VitalsBefore
	}{
		{"a lower pressure too near", "lying_diastolic_mmhg", session.VitalsBefore{LieSystolic: up, LieDiastolic: low}},
		{"a lower pressure alone", "lying_diastolic_mmhg", session.VitalsBefore{LieDiastolic: low}},
		{"stood, and cannot", "cannot_stand", session.VitalsBefore{CannotStand: true, StandSystolic: up}},
		{"a temperature, and nothing to take it with", "no_thermometer", session.VitalsBefore{NoThermometer: true, Temperature: warm}},
		{"nothing", "sitting_systolic_mmhg", session.VitalsBefore{}},
		{"cannot stand", "", session.VitalsBefore{CannotStand: true}},
		{"no thermometer", "", session.VitalsBefore{NoThermometer: true}},
		{"lying", "", session.VitalsBefore{CannotStand: true, LieSystolic: up, LieDiastolic: ptr(unit.Pressure(78))}},
		{"as before the keys were there", "", session.VitalsBefore{SitSystolic: up, StandSystolic: up, Temperature: warm}},
	} {
		found := b.try(b.entry("vitals_before", "session-1", &tt.body))
		switch {
		case tt.field == "" && len(found) > 0:
			t.Errorf("%s: %v, want it taken", tt.name, found)
		case tt.field != "" && (!found.Refused() || found[0].Field != tt.field):
			t.Errorf("%s: %v, want %s refused", tt.name, found, tt.field)
		}
	}
}

// The keys are optional: what is not ticked is not written.
func TestUntickedIsNotWritten(t *testing.T) {
	b := newBook(t)
	b.open("session-1")
	e := b.must("vitals_before", "session-1", &session.VitalsBefore{SitSystolic: ptr(unit.Pressure(130))})
	raw, err := e.MarshalJSON()
	if err != nil || strings.Contains(string(raw), "cannot_stand") || strings.Contains(string(raw), "no_thermometer") {
		t.Errorf("%s, %v", raw, err)
	}
}

// once is a household of sessions two days apart, in minutes from the first,
// each typed in from paper days later.
type once struct{ past }

func (p *once) put(id, kind, sessionID string, at time.Time, body any) {
	p.entries = append(p.entries, Entry{ID: id, Kind: kind, At: at, Zone: "UTC", Person: "person-one", Session: sessionID, Body: body,
		Written: p.from.Add(100*24*time.Hour + time.Duration(len(p.entries))*time.Minute)})
}

// vitals says how the check of the vitals stood in a session, and its words.
func (p *once) vitals(t *testing.T, id string, at time.Time) (session.CheckState, string) {
	t.Helper()
	h, err := AsOf(p.entries, at)
	if err != nil {
		t.Fatal(err)
	}
	s := h.Session(id)
	for _, c := range session.StartLine(s, h.Member("person-one").History(s), at) {
		if c.ID == session.CheckVitals {
			return c.State, c.Words
		}
	}
	t.Fatalf("no check of the vitals in %s", id)
	return "", ""
}

// What is said once for a person holds from the moment it was said, in the next
// sessions, until it is taken back; as of a moment nothing after it counts.
func TestSaidOnceAsOfAMoment(t *testing.T) {
	p := once{past{from: time.Date(2026, 3, 2, 17, 0, 0, 0, time.UTC)}}
	p.put("person-1", "person", "", p.from, &Person{Name: "Ada"})
	day := func(n, minute int) time.Time { return p.from.AddDate(0, 0, n).Add(time.Duration(minute) * time.Minute) }
	sit, lie, pulse := ptr(unit.Pressure(138)), ptr(unit.Pressure(141)), ptr(unit.Pulse(70))
	lower := ptr(unit.Pressure(78))
	bare := &session.VitalsBefore{SitSystolic: sit, SitDiastolic: lower, LieSystolic: lie, LieDiastolic: lower, Pulse: pulse}
	for n := 0; n <= 40; n += 2 {
		id := fmt.Sprintf("session-%02d", n)
		p.put("opened-"+id, "session_opened", id, day(n, 0), &session.Opened{Place: "home", Source: "paper"})
		p.put("vitals-"+id, "vitals_before", id, day(n, 5), bare)
	}
	p.put("said-stand", "vitals_before", "session-02", day(2, 20), &session.VitalsBefore{CannotStand: true})
	p.put("said-thermo", "vitals_before", "session-04", day(4, 20), &session.VitalsBefore{NoThermometer: true})
	p.put("said-again", "vitals_before", "session-08", day(8, 20), &session.VitalsBefore{CannotStand: true}) // since when stays
	p.put("stood-again", "vitals_before", "session-38", day(38, 20), &session.VitalsBefore{StandSystolic: ptr(unit.Pressure(131))})

	standing, temperature := "Standing pressure not written", "Temperature not written"
	for _, tt := range []struct {
		session, minute int
		want            session.CheckState
		said            []string
	}{
		{0, 60, session.OpenYet, []string{standing, temperature}},
		{2, 19, session.OpenYet, []string{standing, temperature}},
		{2, 20, session.OpenYet, []string{temperature}},
		{4, 19, session.OpenYet, []string{temperature}},
		{4, 20, session.Ready, []string{"Measured lying: you wrote on 4 March 2026", "you had no thermometer on 6 March 2026. Asked again on 5 April 2026."}},
		{6, 10, session.Ready, []string{"Measured lying"}},
		{32, 10, session.Ready, []string{"Measured lying: you wrote on 4 March 2026", "no thermometer"}},
		{34, 19, session.Ready, []string{"Measured lying", "no thermometer"}},
		{34, 20, session.OpenYet, []string{"You had no thermometer on 6 March 2026. Take a temperature, or say it again."}}, // 30 days
		{36, 10, session.OpenYet, []string{"You had no thermometer"}},
		{38, 20, session.OpenYet, []string{"You had no thermometer"}},
		{40, 10, session.OpenYet, []string{standing, "You had no thermometer"}},
	} {
		state, words := p.vitals(t, fmt.Sprintf("session-%02d", tt.session), day(tt.session, tt.minute))
		if state != tt.want {
			t.Errorf("session of day %d at %d min: %s %q", tt.session, tt.minute, state, words)
		}
		for _, one := range tt.said {
			if !strings.Contains(words, one) {
				t.Errorf("session of day %d at %d min: %q is not in %q", tt.session, tt.minute, one, words)
			}
		}
		for _, one := range []string{standing, temperature} {
			if strings.Contains(words, one) && !slices.Contains(tt.said, one) {
				t.Errorf("session of day %d at %d min: %q", tt.session, tt.minute, words)
			}
		}
	}

	// An old session is judged by what was known then, whenever one looks.
	late := day(41, 0)
	for id, want := range map[string]session.CheckState{"session-00": session.OpenYet, "session-06": session.Ready} {
		h, err := AsOf(p.entries, late)
		if err != nil {
			t.Fatal(err)
		}
		s := h.Session(id)
		_, opened := s.Opened()
		for _, c := range session.StartLine(s, h.Member("person-one").History(s), opened.Add(30*time.Minute)) {
			if c.ID == session.CheckVitals && c.State != want {
				t.Errorf("%s, looked at later: %s %q", id, c.State, c.Words)
			}
		}
	}

	// Struck out, it was never said.
	p.put("strike-1", "struck", "session-04", day(5, 0), &Struck{Entry: "said-thermo", Reason: "there is one"})
	if state, words := p.vitals(t, "session-06", day(6, 10)); state != session.OpenYet || !strings.Contains(words, temperature) {
		t.Errorf("struck out: %s %q", state, words)
	}
}
