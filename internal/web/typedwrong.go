package web

import (
	"slices"
	"strings"

	"ebbline/session"
)

// typedWrong leads from a stop to what decided it, for a finger that slipped: the
// page on which that entry is corrected, and, where a number on the shelf says
// otherwise, the delivery that it came with. A plan is made again and not corrected.
func typedWrong(v visit, c session.Check, base string) (list []stepLink) {
	e := v.session.Find(c.Entry)
	if e == nil || e.Kind == "plan" {
		return nil
	}
	list = append(list, stepLink{"Typed wrong? Correct it", base + "/entry/" + e.ID})
	if !slices.Contains(c.Codes, "shelf_says") {
		return list
	}
	if from := v.member.History(v.session).OnShelf[e.ID].From; len(from) > 0 {
		person, _, _ := strings.Cut(base, "/session/")
		list = append(list, stepLink{"Wrong on the shelf? The delivery", person + "/kept/" + from[len(from)-1]})
	}
	return list
}
