package session

import (
	"slices"
	"time"

	"ebbline/unit"
)

// LockDrawn is what became of the old lock of a catheter before anything was pushed in:
// each lumen was drawn, or could not be.
type LockDrawn struct {
	Arterial    string      `json:"arterial"` // drawn or could_not
	Venous      string      `json:"venous"`
	Clots       bool        `json:"clots,omitempty"` // seen in what was drawn
	ArterialVol *unit.Drawn `json:"arterial_ml,omitempty"`
	VenousVol   *unit.Drawn `json:"venous_ml,omitempty"`
	Note        string      `json:"note,omitempty"`
}

// What became of the lock of one lumen.
const (
	Drawn    = "drawn"
	CouldNot = "could_not"
)

// stuck names the lumens whose lock could not be drawn.
func (b *LockDrawn) stuck() string {
	switch {
	case b.Arterial == CouldNot && b.Venous == CouldNot:
		return "both lumens"
	case b.Arterial == CouldNot:
		return "the arterial lumen"
	}
	return "the venous lumen"
}

// tellsHeld reports whether an entry says where the catheter lies, or what became of its
// old lock.
func tellsHeld(body any) bool {
	switch b := body.(type) {
	case *LockDrawn:
		return true
	case *AccessCheck:
		return b.Cuff != "" || b.Length != ""
	}
	return false
}

// catheterAsked reports whether cuff, length and old lock are asked for: once one of them was
// written, in this session or an earlier one. The page asks for the first two each time;
// who writes by other ways and never wrote any starts as before.
func (l startLine) catheterAsked() bool {
	return l.h.Held || slices.ContainsFunc(l.s.Log, func(e Event) bool {
		return e.Struck == nil && !e.At.After(l.at) && tellsHeld(e.Body)
	})
}

// oldLock asks that the old lock is out of both lumens before anything is pushed in.
// One that could not be drawn stops until the unit was rung or the lumen was drawn; then
// it stays in sight.
func (l startLine) oldLock() []finding {
	v := &verdict{}
	if judged(l, v, startLine.drawnOut) == nil && l.catheterAsked() {
		v.open(nil, "lock_drawn_open")
	}
	for i := range v.findings {
		for _, was := range wasStuck {
			if f := &v.findings[i]; f.past && f.code == was.stuck {
				f.code = was.code // the order of then no longer holds
			}
		}
	}
	return v.findings
}

// wasStuck are the sentences of a lumen that could not be drawn at first.
var wasStuck = []struct{ stuck, code string }{
	{stuck: "lock_arterial_stuck", code: "lock_arterial_was"},
	{stuck: "lock_venous_stuck", code: "lock_venous_was"},
}

func (l startLine) drawnOut(v *verdict, b *LockDrawn, e *Event) {
	blank := v.blank(e, "arterial", "venous")
	if b.Arterial == CouldNot {
		v.ring(e, "lock_arterial_stuck").stays(looked)
	}
	if b.Venous == CouldNot {
		v.ring(e, "lock_venous_stuck").stays(looked)
	}
	if b.Clots {
		v.look(e, "lock_clots")
	}
	if !blank && !v.any() {
		v.ready("lock_drawn_ready")
	}
}

// LockAfter is the lock that was written once the treatment had ended, the last one; nil
// where none was.
func LockAfter(s *Session) (*CatheterLock, *Event) {
	ended, over := s.Ended()
	b, e := Last[CatheterLock](s)
	if b == nil || !over || e.At.Before(ended) {
		return nil, nil
	}
	return b, e
}

// LockAtEnd says what is wrong with the lock that was written once the treatment had
// ended, in the words of the start line, which no longer changes then. What was another
// than ordered stays in sight when the right one follows it. A call about it stands
// beside it. It is empty where nothing is wrong, or none was written.
func LockAtEnd(s *Session, h History) []string {
	ended, over := s.Ended()
	if !over || !s.Rx.ByCatheter() {
		return nil
	}
	var list []string
	var last time.Time
	Each(s, func(b *CatheterLock, e *Event) {
		if e.At.Before(ended) {
			return
		}
		var v verdict
		lineUpTo(s, h, e.At).lockInHand(&v, b, e)
		for _, f := range v.findings {
			if f.state == StopHere {
				f.when, last = clock(e.At), e.At
				list = append(list, f.words())
			}
		}
	})
	Each(s, func(b *Rang, e *Event) {
		if len(list) > 0 && !e.At.Before(last) {
			list = append(list, worded("rang", b.Whom, clock(e.At), sentence(b.Said)))
		}
	})
	return list
}

// lineUpTo is what a check is judged from at a moment, also after the start.
func lineUpTo(s *Session, h History, at time.Time) startLine {
	l := lineAt(s, h, at)
	l.at = at
	return l
}

// closedOff are the steps that close a catheter, with what is said of one that was not
// ticked: an open clamp or a missing cap is air or blood.
var closedOff = []struct{ step, what string }{
	{CapsStep, "New caps on both lumens"},
	{ShutStep, "Both clamps looked at: shut"},
}

// stepDone reports whether a step of coming off was ticked and not taken back.
func stepDone(s *Session, phase, id string) bool {
	done := false
	Each(s, func(b *StepDone, _ *Event) {
		if b.Phase == phase && b.Step == id {
			done = b.State == StepIsDone
		}
	})
	return done
}
