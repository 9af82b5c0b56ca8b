package session

import (
	"fmt"
	"math"

	"ebbline/unit"
)

// A Target is how near a person's sessions end to the dry weight.
type Target struct {
	Sessions int     // that ended with a weight
	Mean     float64 // kg above dry weight; below 0 is under it
	Far      int     // sessions that ended more than 2 kg above
	Flagged  bool
	Words    string
}

// The rules of a target missed for weeks, over the last twelve sessions: a
// mean 1 kg or more away (Flythe JE et al., BMC Nephrol 2017;18:185, from
// memory), or more than 2 kg above in three of ten or more, which went with
// more deaths (hazard ratio 1.28: Flythe JE et al., Clin J Am Soc Nephrol
// 2015;10:808–16, from memory).
const (
	targetOver    = 12
	targetEnough  = 4
	targetMean    = 1.0 // kg
	targetFar     = 2000
	targetFarTens = 3 // tenths of the sessions
)

// TargetOf looks at the weights after the last twelve sessions that have one,
// each against the dry weight it was planned with. Fewer than four say nothing.
// It is something to ask the unit about; it changes no dry weight.
func TargetOf(sessions []*Session) Target {
	var t Target
	sum := unit.Mass(0)
	for i := len(sessions) - 1; i >= 0 && t.Sessions < targetOver; i-- {
		above, ok := endedAbove(sessions[i])
		if !ok {
			continue
		}
		t.Sessions++
		sum += above
		if above > targetFar {
			t.Far++
		}
	}
	if t.Sessions < targetEnough {
		t.Words = "Too few weights after to say."
		return t
	}
	t.Mean = sum.Float() / float64(t.Sessions)
	far := 10*t.Far >= targetFarTens*t.Sessions
	switch {
	case math.Abs(t.Mean) >= targetMean:
		side := "above"
		if t.Mean < 0 {
			side = "below"
		}
		t.Flagged = true
		t.Words = fmt.Sprintf("The last %d sessions ended %.1f\u00a0kg %s dry weight on average. Ask your unit.", t.Sessions, math.Abs(t.Mean), side)
	case far:
		t.Flagged = true
		t.Words = fmt.Sprintf("%d of the last %d sessions ended more than 2\u00a0kg above dry weight. Ask your unit.", t.Far, t.Sessions)
	default:
		t.Words = "The last sessions ended near dry weight."
	}
	return t
}

// endedAbove gives how far above the dry weight a session ended.
func endedAbove(s *Session) (unit.Mass, bool) {
	out, e := Last[WeighOut](s)
	if out == nil || s.Abandoned() || e.Missing["weight_kg"] != "" {
		return 0, false
	}
	dry := unit.Mass(0)
	if plan, _ := Last[AgreedPlan](s); plan != nil {
		dry = plan.DryWeight
	} else if s.Rx != nil {
		dry = s.Rx.DryWeight
	}
	return out.Weight - out.Clothing - dry, dry > 0
}
