package web

import (
	"slices"
	"strings"

	"ebbline/session"
)

// A bloodHeld is another trouble that is open, by which the blood stays out whatever
// the steps of this one say.
type bloodHeld struct {
	session.OpenTrouble
	stranger bool // who reads it is told no more than the rule
}

// Words stand in the place of the trouble's own line about the blood.
func (b bloodHeld) Words() string {
	words := strings.TrimSuffix(b.Blood.Words(), ".") + " – " + b.Name() + " is not over"
	if !b.stranger {
		words += " (since " + clockFace(b.Since) + ")"
	}
	return words + "."
}

// Name is what holds the blood back, as a sentence goes on.
func (b bloodHeld) Name() string {
	if b.stranger {
		return "something that went wrong in this session"
	}
	return "“" + b.Title + "”"
}

// outOf gives the rule of the strictest open trouble in which the blood stays out;
// empty where there is none.
func outOf(open []session.OpenTrouble, stranger bool) string {
	held := heldBy(session.TroubleType{Blood: session.BloodAsSteps}, open)
	if held == nil {
		return ""
	}
	held.stranger = stranger
	return held.Words()
}

// heldBy gives the open trouble that holds the blood back under another: the strictest
// of those that are stricter than its own rule, the oldest of these first; nil where
// its own rule stands.
func heldBy(t session.TroubleType, open []session.OpenTrouble) (held *bloodHeld) {
	strict := strictness[t.Blood]
	for _, o := range open {
		if s := strictness[o.Blood]; o.Code != t.Code && s > strict {
			held, strict = &bloodHeld{OpenTrouble: o}, s
		}
	}
	return held
}

// strictness orders the three rules.
var strictness = map[session.BloodRule]int{session.BloodAsSteps: 0, session.BloodUnitWord: 1, session.BloodNever: 2}

// hold puts the rule of another open trouble in the place of this one's own. What
// would give the blood back is left out: the unit's time for it, and in a power cut
// its steps, which give it back by hand.
func (t *tile) hold(open []session.OpenTrouble, stranger bool) {
	if t.Held = heldBy(t.TroubleType, open); t.Held == nil {
		return
	}
	t.Held.stranger = stranger
	t.Steps.Blood, t.Steps.Figures = t.Held.Words(), nil
	if t.Code == session.TroublePower && t.Given {
		t.NoHand, t.Steps.Words = true, t.Acts
	}
}

// openOf gives the troubles that are open in a person's session, unless it is typed in
// from paper.
func openOf(v visit) []session.OpenTrouble {
	if one := v.member.Open(); one != nil && !fromPaper(one) {
		return v.troubles(one)
	}
	return nil
}

// ownFirst is what to do first in a trouble: the first of the unit's own steps, or
// what no unit differs on where it gave none, and where its steps may not be gone by
// now.
func ownFirst(v visit, t session.TroubleType) string {
	own := v.member.StepsFor(t.Code)
	ended := v.hasEnded()
	if ended {
		t.Acts = afterRun(t.Acts)
	}
	if own == nil || t.Code == session.TroublePower && (heldBy(t, openOf(v)) != nil || v.stoodTooLong(v.member.Open())) {
		return strings.Join(t.Acts, " ")
	}
	words := own.Value.Words
	if ended {
		words = strings.Join(slices.DeleteFunc(strings.Split(words, "\n"), ofRun), "\n")
	}
	return firstLines(words, barLetters)
}
