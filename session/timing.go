package session

import (
	"slices"
	"time"
)

// A StepState is one step of a run sheet as it stands now.
type StepState struct {
	Step
	State    string    // waiting, ready, running, done or not_done
	Began    time.Time // when it started, as far as that is known
	Finished time.Time
	Due      time.Time // of a timer that runs, or of a machine step by its usual time
	Waits    []string  // ids of the steps it still waits for
}

// What a step can be.
const (
	StepWaiting = "waiting"
	StepReady   = "ready"
	StepRunning = "running"
	StepIsDone  = "done"
	StepNotDone = "not_done"
)

// Over reports whether nothing is left to do of the step: it was done, or said to
// be left out.
func (st StepState) Over() bool { return EndsStep(st.State) }

// EndsStep reports whether a tick of this state ends its step.
func EndsStep(state string) bool { return state == StepIsDone || state == StepNotDone }

// A SheetState is a run sheet under way.
type SheetState struct {
	Steps       []StepState // in the order of the sheet
	Done, Total int
}

// Lane gives the steps of one lane that run or can be begun now, those first
// on which the most waits.
func (p SheetState) Lane(lane string) []StepState {
	tail := tails(p.sheet(), func(s Step) float64 { return s.Usual.Float() })
	var out []StepState
	for i, s := range p.Steps {
		if s.Lane == lane && (s.State == StepReady || s.State == StepRunning) {
			s.Usual = p.Steps[i].Usual
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b StepState) int {
		switch x, y := tail[a.ID], tail[b.ID]; {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return out
}

// Timers gives the timers that run, the next one due first. The instants come
// from entries alone, so a page that was closed shows the same.
func (p SheetState) Timers() []StepState {
	var out []StepState
	for _, s := range p.Steps {
		if s.State == StepRunning && s.Tick == TickTimer {
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b StepState) int { return a.Due.Compare(b.Due) })
	return out
}

func (p SheetState) sheet() RunSheet {
	r := RunSheet{}
	for _, s := range p.Steps {
		r.Steps = append(r.Steps, s.Step)
	}
	return r
}

// Progress gives how far a run sheet has come at an instant.
//
// A step ticked by a value is done when an entry of its kind is there, one
// ticked by hand when it was ticked; a later "undone" takes a tick back. A
// timer is done when its minutes have run. A read-back counts only while it agrees
// with the plan agreed last, and was typed after it. A step of the machine that
// nobody started is taken to begin when the last step it waited for was done.
//
// The clock does nothing while a step that this one waits for is open: a timer
// that was started too early, or before which a step was opened again, waits,
// and its minutes run from when the last of those steps was done. Entries after
// now do not count.
//
// An end of treatment without blood given back leaves its step out. A self-test that
// failed and chlorine above the limit tick no step. The prime waits
// for self-test, chlorine and bath wherever they stand on the sheet.
//
// A disinfection that the session wrote while it was set up opens again what it
// undoes.
func Progress(sheet RunSheet, s *Session, now time.Time) SheetState {
	return ProgressWith(sheet, s, History{}, now)
}

// ProgressWith is [Progress] with what the round wrote of machine and water
// treatment in the meantime.
func ProgressWith(sheet RunSheet, s *Session, h History, now time.Time) SheetState {
	p := SheetState{Total: len(sheet.Steps)}
	var redo redoing
	own := map[string]int{} // of what the prime waits for, how much is the sheet's own
	if sheet.Phase == SetUp {
		redo, sheet, own[PrimeStep] = redone(s, h, now), sheet.primesLast(s.Machine), len(sheet.waits(PrimeStep))
	}
	log := s
	if sheet.Phase == SetUp {
		log = lineAt(s, h, now).ofBatch().s // what was tested of the batch ticks its steps
	}
	marks := marksOf(sheet, log, redo, now)
	state := map[string]*StepState{}
	p.Steps = make([]StepState, len(sheet.Steps))
	for _, i := range inOrder(sheet) {
		step := sheet.Steps[i]
		st := &p.Steps[i]
		*st = StepState{Step: step}
		state[step.ID] = st
		m := marks[step.ID]
		free := time.Time{} // when the last of what it waits for was done
		put := time.Time{}  // and of what the sheet itself has before the prime
		for k, a := range step.After {
			b := state[a]
			if b == nil || !b.Over() {
				st.Waits = append(st.Waits, a)
				continue
			}
			if b.Finished.After(free) {
				free = b.Finished
			}
			if k < own[step.ID] && b.Finished.After(put) {
				put = b.Finished
			}
		}
		st.Began = m.started
		over := EndsStep(m.state)
		switch {
		case over:
		case len(st.Waits) > 0:
			st.Began = time.Time{}
		case st.Began.IsZero() && step.Lane == LaneMachine && len(step.After) > 0, !st.Began.IsZero() && st.Began.Before(free):
			st.Began = free
			if c := redo.of(step.Entry); c.At.After(free) {
				st.Began = c.At
			} else if step.ID == PrimeStep && m.started.IsZero() && redo.any.At.After(put) {
				st.Began = time.Time{} // nobody started it again
			}
		}
		if over {
			st.State, st.Finished = m.state, m.at
		} else {
			st.stand(now)
		}
		if st.Over() {
			p.Done++
			st.Waits = nil
		}
	}
	return p
}

// stand works out how a step stands that no entry ended, from when it began and what
// it waits for.
func (st *StepState) stand(now time.Time) {
	switch {
	case !st.Began.IsZero() && st.Tick == TickTimer:
		st.State, st.Due = StepRunning, st.Began.Add(lasting(st.Timer))
		if !st.Due.After(now) {
			st.State, st.Finished = StepIsDone, st.Due
		}
	case !st.Began.IsZero():
		st.State, st.Due = StepRunning, st.Began.Add(lasting(st.Usual))
	case len(st.Waits) == 0:
		st.State = StepReady
	default:
		st.State = StepWaiting
	}
}

// A mark is what the entries say about one step.
type mark struct {
	started time.Time
	state   string
	at      time.Time
}

// undoes reports whether an entry was undone by what was done after it.
func (r redoing) undoes(sheet RunSheet, e *Event) bool {
	tick, is := e.Body.(*StepDone)
	if e.added {
		return false
	}
	if !is {
		return r.of(e.Kind).follows(e)
	}
	step, _ := sheet.Step(tick.Step)
	switch {
	case tick.Phase != SetUp:
		return false
	case step.ID == PrimeStep:
		return r.any.follows(e)
	}
	return r.of(step.Entry).follows(e)
}

// marksOf reads the entries up to an instant into one mark for each step; what a
// disinfection undid is left out.
func marksOf(sheet RunSheet, s *Session, redo redoing, now time.Time) map[string]mark {
	marks := map[string]mark{}
	byKind := map[string][]string{}
	for _, step := range sheet.Steps {
		if step.Tick == TickValue {
			byKind[step.Entry] = append(byKind[step.Entry], step.ID)
		}
	}
	ended, over := s.Ended()
	var plan *AgreedPlan
	var water []sample
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil || e.At.After(now) || redo.undoes(sheet, e) {
			continue
		}
		tick, ok := e.Body.(*StepDone)
		if !ok {
			kind := e.Kind
			switch b := e.Body.(type) {
			case *AgreedPlan:
				plan = b
				reopen(marks, byKind["read_back"]) // what was read back was another plan
			case *PaperPlan:
				plan, kind = b.asPlan(s), "plan" // it stands for it
				reopen(marks, byKind["read_back"])
			}
			if b, is := e.Body.(*ReadBack); is && plan != nil && !readsAs(*plan, s.Machine, *b) {
				reopen(marks, byKind[e.Kind])
				continue
			}
			failed, state := false, StepIsDone
			switch b := e.Body.(type) {
			case *CameOff:
				if !b.GivesBack() {
					state = StepNotDone // the blood stayed out
				}
			case *SelfTest:
				failed = !b.Passed
			case *LockDrawn:
				failed = b.Arterial == CouldNot || b.Venous == CouldNot
			case *Chlorine:
				high, _ := ChlorineOver(s, b, e)
				water = append(water, sample{b: b, e: e, over: high, good: !high})
				failed = waterWanting(water)
			}
			if failed {
				reopen(marks, byKind[e.Kind])
				continue
			}
			if sheet.Phase == TakeOff && e.Kind == "catheter_lock" && (!over || e.At.Before(ended)) {
				continue // that was read before the start
			}
			for _, id := range byKind[kind] {
				m := marks[id]
				if m.state == "" || e.Kind == "came_off" { // the first entry ends the step; a repeat does not move it
					m.state, m.at = state, e.At
					marks[id] = m
				}
			}
			continue
		}
		if tick.Phase != sheet.Phase {
			continue
		}
		step, known := sheet.Step(tick.Step)
		if !known {
			continue
		}
		m := marks[tick.Step].with(tick.State, step, e.At)
		if tick.State == "undone" && sheet.Phase == SetUp && step.ID == LinesStep {
			m = mark{}
			sheet.reopenAfter(marks, step.ID) // the lines are off: what was done with them on is done again
		}
		marks[tick.Step] = m
	}
	return marks
}

// with is the mark after one more tick of its step by hand. A value is not ticked,
// nor taken back, without the value; a second tick moves nothing.
func (m mark) with(state string, step Step, at time.Time) mark {
	switch state {
	case "started":
		if m.state == "" && m.started.IsZero() {
			m.started = at
		}
	case "done":
		if step.Tick != TickValue && m.state != StepIsDone {
			m.state, m.at = StepIsDone, at
		}
	case "not_done":
		m.state, m.at = StepNotDone, at
	case "undone":
		if step.Tick != TickValue || m.state == StepNotDone {
			return mark{}
		}
	}
	return m
}

// reopenAfter takes back what was ticked, or started, of all that waits for a step,
// directly or through others. What a value ticked stays.
func (r RunSheet) reopenAfter(marks map[string]mark, id string) {
	seen := map[string]bool{id: true}
	for todo := []string{id}; len(todo) > 0; todo = todo[1:] {
		for _, s := range r.Steps {
			if seen[s.ID] || !slices.Contains(s.After, todo[0]) {
				continue
			}
			seen[s.ID], todo = true, append(todo, s.ID)
			if s.Tick != TickValue && marks[s.ID].state != StepNotDone {
				delete(marks, s.ID)
			}
		}
	}
}

// reopen takes back what a value ticked; a step that was said to be left out
// stays so.
func reopen(marks map[string]mark, steps []string) {
	for _, id := range steps {
		if m := marks[id]; m.state == StepIsDone {
			marks[id] = mark{started: m.started}
		}
	}
}

// inOrder gives the places of the steps so that each comes after what it waits
// for; steps of a ring, which Validate refuses, come last in their own order.
func inOrder(sheet RunSheet) []int {
	placed := map[string]bool{}
	var order []int
	used := make([]bool, len(sheet.Steps))
	for len(order) < len(sheet.Steps) {
		grew := false
		for i, s := range sheet.Steps {
			if used[i] {
				continue
			}
			if slices.ContainsFunc(s.After, func(a string) bool { return !placed[a] && sheet.index(a) >= 0 }) {
				continue
			}
			used[i], placed[s.ID], grew = true, true, true
			order = append(order, i)
		}
		if !grew {
			for i := range sheet.Steps {
				if !used[i] {
					used[i] = true
					order = append(order, i)
				}
			}
		}
	}
	return order
}

// tails gives for each step the length of the longest chain that begins with
// it: what is late by as much as the step is late.
func tails(sheet RunSheet, takes func(Step) float64) map[string]float64 {
	order := inOrder(sheet)
	tail := map[string]float64{}
	slices.Reverse(order)
	for _, i := range order {
		s := sheet.Steps[i]
		tail[s.ID] += takes(s) // what waits for it has been added below
		for _, a := range s.After {
			before, ok := sheet.Step(a)
			if !ok {
				continue
			}
			// tail[a] holds the longest follower until a itself is reached.
			tail[before.ID] = max(tail[before.ID], tail[s.ID])
		}
	}
	return tail
}
