package web

import "ebbline/session"

// flushTap is the next flush on the running page, with the press that writes it down.
type flushTap struct {
	session.FlushDue
	ID             string // of the entry
	Action         string
	Is             bool // its time has come
	Given, LeftOut int
	None           bool // none is left in this session
	Missing        []flushMissing
	Gone           string // where a press that says "left out" goes
}

// flushMissing is one that was due, with a press for each of the two answers.
type flushMissing struct {
	session.FlushMissing
	GivenID, GoneID string
}

// flushOf gives it; nil where none is ordered.
func flushOf(v visit, one *session.Session) *flushTap {
	if !one.Rx.Flushes() || fromPaper(one) {
		return nil
	}
	t := flushTap{ID: newID(), Action: "/p/" + one.Person + "/session/" + one.ID + "/event/saline"}
	due, ok := session.NextFlush(one, v.now)
	t.FlushDue, t.None = due, !ok
	t.Volume = *one.Rx.FlushML
	t.Is = ok && !due.At.IsZero() && !v.now.Before(due.At)
	t.Gone = "/p/" + one.Person + "/session/" + one.ID + "/event/flush_left_out"
	for _, m := range session.FlushesMissing(one, v.now) {
		t.Missing = append(t.Missing, flushMissing{m, newID(), newID()})
	}
	t.Given, t.LeftOut = session.FlushesGiven(one, v.now)
	return &t
}
