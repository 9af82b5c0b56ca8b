package record

import (
	"fmt"

	"ebbline/session"
)

// Apply folds one entry into the state. It takes entries in the order they
// were written and fails only on one that could not have been taken, which
// means that the file was made by another program or damaged.
//
// What is struck out leaves the state as if it had never been written, and a
// correction as if it had been written in the place of what it corrects. Three
// things stay as they were all the same, since somebody acted on them: a
// session keeps the prescription that it was planned from; a call, a paper, or
// the reading of a change belongs to the words it was about; and so does the
// follow-up of a water result, unless the correction is judged the same.
func (h *Household) Apply(e Entry) error {
	if h.Has(e.ID) {
		return nil // sent twice
	}
	if e.Written.After(h.LastAt) {
		h.LastAt = e.Written
	}
	watched := h.watch(e)
	p := h.placed(e)
	at := place{kind: e.Kind, person: e.Person, session: e.Session, at: p.place, since: p.since, when: e.At}
	var err error
	switch {
	case e.Kind == "struck":
		err = h.strike(e)
	case e.Session != "":
		if err = h.applySession(p); err == nil {
			h.changed(h.bySession[e.Session])
		}
	default:
		err = h.applyHousehold(p)
	}
	if err != nil {
		return fmt.Errorf("entry %s (%s): %w", e.ID, e.Kind, err)
	}
	h.entries[e.ID] = at
	if h.Has(e.Corrects) {
		h.newer[e.Corrects] = e.ID
	}
	switch {
	case e.Kind == "struck" || e.Session != "":
	case e.Corrects != "":
		h.strikeOut(e.Corrects, &session.Strike{At: e.Written, By: e.By, Reason: e.Reason, Place: p.own})
	default:
		h.follow(at, false)
	}
	h.notice(e, watched)
	return nil
}

// changed brings up to date what is kept of a session beside its log.
func (h *Household) changed(s *session.Session) {
	m := h.byPerson[s.Person]
	s.Child = m.childIn(s)
	m.gather(s)
	if closed, _ := session.Last[session.Closed](s); closed != nil {
		h.uses[s.ID] = useOf(s)
	} else {
		delete(h.uses, s.ID)
	}
}

func (h *Household) applyHousehold(e placed) error {
	switch e.Body.(type) {
	case *Demonstration:
		h.Demo = true
		return nil
	case *KidneyUnit:
		h.Unit = put(h.Unit, dated[KidneyUnit](e))
		return nil
	case *session.Machine:
		h.Machine = put(h.Machine, dated[session.Machine](e))
		return nil
	case *ClockMoved:
		return nil
	case *Person:
		m := h.member(e.Person)
		m.Person = put(m.Person, dated[Person](e))
		return nil
	}
	if h.Upkeep.apply(e) {
		return nil
	}
	m := h.byPerson[e.Person]
	if m == nil {
		return fmt.Errorf("person %q is not known", e.Person)
	}
	switch b := e.Body.(type) {
	case *session.Prescription:
		m.Prescriptions = put(m.Prescriptions, &Rx{Dated: dated[session.Prescription](e)})
	case *PaperConfirms:
		m.papers = put(m.papers, dated[PaperConfirms](e))
	case *ChangeSeen:
		m.seen = put(m.seen, dated[ChangeSeen](e))
	case *HospitalStay:
		m.Stays = put(m.Stays, dated[HospitalStay](e))
	case *Card:
		m.Cards = put(m.Cards, dated[Card](e))
	case *TroubleSteps:
		m.TroubleSteps = put(m.TroubleSteps, dated[TroubleSteps](e))
	case *Question:
		m.Questions = put(m.Questions, dated[Question](e))
	case *SheetEdited:
		d := Dated[session.RunSheet]{ID: e.ID, At: e.At, Written: e.Written, Since: e.since, By: e.By, Value: b.RunSheet, place: e.place, own: e.own}
		if b.Phase == session.TakeOff {
			m.TakeOffSheet = put(m.TakeOffSheet, d)
		} else {
			m.SetUpSheet = put(m.SetUpSheet, d)
		}
	default:
		if !m.LabBook.apply(e) {
			return fmt.Errorf("belongs to a session but names none")
		}
	}
	return nil
}

