package web

import (
	"net/http"
	"slices"

	"ebbline/session"
)

// backToStep is the address of a session's page at the place where a step was just
// ticked, so that the page does not begin at its top again, without script either.
func (s *server) backToStep(r *http.Request) (string, error) {
	at := ""
	err := s.look(r, func(v visit) error {
		at = afterTick(v, r.PostFormValue("step"), r.PostFormValue("state"))
		return nil
	})
	return sessionURL(r) + "#" + at, err
}

// afterTick names the place to come back to once a step was ticked: a step that
// leaves its list gives it to the one after it, or else before it; one that stays
// is the place itself. It is asked before the tick is written: afterwards the list
// no longer says what stood beside it.
func afterTick(v visit, step, state string) string {
	leaves := session.EndsStep(state)
	for _, list := range stepLists(v) {
		i := slices.IndexFunc(list.steps, func(st session.StepState) bool { return st.ID == step })
		switch {
		case i < 0 || !leaves || list.stays:
		case i+1 < len(list.steps):
			return "step-" + list.steps[i+1].ID
		case i > 0:
			return "step-" + list.steps[i-1].ID
		default:
			return list.place
		}
	}
	return "step-" + step
}

// A stepList is a list of steps as a page shows it.
type stepList struct {
	place string // of its heading
	steps []session.StepState
	stays bool // what is ticked stays in it
}

func stepLists(v visit) []stepList {
	one := v.session
	if one.Phase() == session.ComingOff {
		state := session.Progress(v.member.SheetFor(one, session.TakeOff), one, v.now)
		left := slices.DeleteFunc(slices.Clone(state.Steps), session.StepState.Over)
		return []stepList{{place: "off-steps", steps: left}}
	}
	state := session.ProgressWith(v.member.SetUpFor(one, v.now), one, v.member.History(one), v.now)
	return []stepList{
		{"hands", state.Lane(session.LaneHands), fromPaper(one)},
		{"machine", state.Lane(session.LaneMachine), fromPaper(one)},
	}
}
