package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// opens a session in a zone by its clock, for a length in minutes.
func nightSession(t *testing.T, zoneName, opened string, length unit.Minutes) (*Session, time.Time) {
	t.Helper()
	at, err := time.ParseInLocation("2006-01-02 15:04", opened, zone(t, zoneName))
	if err != nil {
		t.Fatal(err)
	}
	s := newSession(t)
	s.Rx.Length = &length
	put(s, at, &Opened{Place: "home", Source: "live", Confirmed: true})
	return s, at
}

// A night is a treatment under way when the clock on the wall shows 02:00; on the
// nights of clock changes too, when it shows it twice or not at all.
func TestIsNight(t *testing.T) {
	for _, tt := range []struct {
		zone, opened string
		after        time.Duration // of the moment of judging
		length       unit.Minutes
		want         bool
	}{
		{"Europe/Ljubljana", "2026-06-11 16:20", 0, 250, false},
		{"Europe/Ljubljana", "2026-06-11 22:30", 0, 480, true},
		{"Europe/Ljubljana", "2026-06-11 21:00", 0, 300, false}, // over at 02:00 sharp
		{"Europe/Ljubljana", "2026-06-11 21:00", 0, 301, true},
		{"Europe/Ljubljana", "2026-06-11 21:00", mins(1), 300, true}, // begun a minute later
		{"Europe/Ljubljana", "2026-06-12 02:00", 0, 30, true},
		{"Europe/Ljubljana", "2026-06-12 02:01", 0, 480, false},
		{"Europe/Ljubljana", "2026-06-11 22:30", 9 * time.Hour, 480, true},   // typed in the next morning: as of its opening
		{"Europe/Ljubljana", "2026-06-11 22:30", 72 * time.Hour, 480, true},  // or days later
		{"Europe/Ljubljana", "2026-06-11 16:20", 10 * time.Hour, 250, false}, // at 02:20, typed in afterwards
		{"Europe/Ljubljana", "2026-03-28 22:30", 0, 240, true},               // 02:00 is skipped: 01:59, 03:00
		{"Europe/Ljubljana", "2026-03-28 22:30", 0, 210, false},              // over at the change
		{"Europe/Ljubljana", "2026-03-29 03:00", 0, 60, true},                // begun at it
		{"Europe/Ljubljana", "2026-10-24 22:30", 0, 210, false},              // over at the first 02:00
		{"Europe/Ljubljana", "2026-10-24 22:30", 0, 211, true},               // the first
		{"Europe/London", "2026-10-24 22:30", 0, 271, true},                  // the hour from 01:00 comes twice
		{"Europe/London", "2026-10-24 22:30", 0, 270, false},                 //
		{"America/New_York", "2026-03-07 22:30", 0, 211, true},               // 02:00 is skipped
		{"America/New_York", "2026-11-01 01:15", 0, 46, false},               // 01:15 comes twice; from the first, 105 min
		{"America/New_York", "2026-11-01 01:15", 0, 106, true},               //
		{"Pacific/Auckland", "2026-09-26 22:30", 0, 211, true},               // 02:00 is skipped
		{"Asia/Kathmandu", "2026-06-11 22:30", 0, 211, true},                 //
		{"America/Havana", "2026-03-07 21:30", 0, 211, true},                 // midnight is skipped: 4 h 30 min by the clock
		{"America/Havana", "2026-03-07 21:30", 0, 210, false},                //
		{"Europe/Ljubljana", "2026-06-11 22:30", 0, 0, false},                // no length: nothing is known
	} {
		s, at := nightSession(t, tt.zone, tt.opened, tt.length)
		if tt.length == 0 {
			s.Rx.Length = nil
		}
		if got := IsNight(s, at.Add(tt.after).UTC()); got != tt.want {
			t.Errorf("%s, opened %s, judged %v later, %d min: night %v, want %v", tt.zone, tt.opened, tt.after, tt.length, got, tt.want)
		}
	}
	// From the moment the lines were joined it is that; the agreed length counts.
	s, at := nightSession(t, "Europe/Ljubljana", "2026-06-11 20:00", 300)
	if put(s, at.Add(mins(61)), &Connected{}); !IsNight(s, at.Add(mins(300))) || !IsNight(s, at.Add(200*time.Hour)) {
		t.Error("joined at 21:01 for five hours is no night")
	}
	if put(s, at.Add(mins(30)), &AgreedPlan{Length: 240}); IsNight(s, at.Add(mins(300))) {
		t.Error("a plan of four hours is a night")
	}
	// Of an hour that comes twice the second counts too.
	s, _ = nightSession(t, "Europe/Ljubljana", "2026-10-24 21:00", 60)
	first := time.Date(2026, 10, 25, 0, 30, 0, 0, time.UTC) // 02:30, an hour before it is 02:30 again
	if put(s, first, &Connected{}); !IsNight(s, first.Add(time.Hour)) {
		t.Error("joined at the first 02:30 it goes past no 02:00")
	}
	if IsNight(&Session{}, time.Time{}) {
		t.Error("nothing is a night")
	}
}

