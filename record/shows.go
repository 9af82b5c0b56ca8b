package record

import (
	"slices"
	"time"

	"ebbline/session"
)

// shows works out what the machine's figure for the fluid removed meant in a session:
// by the last answer of this machine that was written, and not struck out or corrected,
// by the time the session was closed. Where another answer held before that, while the
// session went on, it is among what held earlier: a figure is read by the answer of its
// own time. The first answer holds from the beginning, for until then nothing was worked
// out, and so it does for a session that was closed before anybody was asked. What else
// is answered, struck out or corrected after a session was closed changes nothing of it.
func (m *Member) shows(s *session.Session) (means string, earlier []session.ShownUntil) {
	var closed time.Time
	if b, e := session.First[session.Closed](s); b != nil {
		closed = e.FirstWritten()
	}
	var answers []*Dated[session.Machine]
	var moments []time.Time
	moment := func(t time.Time) {
		if closed.IsZero() || !t.After(closed) {
			moments = append(moments, t)
		}
	}
	for i := range m.house.Machine {
		d := &m.house.Machine[i]
		if d.Value.RemovedShows == "" || !d.Value.IsOne(s.Machine) {
			continue
		}
		answers = append(answers, d)
		moment(d.Written)
		if d.Struck != nil {
			moment(d.Struck.At)
		}
	}
	slices.SortFunc(moments, time.Time.Compare)
	_, at := openingOf(s)
	opened := openedWritten(s, at)
	for _, t := range moments {
		now := answerAt(answers, t)
		if means != "" && now != means && t.After(opened) {
			earlier = append(earlier, session.ShownUntil{Until: t, Means: means})
		}
		means = now
	}
	if means == "" && !closed.IsZero() {
		means = firstAnswer(answers)
	}
	return means, earlier
}

// firstAnswer is the earliest answer that was not struck out or corrected; empty for none.
// It says what the figures of a session meant that was closed before the question was
// ever asked. They were unknown until then, so it changes none.
func firstAnswer(answers []*Dated[session.Machine]) string {
	var first *Dated[session.Machine]
	for _, d := range answers {
		if d.Struck == nil && (first == nil || d.Written.Before(first.Written)) {
			first = d
		}
	}
	if first == nil {
		return ""
	}
	return first.Value.RemovedShows
}

// answerAt is the answer that held at a moment; empty for none.
func answerAt(answers []*Dated[session.Machine], t time.Time) string {
	var last *Dated[session.Machine]
	for _, d := range answers {
		if !d.Written.After(t) && (d.Struck == nil || d.Struck.At.After(t)) && (last == nil || !d.Written.Before(last.Written)) {
			last = d
		}
	}
	if last == nil {
		return ""
	}
	return last.Value.RemovedShows
}

// openedWritten is when the opening of a session was first written down.
func openedWritten(s *session.Session, at time.Time) time.Time {
	for i := range s.Log {
		if e := &s.Log[i]; e.Kind == "session_opened" {
			return e.FirstWritten()
		}
	}
	return at
}
