package access

import (
	"fmt"

	"ebbline/unit"
)

// A Holding is how long each hole was pressed after a session, in minutes.
type Holding struct {
	On       unit.Date    `json:"on"`
	Arterial unit.Minutes `json:"arterial_min"`
	Venous   unit.Minutes `json:"venous_min"`
}

// A BleedingRule is from when on long bleeding is told to the unit.
type BleedingRule struct {
	Over   unit.Minutes // a hole that bleeds longer than this is long
	Times  int          // so many sessions
	Of     int          // of the last so many
	Setter string
}

// DefaultBleedingRule is more than 20 minutes in 3 sessions (common practice;
// some say 30), of the last 6 (our own choice).
func DefaultBleedingRule() BleedingRule {
	return BleedingRule{Over: 20, Times: 3, Of: 6, Setter: "program default"}
}

// Remarks looks at the last sessions, given in order, and says when a hole
// bled long in too many of them. Long bleeding comes from a narrow outflow or
// from too much heparin; which, the unit finds out.
func (r BleedingRule) Remarks(sessions []Holding) []unit.Caution {
	long := 0
	last := sessions[max(0, len(sessions)-r.Of):]
	for _, h := range last {
		if max(h.Arterial, h.Venous) > r.Over {
			long++
		}
	}
	if r.Times <= 0 || long < r.Times {
		return nil
	}
	return []unit.Caution{{Code: "bleeding_long",
		Text: fmt.Sprintf("A hole bled longer than %s after %d of the last %d sessions (%s): tell your unit, with the heparin that was given.", r.Over.Text(), long, len(last), r.Setter)}}
}
