package session

import (
	"slices"
	"strings"
	"time"

	"ebbline/unit"
)

// asleepAt is the hour by the clock on the wall that makes a treatment a night:
// hardly anybody who is connected then means to be awake. Ours.
const asleepAt = 2

// setUpLongest is how long nobody sets up: what is judged later than this after
// a session was opened is judged afterwards, as of its opening. Ours.
const setUpLongest = 6 * time.Hour

// IsNight reports whether a session is slept through: whether its treatment, as
// it is planned, is under way when the clock on the wall shows 02:00, where the
// session was opened. It begins where it began; until then, at the moment given.
func IsNight(s *Session, at time.Time) bool {
	return lineAt(s, History{}, at).isNight()
}

// isNight is [IsNight] at the start line. The length is that agreed, else that
// prescribed; without one nothing is known of the night.
func (l startLine) isNight() bool {
	_, opened := l.s.Opened()
	zone, from := opened.Location(), l.at
	if _, began := l.s.Began(); !began && from.Sub(opened) > setUpLongest {
		from = opened // typed in afterwards
	}
	from = from.In(zone)
	end := from.Add(time.Duration(l.length()) * time.Minute)
	for day := unit.DateOf(from); !unit.DateOf(end.In(zone)).Before(day); day = day.Add(1) {
		for _, two := range shows(day, asleepAt, zone) {
			if !two.Before(from) && two.Before(end) {
				return true
			}
		}
	}
	return false
}

// shows gives the moments of a day at which a clock in a zone shows a full hour,
// or goes past it without showing it: two where the hour comes twice.
func shows(day unit.Date, hour int, zone *time.Location) []time.Time {
	const quarter = 15 * time.Minute // clocks change by whole quarters of an hour
	var found []time.Time
	wanted, before := hour*60, -1
	// The first hours of the day may be missing, or come twice.
	from := day.Time(zone).Add(-2 * time.Hour)
	for at := from; at.Before(from.Add(time.Duration(hour+6) * time.Hour)); at = at.Add(quarter) {
		if unit.DateOf(at) != day {
			continue
		}
		face := at.Hour()*60 + at.Minute()
		if face == wanted || before < wanted && face > wanted {
			found = append(found, at)
		}
		before = face
	}
	return found
}

// The steps of a night, by their ids.
const (
	NightSensors = "night_sensors"
	NightTape    = "night_tape"
	NightArm     = "night_arm"
	NightAlarm   = "night_alarm"
	NightHouse   = "night_house" // its note says who
)

// A nightStep is a step of a night, with what the start line calls it.
type nightStep struct {
	Step
	short, catheter string // the second where it is another thing on a catheter
}

func (n nightStep) called(rx *Prescription) string {
	if n.catheter != "" && rx.ByCatheter() {
		return n.catheter
	}
	return n.short
}

// nightTable is what a night asks for beside the steps of the day (common
// practice; sensors at the floor and the needles, from memory).
var nightTable = []nightStep{
	{Step{ID: NightSensors, Words: "Leak sensors at the {needles|connections} and on the floor: on, and tried with a drop of water", Lane: LaneHands, Usual: 2, Tick: TickDone,
		Caution: "A sensor that was not heard today is no sensor"}, "sensors tried", ""},
	{Step{ID: NightAlarm, Words: "Alarms of the machine and the sensors heard from the bed", Lane: LaneHands, Usual: 1, Tick: TickDone}, "alarm heard", ""},
	{Step{ID: NightHouse, Words: "Who else is in the house? Stop button and clamps shown to them", Lane: LaneHands, Usual: 1, Tick: TickDone}, "others in house", ""},
	{Step{ID: NightArm, Words: "Arm outside the blanket, with a light on it", Lane: LaneHands, Usual: 1, Tick: TickDone}, "arm in sight", ""},
	{Step{ID: NightTape, Words: "{Needles: tape doubled, lines looped. Catheter: connections locked|Connections locked, lines looped}", Lane: LaneHands, Usual: 1, Tick: TickDone}, "tape doubled", "catheter locked"},
}

// IsNightStep reports whether a step belongs to nights.
func IsNightStep(id string) bool {
	return slices.ContainsFunc(nightSteps, func(n nightStep) bool { return n.ID == id })
}

// WithNight adds to a sheet of setting up the steps of a night, before the
// needles; doubling the tape comes after them, before the lines are joined. A
// household's own sheet is given them too, and stays as it is kept. Where it has
// a step with one of their ids, that one stands.
func WithNight(sheet RunSheet) RunSheet {
	out := sheet.clone()
	for _, n := range nightSteps {
		if out.index(n.ID) >= 0 {
			continue
		}
		gate, after := first(out.index("start_line"), out.ticked("needling"), out.ticked("connected")), out.ticked("fitness")
		if n.ID == NightTape {
			gate, after = out.ticked("connected"), out.ticked("needling")
		}
		step := n.Step
		if after >= 0 {
			step.After = []string{out.Steps[after].ID}
		}
		if gate < 0 {
			out.Steps = append(out.Steps, step)
			continue
		}
		out.Steps[gate].After = append(out.Steps[gate].After, step.ID)
		out.Steps = slices.Insert(out.Steps, gate, step)
	}
	if len(out.ring()) == 0 {
		return out
	}
	// On a sheet of another order than any we know they wait for nothing, and
	// nothing for them.
	out = sheet.clone()
	for _, n := range nightSteps {
		if out.index(n.ID) < 0 {
			out.Steps = append(out.Steps, n.Step)
		}
	}
	return out
}

// first gives the first of some places that is one.
func first(places ...int) int {
	for _, p := range places {
		if p >= 0 {
			return p
		}
	}
	return -1
}

// ticked gives the place of the step that an entry of a kind ticks, or -1.
func (r RunSheet) ticked(kind string) int {
	return slices.IndexFunc(r.Steps, func(s Step) bool { return s.Tick == TickValue && s.Entry == kind })
}

// night is what a treatment that is slept through asks for beside the rest.
func (l startLine) night(v *verdict) {
	if !l.isNight() {
		v.skip = true
		return
	}
	done := map[string]*Event{}
	who := ""
	Each(l.s, func(b *StepDone, e *Event) {
		if b.Phase != SetUp || e.At.After(l.at) || !IsNightStep(b.Step) {
			return
		}
		delete(done, b.Step)
		if b.State == StepIsDone {
			done[b.Step] = e
		}
		if b.Step == NightHouse {
			who = b.Note
		}
	})
	var yet, there []string
	for _, n := range nightSteps {
		switch {
		case done[n.ID] == nil:
			yet = append(yet, n.called(l.rx))
		case n.ID != NightHouse:
			there = append(there, n.called(l.rx))
		}
	}
	if len(yet) > 0 {
		v.look(nil, "night_undone", strings.Join(yet, ", "))
	}
	if done[NightHouse] != nil && strings.TrimSpace(who) == "" {
		v.look(done[NightHouse], "night_nobody")
	}
	v.ready("night_ready", capital(strings.Join(there, ", ")), sentence(who))
}
