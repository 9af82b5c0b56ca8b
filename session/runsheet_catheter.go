package session

import "slices"

// Steps of a catheter, by their ids. [MaskStep] to [JoinedStep] belong to setting up,
// the others to coming off; [ClampStep] belongs to both.
const (
	MaskStep    = "masks"
	ClampStep   = "clamps"
	CapsOffStep = "caps_off"
	DrawnStep   = "lock_drawn"
	JoinedStep  = "joined"

	LinesOffStep = "lines_off"
	LumenStep    = "lumens_flushed"
	LockStep     = "lock"
	CapsStep     = "new_caps"
	ShutStep     = "clamps_shut"
)

// DefaultSheet gives the program's own steps for one part of a session, as the access
// that was prescribed and the machine ask for them. A household's own sheet takes its
// place whole.
func DefaultSheet(phase string, rx *Prescription, m Machine) RunSheet {
	sheet := DefaultSetUp()
	if phase == TakeOff {
		sheet = DefaultTakeOff()
	}
	for _, change := range sheetChanges {
		sheet = change(sheet, rx, m)
	}
	return sheet
}

// sheetChanges are what treatments that are not the ordinary one change of the
// program's own steps, in this order.
var sheetChanges = []func(RunSheet, *Prescription, Machine) RunSheet{catheterSteps}

// catheterSteps puts the steps of a catheter in the place of those of needles.
//
// A cap comes off only while both clamps are shut, a clamp is open only with a syringe
// or a line on the lumen, and nothing is pushed in before the old lock was drawn out:
// an open lumen draws in air or loses blood, and a lock that is pushed in reaches the
// blood (hazard H-141; common practice, and the sources in docs/hazards.md). The start
// line is looked at once the old lock is out, while syringes close the lumens.
func catheterSteps(sheet RunSheet, rx *Prescription, _ Machine) RunSheet {
	if !rx.ByCatheter() {
		return sheet
	}
	if sheet.Phase == TakeOff {
		return catheterOff(sheet)
	}
	return catheterOn(sheet)
}

func catheterOn(sheet RunSheet) RunSheet {
	out := sheet.without("arm", "needles")
	out.change("access", func(s *Step) {
		s.Words = "Masks on, everybody in the room. Look at the exit site, the cuff and the length"
		s.Stop = "Redness, pus, the cuff showing, longer than before: ring the unit before you start"
	})
	out.change("flushes", func(s *Step) {
		s.Words = "Draw up flushes; lay out syringes, antiseptic, masks and new caps"
	})
	out.change("start_line", func(s *Step) {
		s.After = append(s.After, "lock_read", DrawnStep)
		s.Caution = "Both clamps stay shut, a syringe on each lumen"
	})
	out.change("connect", func(s *Step) {
		s.Words, s.After = "Bloods if due; pump on, connections in sight", []string{JoinedStep}
	})
	out.insert("start_line",
		Step{ID: "lock_read", Words: "The new lock: type name and strength from the vial, and the volume on each lumen", Lane: LaneHands, After: []string{"hands_clean"}, Usual: 2, Tick: TickValue, Entry: "catheter_lock",
			Stop: "Not what is ordered: do not use it, ring the unit"},
		Step{ID: MaskStep, Words: "Masks still on, everybody in the room; wash hands, gloves", Lane: LaneHands,
			After: []string{"access", "chlorine", "residue", "air", "conductivity", "dial_in", "heparin", "flushes"}, Usual: 2, Tick: TickDone,
			Caution: "Window and door shut; nobody talks over the open catheter"},
		Step{ID: ClampStep, Words: "Both clamps shut, before a cap comes off", Lane: LaneHands, After: []string{MaskStep}, Usual: 1, Tick: TickDone,
			Stop: "Never open a clamp without a syringe or a line on that lumen"},
		Step{ID: CapsOffStep, Words: "One lumen at a time: cap off, antiseptic on the hub, let it dry, syringe on", Lane: LaneHands, After: []string{ClampStep}, Usual: 3, Tick: TickDone,
			Caution: "Drying is part of the disinfection; a hub touches nothing"},
		Step{ID: DrawnStep, Words: "Draw the old lock out of each lumen, clamp shut again; look for clots", Lane: LaneHands, After: []string{CapsOffStep}, Usual: 2, Tick: TickValue, Entry: "lock_drawn",
			Stop: "Could not: push nothing in, ring the unit"},
	)
	out.insert("connect",
		Step{ID: JoinedStep, Words: "Lines on, each connection screwed tight and in sight; only then clamps open", Lane: LaneHands, After: []string{"start_line"}, Usual: 2, Tick: TickDone,
			Caution: "Not under a blanket; lines fixed so that a pull does not reach the exit site"},
	)
	return out
}

func catheterOff(sheet RunSheet) RunSheet {
	out := sheet.without("hold", "sharps")
	out.change("lay_out", func(s *Step) {
		s.Words = "Masks on, everybody in the room; wash hands; flushes, lock, antiseptic, new caps within reach"
	})
	out.insert("weigh_after",
		Step{ID: ClampStep, Words: "Pump off, both clamps shut, before a line comes off", Lane: LaneHands, After: []string{"pressure"}, Usual: 1, Tick: TickDone,
			Stop: "Never open a clamp without a syringe or a line on that lumen"},
		Step{ID: LinesOffStep, Words: "One lumen at a time: line off, antiseptic on the hub, let it dry, syringe on", Lane: LaneHands, After: []string{ClampStep}, Usual: 3, Tick: TickDone,
			Caution: "Drying is part of the disinfection; a hub touches nothing"},
		Step{ID: LumenStep, Words: "Flush each lumen with saline", Lane: LaneHands, After: []string{LinesOffStep}, Usual: 2, Tick: TickDone,
			Stop: "It does not go in: do not push harder, ring the unit"},
		Step{ID: LockStep, Words: "Lock each lumen: type name and strength from the vial, and that lumen's own volume", Lane: LaneHands, After: []string{LumenStep}, Usual: 3, Tick: TickValue, Entry: "catheter_lock",
			Stop: "Not what is ordered: do not use it, ring the unit"},
		Step{ID: CapsStep, Words: "Clamps shut, a new cap on each lumen, screwed tight", Lane: LaneHands, After: []string{LockStep}, Usual: 1, Tick: TickDone},
		Step{ID: ShutStep, Words: "Look at both clamps: shut", Lane: LaneHands, After: []string{CapsStep}, Usual: 1, Tick: TickDone,
			Caution: "An open lumen draws in air or loses blood"},
	)
	for _, id := range []string{"weigh_after", "circuit"} {
		out.change(id, func(s *Step) { s.After = []string{ShutStep} })
	}
	return out
}

// change changes one step in place; without it nothing happens.
func (r *RunSheet) change(id string, to func(*Step)) {
	if i := r.index(id); i >= 0 {
		to(&r.Steps[i])
	}
}

// insert puts steps before one.
func (r *RunSheet) insert(before string, steps ...Step) {
	if i := r.index(before); i >= 0 {
		r.Steps = slices.Insert(r.Steps, i, steps...)
	}
}
