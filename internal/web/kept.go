package web

import (
	"time"

	"ebbline/session"
)

// A keptKey names what was worked out of a session.
type keptKey struct {
	what string
	of   *session.Session
}

// kept works something out of a session once for a visit: bar, troubles and the body
// of a page all ask for the same, and each time the whole session is gone through.
func kept[T any](v visit, what string, one *session.Session, work func() T) T {
	key := keptKey{what, one}
	if had, ok := v.kept[key]; ok {
		return had.(T)
	}
	made := work()
	if v.kept != nil {
		v.kept[key] = made
	}
	return made
}

// follow is [session.Follow] now; the zero run where none is under way.
func (v visit) follow(one *session.Session) session.Run {
	return kept(v, "run", one, func() session.Run {
		run, _ := session.Follow(one, v.now)
		if h, is := v.fluidHistory(one); is {
			run.DueWith(one, h, v.now)
		}
		return run
	})
}

// standing is [session.Standing] now.
func (v visit) standing(one *session.Session) []session.Remark {
	return kept(v, "standing", one, func() []session.Remark {
		list := session.Standing(one, v.now)
		if h, is := v.fluidHistory(one); is {
			list = append(list, session.StandingFluid(one, h, v.now)...)
		}
		return list
	})
}

// remarks are all remarks on a run now, in order of time.
func (v visit) remarks(one *session.Session) []session.Remark {
	if h, is := v.fluidHistory(one); is {
		return session.RemarksWith(one, h, v.now)
	}
	return session.Remarks(one, v.now)
}

// fluidHistory is the history of a session whose remarks need it: of one from a batch,
// and of one whose answers before the start were written otherwise since.
func (v visit) fluidHistory(one *session.Session) (h session.History, is bool) {
	m := v.house.Member(one.Person)
	if m == nil || !one.Treated() || one.Machine.Fluid() != session.FluidBatch && !session.StartRewritten(one, v.now) {
		return h, false
	}
	return kept(v, "fluid history", one, func() session.History { return m.History(one) }), true
}

// troubles are the open troubles now.
func (v visit) troubles(one *session.Session) []session.OpenTrouble {
	return kept(v, "troubles", one, func() []session.OpenTrouble { return session.OpenTroubles(one, v.now) })
}

// removalOff gives since when removal is off; zero while it is on.
func (v visit) removalOff(one *session.Session) time.Time {
	return kept(v, "removal", one, func() time.Time {
		since, _ := session.RemovalIsOff(one, v.now)
		return since
	})
}

// pressureRead is the blood pressure that was written last, as pages show it.
type pressureRead struct {
	session.PressureNow
	Text string // "74/41"; empty where none was written
}

// pressure is the blood pressure of a session now.
func (v visit) pressure(one *session.Session) pressureRead {
	return kept(v, "pressure", one, func() pressureRead {
		p, _ := session.LastPressure(one, v.now)
		read := pressureRead{PressureNow: p}
		if p.Upper != nil {
			read.Text = p.Upper.String()
		}
		if p.Upper != nil && p.Lower != nil {
			read.Text += "/" + p.Lower.String()
		}
		return read
	})
}
