package web

import (
	"net/http"
	"slices"
	"strings"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// rx is the prescription that the words of a page go by: that of the open session, else
// the one in force; nil where there is none.
func (v visit) rx() *session.Prescription {
	if v.member == nil {
		return nil
	}
	if one := v.member.Open(); one != nil {
		return one.Rx
	}
	if in := v.member.Prescription(unit.DateOf(v.now)); in != nil {
		return &in.Value
	}
	return nil
}

// offKindsOf are the forms of coming off by access: a catheter is locked, nothing is held.
func offKindsOf(rx *session.Prescription) []string {
	kinds := slices.Clone(offKinds)
	if rx.ByCatheter() {
		kinds[slices.Index(kinds, "holding")] = "catheter_lock"
	}
	return kinds
}

// writtenOff reports whether a form of coming off was filled in: a lock only by what was
// written once the treatment had ended.
func writtenOff(one *session.Session, name string) bool {
	if name == "catheter_lock" {
		b, _ := session.LockAfter(one)
		return b != nil
	}
	return one.Has(name)
}

// closedOff says what is wrong with the lock that was given, and what of closing the
// catheter is not ticked: those of its steps that no sheet of the household's has can be
// ticked beside what is still open.
func (b *comingOffBody) closedOff(v visit) {
	one := v.session
	b.Catheter = one.Rx.ByCatheter()
	if b.Lock = session.LockAtEnd(one, v.member.History(one)); len(b.Lock) > 0 {
		b.LockRings = phonesFor(v, session.RingUnit)
	}
	b.Closed = closedSteps(b.Open, b.Base, b.Sheet)
}

// closedSteps are the steps that close a catheter and are not ticked, but for those that
// stand on a sheet already.
func closedSteps(open []session.OpenItem, base string, sheet session.RunSheet) (list []stepView) {
	for _, item := range open {
		if item.Kind != "step" {
			continue
		}
		if _, there := sheet.Step(item.Key); there {
			continue
		}
		st := session.StepState{Step: session.Step{ID: item.Key, Words: item.What, Lane: session.LaneHands, Usual: 1, Tick: session.TickDone}, State: session.StepReady}
		list = append(list, stepOf(st, base, session.TakeOff))
	}
	return list
}

// catheterLeft is what of closing a catheter was forgotten when its session was closed: a
// lock is written late with the time when it was given, a step is ticked once looked at.
type catheterLeft struct {
	Lock  string // where it is written; empty where one is
	Steps []stepView
}

// leftFor is how long after the end of a treatment what was forgotten is offered. Ours.
const leftFor = 24 * time.Hour

// leftOf is nil where nothing was forgotten, before the session is closed and a day after
// its end.
func leftOf(one *session.Session, base string, now time.Time) *catheterLeft {
	ended, over := one.Ended()
	if one.Phase() != session.Done || !one.Rx.ByCatheter() || fromPaper(one) || !over || now.Sub(ended) > leftFor {
		return nil
	}
	open := session.OpenItems(one)
	left := catheterLeft{Steps: closedSteps(open, base, session.RunSheet{})}
	if slices.ContainsFunc(open, func(i session.OpenItem) bool { return i.Kind == "catheter_lock" && i.What == session.LockAfterItem }) {
		left.Lock = base + "/catheter_lock"
	}
	if left.Lock == "" && len(left.Steps) == 0 {
		return nil
	}
	return &left
}

// sendAccess takes a look at the access. Of a catheter the page asks for cuff and length
// each time; who writes in another way may leave them out.
func (s *server) sendAccess(w http.ResponseWriter, r *http.Request, kind *record.Kind) error {
	e, found := s.read(r, kind)
	b, read := e.Body.(*session.AccessCheck)
	catheter := false
	s.desk.View(func(h *record.Household) {
		one := h.Session(e.Session)
		catheter = one != nil && one.Rx.ByCatheter()
	})
	if read && catheter {
		for _, blank := range []struct{ key, value string }{{"cuff", b.Cuff}, {"outer_length", b.Length}} {
			if blank.value == "" {
				found = append(found, record.Finding{Field: blank.key, Step: record.Refuse, Words: "is still blank: look, then choose"})
			}
		}
	}
	return s.settle(w, r, e, found, s.kindForm)
}

// catheterOpen names what of closing a catheter is neither written nor ticked, where a
// session is closed; empty where nothing is. An open clamp or a missing cap is air or
// blood.
func catheterOpen(one *session.Session) string {
	if !one.Rx.ByCatheter() || fromPaper(one) {
		return ""
	}
	var list []string
	for _, item := range session.OpenItems(one) {
		if item.Kind == "step" || item.Kind == "catheter_lock" {
			list = append(list, item.What)
		}
	}
	if len(list) == 0 {
		return ""
	}
	return "Catheter, not written: " + strings.Join(list, "; ") + ". Look at it before you close."
}
