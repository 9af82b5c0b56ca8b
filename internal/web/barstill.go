package web

import (
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// bloodStill is the blood that stands in the lines while the machine stands still: since
// when, and the unit's own figure for how long it may before it is not given back. Blood
// that stands clots (common practice).
type bloodStill struct {
	What   string // that was written: a pause, a blood flow of 0, or a power cut
	Since  time.Time
	For    string
	Within *unit.Minutes // of the unit's steps for a power cut; nil where it gave none, or where the blood stays out
	PastAt time.Time     // when it is past that figure; zero without one
	Past   bool
}

// still gives it for a run; nil while the blood flows as far as is written.
func (v visit) still(one *session.Session) *bloodStill {
	return kept(v, "still", one, func() *bloodStill { return stillOf(v, one) })
}

func stillOf(v visit, one *session.Session) *bloodStill {
	run := v.follow(one)
	if run.Began.IsZero() || !run.Ended.IsZero() {
		return nil
	}
	b := bloodStill{What: "Blood flow 0", Since: flowZeroSince(one, run.Began, v.now)}
	if run.Paused && (b.Since.IsZero() || run.Since.Before(b.Since)) {
		b.What, b.Since = "Paused", run.Since
	}
	for _, t := range v.troubles(one) {
		if t.Code == session.TroublePower && (b.Since.IsZero() || t.Since.Before(b.Since)) {
			b.What, b.Since = t.Title, t.Since
		}
	}
	if b.Since.IsZero() {
		return nil
	}
	b.For = span(v.now.Sub(b.Since))
	power, _ := session.TroubleOf(session.TroublePower)
	steps := v.member.StepsFor(power.Code)
	if steps == nil || steps.Value.BackIn == nil || heldBy(power, openOf(v)) != nil {
		return &b
	}
	b.Within = steps.Value.BackIn
	b.PastAt = b.Since.Add(time.Duration(*b.Within) * time.Minute)
	b.Past = !v.now.Before(b.PastAt)
	return &b
}

// stoodAgo is how long after it moved again blood that had stood too long is still kept
// from being given back. Ours: until then it has hardly gone through the dialyser.
const stoodAgo = 30 * time.Minute

// tooLong gives the blood of a session that stands in the lines longer than the unit's
// figure, or did until a short time ago; nil where none does, or where somebody said since
// that it may go back all the same. There may be no session.
func (v visit) tooLong(one *session.Session) *bloodStill {
	if one == nil || fromPaper(one) {
		return nil
	}
	return kept(v, "too long", one, func() *bloodStill { return tooLongOf(v, one) })
}

func tooLongOf(v visit, one *session.Session) *bloodStill {
	steps := v.member.StepsFor(session.TroublePower)
	if steps == nil || steps.Value.BackIn == nil {
		return nil
	}
	within := time.Duration(*steps.Value.BackIn) * time.Minute
	var list []bloodStill
	if st := v.still(one); st != nil {
		list = append(list, bloodStill{What: st.What, Since: st.Since, For: st.For})
	}
	ended := func(what string, since, end time.Time) {
		if !end.IsZero() && end.Sub(since) >= within && v.now.Sub(end) < stoodAgo {
			list = append(list, bloodStill{What: what, Since: since, For: span(end.Sub(since))})
		}
	}
	for _, p := range session.Pauses(one) {
		ended("Paused", p.From, p.End)
	}
	for _, t := range session.TroublesOver(one, v.now) {
		if t.Code == session.TroublePower {
			ended(t.Title, t.Since, t.Over)
		}
	}
	for i := range list {
		st := &list[i]
		st.Within, st.PastAt = steps.Value.BackIn, st.Since.Add(within)
		if st.Past = !v.now.Before(st.PastAt); st.Past && !mayGoBackSince(one, st.PastAt, v.now) {
			return st
		}
	}
	return nil
}

// stoodTooLong reports whether there is such blood.
func (v visit) stoodTooLong(one *session.Session) bool { return v.tooLong(one) != nil }

// flowZeroSince gives since when the blood flow is 0 as it was written; zero where it is
// not, or where the treatment went on afterwards.
func flowZeroSince(one *session.Session, began, now time.Time) (since time.Time) {
	for i := range one.Log {
		e := &one.Log[i]
		if e.Struck != nil || e.At.Before(began) || e.At.After(now) {
			continue
		}
		var told *unit.Flow
		switch b := e.Body.(type) {
		case *session.Resume:
			since = time.Time{}
		case *session.Connected:
			told = b.BloodFlow
		case *session.Reading:
			told = b.BloodFlow
		case *session.FlowChanged:
			told = &b.BloodFlow
		}
		switch {
		case told == nil:
		case *told > 0:
			since = time.Time{}
		case since.IsZero():
			since = e.At
		}
	}
	return since
}

// stands says in the bar that the blood stands in the lines, where nothing graver is to
// be said, and leads to the steps: of a power cut where the unit's figure is there, else
// of clotting. Past that figure it is a look, with the unit's number.
func (b *bar) stands(v visit, one *session.Session) bool {
	if b.Still = v.still(one); b.Still == nil {
		return false
	}
	b.Link = b.place(v, "taps")
	b.Steps, b.First = "#wrong-"+session.TroubleClotting, "Blood that stands may clot."
	if b.Still.Within != nil {
		b.Steps, b.First = "#wrong-"+session.TroublePower, ""
	}
	if b.Still.Past {
		b.Level, b.Mark, b.Phones = barLook, "!", phonesFor(v, session.RingUnit)
	}
	return true
}

// A checkDue is a reading that should have been written by now.
type checkDue struct {
	At    time.Time
	For   string
	Cause time.Time // when that was said for which it is due, where this was after At; else zero
}

// due gives the check that is overdue; nil where none is.
func (v visit) due(one *session.Session) *checkDue {
	return kept(v, "due", one, func() *checkDue {
		run := v.follow(one)
		if run.NextCheck.IsZero() || !v.now.After(run.NextCheck) {
			return nil
		}
		return &checkDue{run.NextCheck, span(v.now.Sub(run.NextCheck)), causeOf(v, one, run)}
	})
}

// causeOf gives when the first thing was said, since the last reading, for which a check
// is due that nothing called for before it: the check is counted from that reading, and
// may then lie before what was said. Zero where it does not.
func causeOf(v visit, one *session.Session, run session.Run) (at time.Time) {
	if run.CheckWhy != session.DueLow && run.CheckWhy != session.DueLook {
		return at
	}
	read, _ := one.Began()
	session.Each(one, func(_ *session.Reading, e *session.Event) {
		if !e.At.After(v.now) && e.At.After(read) {
			read = e.At
		}
	})
	take := func(said time.Time) {
		if !said.Before(read) && (at.IsZero() || said.Before(at)) {
			at = said
		}
	}
	for _, r := range session.Remarks(one, v.now) { // what is said of a batch calls for no check
		if r.Level == session.LevelLook && r.Entry != "" { // nor does a flush that is missing
			take(r.At)
		}
	}
	for _, t := range v.troubles(one) {
		take(t.Since)
	}
	if !at.After(run.NextCheck) {
		return time.Time{}
	}
	return at
}