func (h *Household) member(id string) *Member {
	m := h.byPerson[id]
	if m == nil {
		m = &Member{ID: id, house: h}
		h.byPerson[id] = m
		h.People = append(h.People, m)
	}
	return m
}

func (h *Household) applySession(e placed) error {
	m := h.byPerson[e.Person]
	if m == nil {
		return fmt.Errorf("person %q is not known", e.Person)
	}
	s := h.bySession[e.Session]
	if s == nil {
		if _, opens := e.Body.(*session.Opened); !opens {
			return fmt.Errorf("session %q was never opened", e.Session)
		}
		s = &session.Session{ID: e.Session, Person: e.Person}
		h.bySession[e.Session] = s
		s.Add(event(e))
		m.rest(s)
		m.addSession(s)
		return nil
	}
	if e.Corrects == "" {
		s.Add(event(e))
	} else if err := correct(s, e); err != nil {
		return err
	}
	h.moved(s, e.Kind)
	return nil
}

// moved follows a change to an entry of a kind on which it hangs where a
// session stands and what it rests on.
func (h *Household) moved(s *session.Session, kind string) {
	m := h.byPerson[s.Person]
	switch kind {
	case "session_opened":
		m.moveSession(s)
		m.rest(s)
	case "plan", "connected", "came_off", "closed":
		m.rest(s)
	}
}

func event(e placed) session.Event {
	return session.Event{ID: e.ID, Kind: e.Kind, At: e.At, Written: e.Written, By: e.By, Body: e.Body, Missing: e.Missing, Place: e.place}
}

// correct puts the new entry in the place of the old one and keeps what the
// old one said.
func correct(s *session.Session, e placed) error {
	old := s.Find(e.Corrects)
	if old == nil {
		return fmt.Errorf("corrects %q, which is not in this session", e.Corrects)
	}
	now := event(e)
	now.Was = append(old.Was, session.Version{ID: old.ID, At: old.At, Written: old.Written, By: old.By, Body: old.Body, Missing: old.Missing, Reason: e.Reason})
	s.Remove(old.ID)
	s.Add(now)
	return nil
}

func (h *Household) strike(e Entry) error {
	b := e.Body.(*Struck)
	at, ok := h.entries[b.Entry]
	if !ok {
		return fmt.Errorf("strikes out %q, which is not in the record", b.Entry)
	}
	h.strikeOut(b.Entry, &session.Strike{At: e.Written, By: e.By, Reason: b.Reason, Place: len(h.entries)})
	at.struck = true
	h.entries[b.Entry] = at
	return nil
}

// strikeOut takes an entry out of the count. One that is out already stays as
// it is.
func (h *Household) strikeOut(id string, strike *session.Strike) {
	at := h.entries[id]
	if s := h.bySession[at.session]; s != nil {
		if ev := s.Find(id); ev != nil && ev.Struck == nil {
			ev.Struck = strike
			h.moved(s, at.kind)
		}
		h.changed(s)
		return
	}
	if m := h.byPerson[at.person]; m != nil {
		m.strike(id, strike)
	}
	h.Upkeep.strike(id, strike)
	strikeIn(h.Unit, id, strike)
	strikeIn(h.Machine, id, strike)
	h.follow(at, true)
}

func (m *Member) strike(id string, s *session.Strike) {
	strikeAmong(m.Prescriptions, id, s)
	strikeIn(m.papers, id, s)
	strikeIn(m.seen, id, s)
	strikeIn(m.Person, id, s)
	strikeIn(m.Cards, id, s)
	strikeIn(m.TroubleSteps, id, s)
	strikeIn(m.SetUpSheet, id, s)
	strikeIn(m.TakeOffSheet, id, s)
	strikeIn(m.Stays, id, s)
	strikeIn(m.Questions, id, s)
	m.LabBook.strike(id, s)
}
