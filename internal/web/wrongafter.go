package web

import (
	"slices"
	"strings"

	"ebbline/session"
)

// runWords are what an act names that there is in the run alone.
var runWords = []string{"removal", "pump", "saline"}

// ofRun reports whether an act is one for the run: of removal, the pump, or saline by the
// machine. Those of a line that must be clamped stay.
func ofRun(act string) bool {
	act = strings.ToLower(act)
	return slices.ContainsFunc(runWords, func(w string) bool { return strings.Contains(act, w) })
}

// afterRun leaves out of acts that no unit differs on those of the run, once the
// treatment has ended.
func afterRun(acts []string) []string {
	return slices.DeleteFunc(slices.Clone(acts), ofRun)
}

// hasEnded reports whether the person's open session is past its treatment.
func (v visit) hasEnded() bool {
	one := v.member.Open()
	return one != nil && !fromPaper(one) && one.Phase() == session.ComingOff
}

// after leaves out what is for the run only, once it has ended. The unit's own steps stay
// whole; what they say of the run is said to be past.
func (t *tile) after() {
	t.Acts = afterRun(t.Acts)
	if t.Code == session.TroublePower {
		t.Power = nil
	}
	t.Past = t.Given && slices.ContainsFunc(t.Steps.Words, ofRun)
}
