package web

import (
	"context"
	"net/http"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// nightSteps are the ids of the steps of a night, with what is written to each.
var nightSteps = [][2]string{
	{session.NightSensors, ""}, {session.NightAlarm, ""}, {session.NightHouse, "Jaan, in the next room"}, {session.NightArm, ""}, {session.NightTape, ""},
}

// atNight gives the check of the night of a session, or nil by day.
func (h *house) atNight(base string) (found *session.Check) {
	h.desk.View(func(r *record.Household) {
		one := r.Session(base[strings.LastIndex(base, "/")+1:])
		for _, c := range session.StartLine(one, r.Member("p-vida-hribar").History(one), h.now) {
			if c.ID == session.CheckNight {
				found = &c
			}
		}
	})
	return found
}

// A treatment that will be slept through has the steps of a night among the hands',
// also where the household keeps steps of its own; who else is in the house is
// written. By page without script, by command, and from paper the start line then
// says the same (H-122).
func TestNightByThreeRoads(t *testing.T) {
	const ready = "Sensors tried, alarm heard, arm in sight, tape doubled. In the house: Jaan, in the next room."
	h := abroad(t, "Europe/Ljubljana", instant(t, "2026-06-11T19:10Z"), 480) // 21:10
	own := session.RunSheet{Phase: session.SetUp, Marked: "by our unit", Steps: []session.Step{
		{ID: "how", Words: "How am I?", Lane: session.LaneHands, Tick: session.TickValue, Entry: "fitness"},
		{ID: "prick", Words: "Needles as taught", Lane: session.LaneHands, Tick: session.TickValue, Entry: "needling", After: []string{"how"}},
		{ID: "join", Words: "Join", Lane: session.LaneHands, Tick: session.TickValue, Entry: "connected", After: []string{"prick"}},
	}}
	h.keep("p-vida-hribar", &record.SheetEdited{RunSheet: own})

	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.later(time.Minute)
	if text := h.see(base); strings.Contains(text, `id="step-night_`) {
		t.Error("steps of the night can be ticked before “How am I?”")
	}
	h.saved(base+"/fitness", "none_of_these", "yes")
	text := h.see(base)
	if hands, needles := strings.Index(text, `id="step-night_sensors"`), strings.Index(text, "Needles as taught"); hands < 0 || needles < hands {
		t.Errorf("the sensors stand at %d, the needles at %d", hands, needles)
	}
	h.says(base, "Not yet: sensors tried, alarm heard, others in house, arm in sight, tape doubled.")
	h.refused(base+"/step", "who else is in the house", "phase", "set_up", "step", session.NightHouse, "state", "done")
	for _, one := range nightSteps {
		text := h.see(base)
		at := strings.Index(text, `id="step-`+one[0]+`"`)
		if at < 0 {
			t.Fatalf("%s cannot be ticked", one[0])
		}
		form := fieldsOf(t, text[at:], base+"/step")
		if _, asks := form["note"]; asks != (one[1] != "") {
			t.Errorf("%s asks for a word: %v", one[0], asks)
		}
		form.Set("state", "done")
		if one[1] != "" {
			form.Set("note", one[1])
		}
		if status, _, text := h.post(base+"/step", form); status != http.StatusSeeOther {
			t.Fatalf("%s: %d %s", one[0], status, problems(text))
		}
		if one[0] == session.NightArm { // the tape comes when the needles are in
			if strings.Contains(h.see(base), `id="step-night_tape"`) {
				t.Error("the tape can be ticked before the needles")
			}
			h.saved(base+"/needling", "arterial_site", "A1", "venous_site", "V1", "arterial_gauge", "16", "venous_gauge", "16", "arterial_tries", "1", "venous_tries", "1")
		}
	}
	h.says(base, ready)
	if sheet, versions := h.sheet("p-vida-hribar", session.SetUp); len(sheet.Steps) != 3 || versions != 1 {
		t.Errorf("the household's own sheet has %d steps in %d versions", len(sheet.Steps), versions)
	}
	h.silent(vida+"/run-sheet/set_up", "Leak sensors")
	h.says(base+"/sheet", "Leak sensors at the needles and on the floor", "tape doubled", "Jaan, in the next room")
	h.strikeSession(base)

	// By command: the same entries.
	h.later(time.Hour)
	byCommand := newID()
	var list []record.Entry
	add := func(kind string, body any) {
		list = append(list, record.Entry{ID: newID(), Kind: kind, Person: "p-vida-hribar", Session: byCommand, At: h.now, Zone: "Europe/Ljubljana", By: "Test", Body: body})
	}
	add("session_opened", &session.Opened{Place: "home", Source: "live", Confirmed: true})
	for _, one := range nightSteps {
		add("step", &session.StepDone{Phase: session.SetUp, Step: one[0], State: "done", Note: one[1]})
	}
	if out, err := h.desk.Record(context.Background(), list...); err != nil || !out.Clear() {
		t.Fatalf("%v %v", err, firstFinding(out))
	}
	if c := h.atNight("/" + byCommand); c == nil || c.State != session.Ready || c.Words != ready {
		t.Errorf("by command: %+v", c)
	}
	h.strikeSession(vida + "/session/" + byCommand)

	// From paper, typed in the next noon: by the evening it was.
	h.now = instant(t, "2026-06-12T10:00Z")
	base = h.saved(vida+"/session", "place", "home", "source", "paper", "session", newID(), "day", "2026-06-11", "clock", "21:40")
	for _, one := range nightSteps {
		text := h.see(base)
		at := strings.Index(text, `id="step-`+one[0]+`"`)
		if at < 0 {
			t.Fatalf("paper: %s cannot be ticked", one[0])
		}
		form := fieldsOf(t, text[at:], base+"/step")
		form.Set("state", "done")
		if one[1] != "" {
			form.Set("note", one[1])
		}
		if status, _, text := h.post(base+"/step", form); status != http.StatusSeeOther {
			t.Fatalf("paper: %s: %d %s", one[0], status, problems(text))
		}
	}
	h.saved(base+"/connected", "blood_flow_ml_min", "310", "clock", "22:30")
	if c := h.atNight(base); c == nil || c.State != session.Ready || c.Words != ready {
		t.Errorf("from paper: %+v", c)
	}
}

// strikeSession gives a session up, so that the next can be opened.
func (h *house) strikeSession(base string) {
	h.t.Helper()
	var opened string
	h.desk.View(func(r *record.Household) { opened = r.Session(base[strings.LastIndex(base, "/")+1:]).Log[0].ID })
	h.keep("p-vida-hribar", &record.Struck{Entry: opened, Reason: "the next way of writing it"})
}

// By day nobody is asked for sensors; nor is the person who sets up in the evening
// for a treatment that is over before two.
func TestNoNightByDay(t *testing.T) {
	for _, tt := range []struct {
		at     string
		length int
		night  bool
	}{{"2026-06-11T12:00Z", 250, false}, {"2026-06-11T19:40Z", 250, false}, {"2026-06-11T19:51Z", 250, true}} {
		h := abroad(t, "Europe/Ljubljana", instant(t, tt.at), 250)
		base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
		h.saved(base+"/fitness", "none_of_these", "yes")
		if has := strings.Contains(h.see(base), "night_sensors"); has != tt.night || (h.atNight(base) != nil) != tt.night {
			t.Errorf("at %s: steps of a night %v, want %v", tt.at, has, tt.night)
		}
	}
}
