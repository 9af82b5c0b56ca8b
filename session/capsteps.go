package session

import "strings"

// capSteps are the steps of a catheter that come before a cap comes off, with what they
// are called: breath over an open hub is infection, an open clamp is air or blood (hazard
// H-141).
var capSteps = []struct{ step, called string }{
	{MaskStep, "masks"},
	{ClampStep, "clamps shut before a cap comes off"},
}

// CapSteps gives those that a sheet has, by id.
func CapSteps(sheet RunSheet) (ids []string) {
	for _, one := range capSteps {
		if _, there := sheet.Step(one.step); there {
			ids = append(ids, one.step)
		}
	}
	return ids
}

// beforeCaps names those of the sheet that are not ticked by now. That the old lock was
// drawn out is asked for by its own entry. Who is not asked for cuff and old lock
// ([startLine.held]) is not asked for these either.
func (l startLine) beforeCaps(v *verdict) {
	if !l.catheterAsked() {
		return
	}
	done := map[string]bool{}
	Each(l.s, func(b *StepDone, e *Event) {
		if b.Phase == SetUp && !e.At.After(l.at) {
			done[b.Step] = b.State == StepIsDone
		}
	})
	var yet []string
	for _, one := range capSteps {
		for _, id := range l.h.Shut {
			if id == one.step && !done[id] {
				yet = append(yet, one.called)
			}
		}
	}
	if len(yet) > 0 {
		v.look(nil, "lock_steps", strings.Join(yet, ", "))
	}
}
