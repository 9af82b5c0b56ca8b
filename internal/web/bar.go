package web

import "ebbline/session"

// A bar never leaves while a session is open: how far it has come, the one thing to
// do now, and the way to what to do when something is wrong.
type bar struct {
	Phase string
	Words string // the one thing to do now
	Link  string // where that is done
	Level string // "stop" or "look"; empty for the ordinary next thing
	Wrong string // where the troubles are
}

// barOf gives the bar of a person's open session; nil without one, and for one
// typed in from paper.
func (v visit) barOf() *bar {
	if v.member == nil {
		return nil
	}
	one := v.member.Open()
	if one == nil || fromPaper(one) {
		return nil
	}
	base := "/p/" + v.member.ID + "/session/" + one.ID
	b := bar{Link: base, Wrong: "#wrong"}
	switch one.Phase() {
	case session.SettingUp:
		b.Phase, b.Words = "Setting up", "The next step"
	case session.Running:
		b.Phase, b.Words = "Running", "The next check"
	default:
		b.Phase, b.Words = "Coming off", "What is left to do"
	}
	return &b
}
