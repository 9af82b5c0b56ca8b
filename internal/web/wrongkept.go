package web

import (
	"strings"

	"ebbline/session"
)

// keptWords are what a page says of a trouble that was said on this screen and that the
// program has not yet written down. The page holds them hidden, one of each kind, and the
// strictness of each rule, so that script compares two numbers and knows no rule: what
// it shows and hides is marked in the page.
type keptWords struct {
	Code   string
	Bar    string // in the bar
	Rule   string // in the place of a weaker rule about the blood
	Strict int
}

func keptTroubles(rx *session.Prescription) (list []keptWords) {
	for _, t := range session.TroublesFor(rx) {
		list = append(list, keptWords{
			Code:   t.Code,
			Bar:    t.Title + ": kept on this screen, NOT SAVED",
			Rule:   strings.TrimSuffix(t.Blood.Words(), ".") + " – “" + t.Title + "” was said on this screen.",
			Strict: strictness[t.Blood],
		})
	}
	return list
}

// Strict is how strict the rule about the blood is that stands in a tile: its own, or that
// of another open trouble.
func (t tile) Strict() int {
	if t.Held != nil {
		return strictness[t.Held.Blood]
	}
	return strictness[t.Blood]
}

// ByHand reports whether the steps of a tile give the blood back by hand: those of a
// power cut that the unit gave.
func (t tile) ByHand() bool {
	return t.Code == session.TroublePower && t.Given && !t.NoHand && !t.Stood
}
