package session

import (
	"time"

	"ebbline/unit"
)

// A Rest is what a treatment still takes off, and what it leaves.
type Rest struct {
	Left  unit.Volume // goal that is set, less what was read; never under 0
	Stays unit.Volume // above dry weight when that is off; 0 where the plan leaves nothing
	At    time.Time   // when what was removed was read; zero when nothing was
}

// leastStays is from when on it is said that something stays above dry weight: a goal is
// rounded to the machine's last digit. Ours.
const leastStays unit.Volume = 100

// RestOf works out both at now:
//
//	left  = goal − removed
//	stays = still to come off by the ebb − left
//
// with the goal as it was changed last, mL, ToCome of [EbbOf], and removed as it was
// read last. A limit that cut the goal, a goal that was lowered, and what was drunk or
// given beyond the plan all stay. Without a goal ok is false; without a plan, as by the
// unit's paper, nothing is said of what stays.
func RestOf(s *Session, now time.Time) (r Rest, ok bool) {
	goal, ok := Goal(s, now)
	if !ok {
		return Rest{}, false
	}
	r.Left = goal
	if run, running := Follow(s, now); running && run.Removed != nil {
		r.Left, r.At = max(goal-*run.Removed, 0), run.RemovedAt
	}
	if ebb, drawn := EbbOf(s, now); drawn {
		if stays := ebb.ToCome - r.Left; stays >= leastStays {
			r.Stays = stays
		}
	}
	return r, true
}
