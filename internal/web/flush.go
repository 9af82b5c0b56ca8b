package web

import (
	"net/http"
	"slices"

	"ebbline/record"
	"ebbline/session"
)

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

// heparinSoFar is the field of a reading that only heparin fills.
const heparinSoFar = "heparin_so_far_iu"

// ofHeparin leaves the heparin so far out of a form where none is ordered, unless
// something stands in the field.
func (f form) ofHeparin(one *session.Session) form {
	if one == nil || !one.Rx.NoHeparin() {
		return f
	}
	f.Inputs = slices.DeleteFunc(slices.Clone(f.Inputs), func(in input) bool {
		return in.Key == heparinSoFar && in.Value == "" && in.Problem == "" && in.Asked == ""
	})
	return f
}

// noHeparin reports whether the session of a request orders none.
func (s *server) noHeparin(r *http.Request) (none bool) {
	s.desk.View(func(h *record.Household) {
		one := h.Session(r.PathValue("s"))
		none = one != nil && one.Rx.NoHeparin()
	})
	return none
}
