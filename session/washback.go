package session

import (
	"slices"
	"time"
)

// WashbackLasts is how long what was looked at before the washback holds for the
// pump to start, and how much later a reading says that the treatment went on.
// Ours: a washback takes five to ten minutes.
const WashbackLasts = 30 * time.Minute

// WashbackLooked gives when the person last looked at the three things of
// [WashbackChecked] for the attempt to come off that stands at now; ok is false
// where they did not, or where that attempt is over. It is over when, after the
// look, something went wrong or was felt ([BloodSigns]), the treatment was paused or
// went on, another blood flow was set, or a reading was written more than
// [WashbackLasts] later. While the blood stays out ([BloodStaysOut]) there is no attempt.
//
// It has no limit of time by itself: what was given back is written down
// whenever the person comes to it.
func WashbackLooked(s *Session, now time.Time) (at time.Time, ok bool) {
	if _, out := BloodStaysOut(s, now); out {
		return time.Time{}, false
	}
	hot := hotFluid(s, now)
	var look *Event
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil || e.At.After(now) {
			continue
		}
		switch b := e.Body.(type) {
		case *WashbackChecked:
			if b.Saline && b.Clamp && b.Venous {
				at, ok, look = e.At, true, e
			}
		case *Trouble:
			ok = ok && b.State == TroubleOver
		case *Pause, *Resume, *FlowChanged, *Connected:
			ok = false
		case *Reading:
			ok = ok && !e.At.After(at.Add(WashbackLasts)) && !slices.Contains(hot, e.ID)
		}
	}
	if !ok || wrongSince(s, look, now) || feltSince(s, look, now) {
		return time.Time{}, false
	}
	return at, true
}

// feltSince reports whether something that speaks against giving the blood back was
// felt or measured in the minute of a look or after it, or written down after it with
// whatever time.
func feltSince(s *Session, look *Event, now time.Time) bool {
	return slices.ContainsFunc(BloodSigns(s, now), func(b BloodSign) bool {
		return !b.At.Before(look.At.Truncate(time.Minute)) || b.Written.After(look.FirstWritten())
	})
}

// wrongSince reports whether something was said to be wrong after a look was written
// down, whatever time was typed for it.
func wrongSince(s *Session, look *Event, now time.Time) bool {
	opened, _, _ := troubleWords(s, now)
	return slices.ContainsFunc(opened, func(w troubleWord) bool {
		return w.since.After(look.FirstWritten()) || w.since.Equal(look.FirstWritten().Truncate(time.Second)) && w.e.Place > look.Place
	})
}

// GivenBackWhile lists what was open in which the blood stays out when the end of
// the treatment says that it was given back, and what was open when that was
// written down; both are empty otherwise.
func GivenBackWhile(s *Session) (then, written []OpenTrouble) {
	off, e := Last[CameOff](s)
	if off == nil || !off.GivesBack() {
		return nil, nil
	}
	stays := func(at time.Time) (list []OpenTrouble) {
		for _, t := range OpenTroubles(s, at) {
			if t.StaysOut() {
				list = append(list, t)
			}
		}
		return list
	}
	then = stays(e.At)
	if how, _ := s.Opened(); how.Afterwards() {
		return then, nil
	}
	for _, t := range stays(e.FirstWritten()) {
		if !slices.ContainsFunc(then, func(o OpenTrouble) bool { return o.Code == t.Code }) {
			written = append(written, t)
		}
	}
	return then, written
}

// GivenBackWords says what of [GivenBackWhile] there is, a sentence for each.
func GivenBackWords(s *Session) (list []string) {
	then, written := GivenBackWhile(s)
	if len(then)+len(written) == 0 {
		return nil
	}
	_, e := Last[CameOff](s)
	at := func(t time.Time) string { return t.In(e.At.Location()).Format("15:04") }
	for _, t := range then {
		list = append(list, "Blood was given back while “"+t.Title+"” was open since "+at(t.Since)+".")
	}
	for _, t := range written {
		list = append(list, "That blood was given back was written down at "+at(e.FirstWritten())+", while “"+t.Title+"” was open since "+at(t.Since)+".")
	}
	return list
}

// NeverOverWords says what of [NeverOver] there is, a line for each.
func NeverOverWords(s *Session) (list []string) {
	_, opened := s.Opened()
	for _, t := range NeverOver(s) {
		list = append(list, "“"+t.Title+"”, since "+t.Since.In(opened.Location()).Format("15:04")+", was never over")
	}
	return list
}

// WashbackReady reports whether the pump may be started to give the blood back:
// the three things were looked at for this attempt ([WashbackLooked]) and no
// longer than [WashbackLasts] ago.
//
// The look is asked for because a trained person at home bled to death through
// the washback with the saline on the wrong line (PMC3462675, abstract).
func WashbackReady(s *Session, now time.Time) bool {
	at, ok := WashbackLooked(s, now)
	return ok && !now.After(at.Add(WashbackLasts))
}

// GivesBack reports whether an end of treatment says that blood was given back.
func (c *CameOff) GivesBack() bool {
	return c.Returned == "all" || c.Returned == "part" || c.Washback != nil && *c.Washback > 0
}
