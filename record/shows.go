package record

import (
	"math"
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
//
// The machine is the one as described when it was closed. All goes by the order of writing, not by the clock.
func (m *Member) shows(s *session.Session, on session.Machine) (means string, earlier []session.ShownUntil) {
	closed := closedAt(s)
	var answers []*Dated[session.Machine]
	var moments []changed
	moment := func(own int, at time.Time) {
		if own < closed {
			moments = append(moments, changed{own, at})
		}
	}
	for i := range m.house.Machine {
		d := &m.house.Machine[i]
		if d.Value.RemovedShows == "" || !d.Value.IsOne(on) {
			continue
		}
		answers = append(answers, d)
		moment(d.own, d.Written)
		if d.Struck != nil {
			moment(d.Struck.Place, d.Struck.At)
		}
	}
	slices.SortFunc(moments, func(a, b changed) int { return a.own - b.own })
	opening, _ := openingOf(s)
	for _, t := range moments {
		now := answerAt(answers, t.own)
		if means != "" && now != means && t.own > opening {
			earlier = append(earlier, session.ShownUntil{Until: t.at, Means: means})
		}
		means = now
	}
	if means == "" && closed < math.MaxInt {
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
		if d.Struck == nil && (first == nil || d.own < first.own) {
			first = d
		}
	}
	if first == nil {
		return ""
	}
	return first.Value.RemovedShows
}

// answerAt is the answer that held once an entry had been written; empty for none.
func answerAt(answers []*Dated[session.Machine], place int) string {
	var last *Dated[session.Machine]
	for _, d := range answers {
		if stoodAt(place+1, d.own, d.Struck) && (last == nil || d.own > last.own) {
			last = d
		}
	}
	if last == nil {
		return ""
	}
	return last.Value.RemovedShows
}
