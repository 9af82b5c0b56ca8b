package record

import (
	"fmt"

	"ebbline/session"
	"ebbline/unit"
)

// Apply folds one entry into the state. It takes entries in the order they
// were written and fails only on one that could not have been taken, which
// means that the file was made by another program or damaged.
func (h *Household) Apply(e Entry) error {
	if h.Has(e.ID) {
		return nil // sent twice
	}
	at := place{kind: e.Kind, person: e.Person, session: e.Session}
	var err error
	switch {
	case e.Kind == "struck":
		err = h.strike(e)
	case e.Session != "":
		if err = h.applySession(e); err == nil {
			h.changed(h.bySession[e.Session])
		}
	default:
		if err = h.applyHousehold(e); err == nil && e.Corrects != "" {
			h.strikeOut(e.Corrects, &session.Strike{At: e.Written, By: e.By, Reason: e.Reason})
		}
	}
	if err != nil {
		return fmt.Errorf("entry %s (%s): %w", e.ID, e.Kind, err)
	}
	h.entries[e.ID] = at
	if old, ok := h.entries[e.Corrects]; ok {
		old.corrected = true
		h.entries[e.Corrects] = old
	}
	if e.Written.After(h.LastAt) {
		h.LastAt = e.Written
	}
	return nil
}

// changed brings up to date what is kept of a session beside its log.
func (h *Household) changed(s *session.Session) {
	h.byPerson[s.Person].gather(s)
	if closed, _ := session.Last[session.Closed](s); closed != nil {
		h.uses[s.ID] = useOf(s)
	} else {
		delete(h.uses, s.ID)
	}
}

func dated[T any](e Entry) Dated[T] {
	return Dated[T]{ID: e.ID, At: e.At, Written: e.Written, By: e.By, Value: *(e.Body.(*T))}
}

// put adds a version.
func put[T any](list []Dated[T], e Entry) []Dated[T] {
	return append(list, dated[T](e))
}

func (h *Household) applyHousehold(e Entry) error {
	switch e.Body.(type) {
	case *Demonstration:
		h.Demo = true
		return nil
	case *KidneyUnit:
		h.Unit = put(h.Unit, e)
		return nil
	case *session.Machine:
		h.Machine = put(h.Machine, e)
		return nil
	case *ClockMoved:
		return nil
	case *Person:
		h.member(e.Person).Person = put(h.member(e.Person).Person, e)
		return nil
	}
	if h.upkeep(e) {
		return nil
	}
	m := h.byPerson[e.Person]
	if m == nil {
		return fmt.Errorf("person %q is not known", e.Person)
	}
	switch b := e.Body.(type) {
	case *session.Prescription:
		m.Prescriptions = append(m.Prescriptions, &Rx{Dated: dated[session.Prescription](e)})
		m.followPrescription()
	case *PaperConfirms:
		if r := m.Rx(b.Prescription); r != nil {
			d := dated[PaperConfirms](e)
			r.Paper = &d
		}
	case *ChangeSeen:
		if r := m.Rx(b.Prescription); r != nil {
			d := dated[ChangeSeen](e)
			r.Seen = &d
		}
	case *HospitalStay:
		m.Stays = put(m.Stays, e)
	case *Card:
		m.Cards = put(m.Cards, e)
	case *Question:
		m.Questions = put(m.Questions, e)
	case *SheetEdited:
		d := Dated[session.RunSheet]{ID: e.ID, At: e.At, Written: e.Written, By: e.By, Value: b.RunSheet}
		if b.Phase == session.TakeOff {
			m.TakeOffSheet = append(m.TakeOffSheet, d)
		} else {
			m.SetUpSheet = append(m.SetUpSheet, d)
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

func (h *Household) applySession(e Entry) error {
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
		s.Machine, _ = h.Machine.Now()
		if rx := m.Prescription(unit.DateOf(e.At)); rx != nil {
			s.PrescriptionID, s.Rx = rx.ID, &rx.Value
		}
		h.bySession[e.Session] = s
		s.Add(event(e))
		m.addSession(s)
		return nil
	}
	if plan, ok := e.Body.(*session.AgreedPlan); ok && s.Phase() == session.SettingUp {
		// From here on the session keeps the version it was planned from.
		if rx := m.Rx(plan.PrescriptionID); rx != nil {
			s.PrescriptionID, s.Rx = rx.ID, &rx.Value
		}
	}
	if e.Corrects == "" {
		s.Add(event(e))
		return nil
	}
	if err := correct(s, e); err != nil {
		return err
	}
	if _, opening := e.Body.(*session.Opened); opening {
		m.moveSession(s)
		m.followPrescription()
	}
	return nil
}

func event(e Entry) session.Event {
	return session.Event{ID: e.ID, Kind: e.Kind, At: e.At, Written: e.Written, By: e.By, Body: e.Body, Missing: e.Missing}
}

// correct puts the new entry in the place of the old one and keeps what the
// old one said.
func correct(s *session.Session, e Entry) error {
	old := s.Find(e.Corrects)
	if old == nil {
		return fmt.Errorf("corrects %q, which is not in this session", e.Corrects)
	}
	was := append(old.Was, session.Version{ID: old.ID, At: old.At, Written: old.Written, By: old.By, Body: old.Body, Reason: e.Reason})
	s.Remove(old.ID)
	now := event(e)
	now.Was = was
	s.Add(now)
	return nil
}

func (h *Household) strike(e Entry) error {
	b := e.Body.(*Struck)
	if !h.Has(b.Entry) {
		return fmt.Errorf("strikes out %q, which is not in the record", b.Entry)
	}
	h.strikeOut(b.Entry, &session.Strike{At: e.Written, By: e.By, Reason: b.Reason})
	return nil
}

func (h *Household) strikeOut(id string, strike *session.Strike) {
	at := h.entries[id]
	if s := h.bySession[at.session]; s != nil {
		if ev := s.Find(id); ev != nil {
			ev.Struck = strike
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
}

func (m *Member) strike(id string, s *session.Strike) {
	if r := m.Rx(id); r != nil {
		r.Struck = s
		m.followPrescription()
	}
	for _, r := range m.Prescriptions {
		if r.Paper != nil && r.Paper.ID == id {
			r.Paper = nil
		}
	}
	strikeIn(m.Person, id, s)
	strikeIn(m.Cards, id, s)
	strikeIn(m.SetUpSheet, id, s)
	strikeIn(m.TakeOffSheet, id, s)
	strikeIn(m.Stays, id, s)
	strikeIn(m.Questions, id, s)
	m.LabBook.strike(id, s)
}

func strikeIn[T any](list []Dated[T], id string, s *session.Strike) {
	for i := range list {
		if list[i].ID == id {
			list[i].Struck = s
		}
	}
}