// By day the check is left out; at night it names each step that is not done.
func TestNightSteps(t *testing.T) {
	if slices.ContainsFunc(StartLine(ready(t), History{}, evening.Add(mins(40))), func(c Check) bool { return c.ID == CheckNight }) {
		t.Error("there is a night by day")
	}
	all := []string{NightSensors, NightAlarm, NightHouse, NightArm, NightTape}
	at := func(access string, steps ...string) Check {
		s := ready(t)
		s.Rx.Access = access
		edit(s, func(b *AgreedPlan) { b.Length = 600 }) // from 17:40 to 03:40
		for _, step := range steps {
			state := "done"
			if step[0] == '-' {
				step, state = step[1:], "undone"
			}
			if step[0] == '/' {
				step, state = step[1:], "not_done"
			}
			id, note, _ := strings.Cut(step, " ")
			put(s, evening.Add(mins(39)), &StepDone{Phase: SetUp, Step: id, State: state, Note: note})
		}
		return check(t, StartLine(s, History{}, evening.Add(mins(40))), CheckNight)
	}
	for _, tt := range []struct {
		name  string
		c     Check
		want  CheckState
		words string
	}{
		{"nothing", at("fistula"), Look, "Not yet: sensors tried, alarm heard, others in house, arm in sight, tape doubled."},
		{"nothing, catheter", at("catheter"), Look, "Not yet: sensors tried, alarm heard, others in house, arm in sight, catheter locked."},
		{"all", at("fistula", append(all, NightHouse+" Jaan, asleep")...), Ready, "Sensors tried, alarm heard, arm in sight, tape doubled. In the house: Jaan, asleep."},
		{"nobody said", at("fistula", all...), Look, "Not written who else is in the house. Write it."},
		{"one taken back", at("fistula", append(all, NightHouse+" nobody", "-"+NightTape)...), Look, "Not yet: tape doubled."},
		{"one left out", at("fistula", append(all, NightHouse+" nobody", "/"+NightAlarm)...), Look, "Not yet: alarm heard."},
	} {
		if tt.c.State != tt.want || tt.c.Words != tt.words {
			t.Errorf("%s: %s %q, want %s %q", tt.name, tt.c.State, tt.c.Words, tt.want, tt.words)
		}
		if !tt.c.Passed() {
			t.Errorf("%s holds up", tt.name)
		}
	}
	for _, id := range all {
		var rest []string
		for _, other := range all {
			if other != id {
				rest = append(rest, other)
			}
		}
		if c := at("fistula", append(rest, NightHouse+" nobody")...); id != NightHouse && (c.State != Look || strings.Count(c.Words, ",") != 0) {
			t.Errorf("without %s: %s %q", id, c.State, c.Words)
		}
	}
	// A step of coming off by the same name is another.
	s := ready(t)
	edit(s, func(b *AgreedPlan) { b.Length = 600 })
	put(s, evening, &StepDone{Phase: TakeOff, Step: NightAlarm, State: "done"})
	if c := check(t, StartLine(s, History{}, evening.Add(mins(40))), CheckNight); !strings.Contains(c.Words, "alarm heard") {
		t.Errorf("ticked by the other sheet: %q", c.Words)
	}
}

// A sheet with the steps of a night can be run, holds all of the sheet it was made
// from, and brings them before the needles; the sheet itself stays as it was.
func TestWithNight(t *testing.T) {
	own := RunSheet{Phase: SetUp, Steps: []Step{
		{ID: "prick", Words: "Needles", Lane: LaneHands, Tick: TickValue, Entry: "needling"},
		{ID: "go", Words: "Join", Lane: LaneHands, Tick: TickValue, Entry: "connected", After: []string{"prick"}},
	}}
	bare := RunSheet{Phase: SetUp, Steps: []Step{{ID: "all", Words: "All of it", Lane: LaneHands, Tick: TickDone}}}
	odd := RunSheet{Phase: SetUp, Steps: []Step{ // how am I? last of all
		{ID: "needles", Words: "Needles", Lane: LaneHands, Tick: TickValue, Entry: "needling"},
		{ID: "how", Words: "How am I?", Lane: LaneHands, Tick: TickValue, Entry: "fitness", After: []string{"needles"}},
	}}
	named := own.clone()
	named.Steps = append(named.Steps, Step{ID: NightTape, Words: "Tape as my unit does it", Lane: LaneHands, Tick: TickDone})
	for name, sheet := range map[string]RunSheet{"the program's": DefaultSetUp(), "own": own, "bare": bare, "odd": odd, "named": named} {
		was := sheet.clone()
		night := WithNight(sheet)
		if err := night.Validate(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if !slices.EqualFunc(sheet.Steps, was.Steps, func(a, b Step) bool { return a.Words == b.Words && slices.Equal(a.After, b.After) }) {
			t.Errorf("%s: the sheet itself was changed", name)
		}
		rest := slices.DeleteFunc(night.clone().Steps, func(s Step) bool { return IsNightStep(s.ID) && sheet.index(s.ID) < 0 })
		if !slices.EqualFunc(rest, sheet.Steps, func(a, b Step) bool { return a.ID == b.ID && a.Words == b.Words }) {
			t.Errorf("%s: the other steps are not those of the sheet", name)
		}
		for _, n := range nightSteps {
			if i := night.index(n.ID); i < 0 || name == "named" && n.ID == NightTape && night.Steps[i].Words != "Tape as my unit does it" {
				t.Errorf("%s: no step %s", name, n.ID)
			}
		}
		if name == "bare" || name == "odd" {
			continue
		}
		needles := Step{}
		for _, step := range night.Steps {
			if step.Entry == "needling" {
				needles = step
			}
		}
		for _, id := range []string{NightSensors, NightAlarm, NightHouse, NightArm} {
			if !night.waitsFor(needles.ID, id) {
				t.Errorf("%s: the needles do not wait for %s", name, id)
			}
		}
		if name != "named" && night.waitsFor(NightTape, needles.ID) == night.waitsFor(needles.ID, NightTape) {
			t.Errorf("%s: the tape does not come after the needles", name)
		}
	}
}

// waitsFor reports whether a step waits for another, directly or by way of others.
func (r RunSheet) waitsFor(id, other string) bool {
	step, _ := r.Step(id)
	return slices.ContainsFunc(step.After, func(a string) bool { return a == other || r.waitsFor(a, other) })
}
