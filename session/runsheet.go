package session

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"unicode/utf8"

	"ebbline/unit"
)

// A RunSheet is the list of steps of setting up or of taking off, as data that
// the household can edit. It is kept by version, like a prescription.
type RunSheet struct {
	Phase  string `json:"phase"` // set_up or take_off
	Steps  []Step `json:"steps"`
	Marked string `json:"marked"` // whose steps these are: the program's own, or the unit's and since when
}

// A Step is one line of a run sheet.
type Step struct {
	ID      string       `json:"id"`    // short, lower case, stable: past times are kept under it
	Words   string       `json:"words"` // what to do
	Lane    string       `json:"lane"`  // machine or hands: who is busy meanwhile
	After   []string     `json:"after,omitempty"`
	Usual   unit.Minutes `json:"usual_min"`
	Tick    string       `json:"tick"`            // done, value or timer
	Entry   string       `json:"entry,omitempty"` // for value: the kind of entry that ticks it
	Caution string       `json:"caution,omitempty"`
	Stop    string       `json:"stop,omitempty"` // when not to go on
	Timer   unit.Minutes `json:"timer_min,omitempty"`
}

// The two sheets, the two lanes and the three ways to tick a step.
const (
	SetUp   = "set_up"
	TakeOff = "take_off"

	LaneMachine = "machine"
	LaneHands   = "hands"

	TickDone  = "done"
	TickValue = "value"
	TickTimer = "timer"
)

// Bounds of a run sheet: more steps or longer words do not fit a page that is
// read at arm's length.
const (
	maxSteps   = 60
	maxWords   = 160
	maxStepID  = 30
	maxUsual   = 240 // minutes
	maxMarked  = 120
	minStepsIn = 1
)

// A SheetError says what is wrong with a run sheet, and at which step.
type SheetError struct {
	Step  string // id of the step, or empty when the whole sheet is meant
	Words string // completes a sentence that begins with the step
}

func (e *SheetError) Error() string {
	if e.Step == "" {
		return "run sheet: " + e.Words
	}
	return "step " + e.Step + ": " + e.Words
}

func sheetError(step, format string, args ...any) error {
	return &SheetError{Step: step, Words: fmt.Sprintf(format, args...)}
}

// Validate reports whether the sheet can be run: a known phase, 1 to 60 steps,
// unique ids, words of at most 160 characters, known lanes and ticks, usual
// times of 0 to 240 minutes, no reference to a step that is not there and no
// two steps that wait for each other. The error is a [*SheetError].
func (r RunSheet) Validate() error {
	if r.Phase != SetUp && r.Phase != TakeOff {
		return sheetError("", "is for “%s”; needs set_up or take_off", r.Phase)
	}
	if n := len(r.Steps); n < minStepsIn || n > maxSteps {
		return sheetError("", "has %d steps; needs 1 to %d", n, maxSteps)
	}
	if utf8.RuneCountInString(r.Marked) > maxMarked {
		return sheetError("", "says whose it is in more than %d characters", maxMarked)
	}
	seen := map[string]bool{}
	for _, s := range r.Steps {
		if err := s.validate(); err != nil {
			return err
		}
		if seen[s.ID] {
			return sheetError(s.ID, "stands twice")
		}
		seen[s.ID] = true
	}
	for _, s := range r.Steps {
		for _, a := range s.After {
			if !seen[a] {
				return sheetError(s.ID, "waits for “%s”, which is not on the sheet", a)
			}
			if a == s.ID {
				return sheetError(s.ID, "waits for itself")
			}
		}
	}
	if ring := r.ring(); len(ring) > 0 {
		return sheetError(ring[0], "would wait for itself by way of %s", strings.Join(ring[1:], ", "))
	}
	return nil
}

func (s Step) validate() error {
	if !validID(s.ID) {
		return sheetError(s.ID, "needs an id of 1 to %d small letters, digits or _", maxStepID)
	}
	if strings.TrimSpace(s.Words) == "" {
		return sheetError(s.ID, "says nothing")
	}
	for _, text := range []string{s.Words, s.Caution, s.Stop} {
		if utf8.RuneCountInString(text) > maxWords {
			return sheetError(s.ID, "has more than %d characters in one line", maxWords)
		}
	}
	if s.Lane != LaneMachine && s.Lane != LaneHands {
		return sheetError(s.ID, "is in lane “%s”; needs machine or hands", s.Lane)
	}
	if s.Usual < 0 || s.Usual > maxUsual || s.Timer < 0 || s.Timer > maxUsual {
		return sheetError(s.ID, "takes 0 to %d minutes", maxUsual)
	}
	switch s.Tick {
	case TickDone:
	case TickValue:
		if s.Entry == "" {
			return sheetError(s.ID, "is ticked by a value but does not say which")
		}
	case TickTimer:
		if s.Timer == 0 {
			return sheetError(s.ID, "is ticked by a timer but has no minutes")
		}
	default:
		return sheetError(s.ID, "is ticked by “%s”; needs done, value or timer", s.Tick)
	}
	return nil
}

func validID(id string) bool {
	for _, c := range id {
		if (c < 'a' || c > 'z') && (c < '0' || c > '9') && c != '_' {
			return false
		}
	}
	return id != "" && len(id) <= maxStepID
}

// ring returns the steps of one circle of waiting, or none.
func (r RunSheet) ring() []string {
	after := map[string][]string{}
	for _, s := range r.Steps {
		after[s.ID] = s.After
	}
	const walking, done = 1, 2
	state := map[string]int{}
	var path, ring []string
	var walk func(id string) bool
	walk = func(id string) bool {
		switch state[id] {
		case done:
			return false
		case walking:
			ring = append(slices.Clone(path[slices.Index(path, id):]), id)
			return true
		}
		state[id] = walking
		path = append(path, id)
		if slices.ContainsFunc(after[id], walk) {
			return true
		}
		path = path[:len(path)-1]
		state[id] = done
		return false
	}
	for _, s := range r.Steps {
		if walk(s.ID) {
			return ring
		}
	}
	return nil
}

// Step returns the step with this id.
func (r RunSheet) Step(id string) (Step, bool) {
	if i := r.index(id); i >= 0 {
		return r.Steps[i], true
	}
	return Step{}, false
}

// IsGeneral reports whether a sheet is one of the program's own of the ordinary
// treatment, word for word, as a household keeps it that went back to them.
func (r RunSheet) IsGeneral() bool { return r.Same(DefaultSetUp()) || r.Same(DefaultTakeOff()) }

// Same reports whether two sheets hold the same steps, for the same part of a session,
// and whose they are.
func (r RunSheet) Same(o RunSheet) bool {
	return r.Phase == o.Phase && r.Marked == o.Marked && slices.EqualFunc(r.Steps, o.Steps, func(x, y Step) bool {
		after := slices.Equal(x.After, y.After)
		x.After, y.After = nil, nil
		return after && reflect.DeepEqual(x, y)
	})
}

func (r RunSheet) index(id string) int {
	return slices.IndexFunc(r.Steps, func(s Step) bool { return s.ID == id })
}

// clone copies the sheet down to the lists of what is waited for, so that an
// edit never reaches an earlier version.
func (r RunSheet) clone() RunSheet {
	steps := make([]Step, len(r.Steps))
	for i, s := range r.Steps {
		s.After = slices.Clone(s.After)
		steps[i] = s
	}
	r.Steps = steps
	return r
}
