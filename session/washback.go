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
// look, something went wrong, the treatment was paused or went on, another blood
// flow was set, or a reading was written more than [WashbackLasts] later. While
// the blood stays out ([BloodStaysOut]) there is no attempt.
//
// It has no limit of time by itself: what was given back is written down
// whenever the person comes to it.
func WashbackLooked(s *Session, now time.Time) (at time.Time, ok bool) {
	if _, out := BloodStaysOut(s, now); out {
		return time.Time{}, false
	}
	hot := hotFluid(s, now)
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil || e.At.After(now) {
			continue
		}
		switch b := e.Body.(type) {
		case *WashbackChecked:
			if b.Saline && b.Clamp && b.Venous {
				at, ok = e.At, true
			}
		case *Trouble:
			ok = ok && b.State == TroubleOver
		case *Pause, *Resume, *FlowChanged, *Connected:
			ok = false
		case *Reading:
			ok = ok && !e.At.After(at.Add(WashbackLasts)) && !slices.Contains(hot, e.ID)
		}
	}
	if !ok {
		return time.Time{}, false
	}
	return at, true
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
