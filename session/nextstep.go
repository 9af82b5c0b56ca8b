package session

// Next gives the step of a lane that is next: the first of [SheetState.Lane] that nothing
// went on without. A step that was never ticked, though one that waits for it is over, is
// behind the person; it stays open on the sheet, and is not what comes next.
func (p SheetState) Next(lane string) (StepState, bool) {
	behind := map[string]bool{}
	for again := true; again; {
		again = false
		for _, st := range p.Steps {
			if !behind[st.ID] && !st.Over() {
				continue
			}
			for _, a := range st.After {
				if !behind[a] {
					behind[a], again = true, true
				}
			}
		}
	}
	for _, st := range p.Lane(lane) {
		if !behind[st.ID] {
			return st, true
		}
	}
	return StepState{}, false
}
