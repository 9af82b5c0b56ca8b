package water

import (
	"fmt"

	"ebbline/unit"
)

// A Notice is word from the water supplier, or what was seen at the tap: works,
// flushing, a burst main, water that looks or smells different.
type Notice struct {
	From unit.Date `json:"from"`
	To   unit.Date `json:"to,omitzero"` // last day; zero: not over yet
	Text string    `json:"text"`
}

// afterNotice is for how many days after the last one the water is still
// doubted. Our own choice.
const afterNotice = 2

// Open reports whether the notice touches a day, two days after its end
// included.
func (n Notice) Open(day unit.Date) bool {
	return !day.Before(n.From) && (n.To.IsZero() || day.Sub(n.To) <= afterNotice)
}

// Doubts gives one caution for each notice that touches the day: chloramine
// may jump when the supplier works, so the chlorine test is asked for behind
// each carbon and again during the session.
func Doubts(notices []Notice, day unit.Date) []unit.Caution {
	var list []unit.Caution
	for _, n := range notices {
		if n.Open(day) {
			list = append(list, unit.Caution{Code: "utility_notice",
				Text: fmt.Sprintf("Notice from %s: %s. Test total chlorine behind each carbon, and again during the session, as your unit asks.", n.From.Long(), n.Text)})
		}
	}
	return list
}
