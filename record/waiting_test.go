package record

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// atTheStart gives the words of what of round and water holds up the start.
func (b *book) atTheStart(id string) string {
	b.t.Helper()
	s := b.h.Session(id)
	for _, c := range session.StartLine(s, b.h.Member("person-one").History(s), b.now) {
		if c.ID == session.CheckWaiting {
			return string(c.State) + ": " + c.Words
		}
	}
	return ""
}

// What the household put on the start line stops there when it is due by its
// date or by a count, until it is done; a water result over its limit does until
// somebody has seen to it. A session that was held keeps the start line it had.
func TestOwnRoundsStandOnTheStartLine(t *testing.T) {
	b := newBook(t)
	day := unit.DateOf(b.now)
	b.open("session-01")
	says := func(id, want string) {
		t.Helper()
		if got := b.atTheStart(id); want == "" && got != "" || !strings.Contains(got, want) {
			t.Errorf("the start line of %s says %q, want %q", id, got, want)
		}
	}
	says("session-01", "")
	b.keep("round_item", &RoundItem{Item: "seal", Name: "Door seal", Days: 30, SetBy: "me", SetOn: day})
	says("session-01", "")
	b.keep("round_item", &RoundItem{Item: "seal", Name: "Door seal", Days: 30, Sessions: 2, StartLine: true, SetBy: "Dr Q (invented)", SetOn: day})
	says("session-01", "stop: Door seal: never written down")
	b.keep("round_done", &RoundDone{Item: "seal", Outcome: "done"})
	says("session-01", "")
	b.now = b.now.Add(29 * 24 * time.Hour)
	says("session-01", "")
	b.now = b.now.Add(24 * time.Hour)
	says("session-01", "stop: Door seal: due since "+day.Add(30).Long())
	b.keep("round_done", &RoundDone{Item: "seal", Outcome: "failed"})
	says("session-01", "failed when it was tried last")
	b.keep("round_done", &RoundDone{Item: "seal", Outcome: "done"})
	says("session-01", "")

	b.waterSample("sample-01", water.PointProduct, "viable_count")
	over := aResult("sample-01", count(100))
	over.Owner = "Orla"
	e := b.keep("water_result", over)
	says("session-01", "stop: Water over its limit: viable count. Ring your unit.")
	b.keep("task_closed", &TaskClosed{Result: e.ID, Did: "disinfected, drawn again", Told: "the unit by telephone"})
	says("session-01", "")
	b.waterSample("sample-02", water.PointProduct, "viable_count")
	action := aResult("sample-02", count(60))
	action.Owner = "Orla"
	b.keep("water_result", action)
	says("session-01", "")
}

// By its sessions: two were held since it was done, so it is due although its
// date is far.
func TestCountsStandOnTheStartLine(t *testing.T) {
	b := newBook(t)
	day := unit.DateOf(b.now)
	b.keep("round_item", &RoundItem{Item: "seal", Name: "Door seal", Months: 6, Sessions: 1, StartLine: true, SetBy: "Dr Q (invented)", SetOn: day})
	b.keep("round_done", &RoundDone{Item: "seal", Outcome: "done"})
	b.paperRun("session-01")
	b.now = b.now.Add(4 * time.Hour)
	b.must("came_off", "session-01", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(2000))})
	b.must("closed", "session-01", &session.Closed{})
	if got := b.atTheStart("session-01"); got != "" {
		t.Errorf("the session that was held: %q", got)
	}
	b.now = b.now.Add(20 * time.Hour)
	b.open("session-02")
	if got := b.atTheStart("session-02"); got != "stop: Door seal is due by its sessions." {
		t.Errorf("after one of one sessions: %q", got)
	}
}

// Rules and rounds that were set later leave the start line of a session that
// was held as it stood.
func TestOldStartLinesStand(t *testing.T) {
	b := newBook(t)
	b.paperRun("session-01")
	b.now = b.now.Add(4 * time.Hour)
	b.must("came_off", "session-01", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(2000))})
	b.must("closed", "session-01", &session.Closed{})
	s := b.h.Session("session-01")
	before := session.StartLine(s, b.h.Member("person-one").History(s), b.now)
	b.now = b.now.Add(time.Hour)
	hour := unit.Hours(100)
	b.keep("water_rules", &WaterRules{Edition: water.ISO2019, Use: "standard", MaxIdle: &hour, SetBy: "Dr Q (invented)", SetOn: unit.DateOf(b.now)})
	b.keep("round_item", &RoundItem{Item: "seal", Name: "Door seal", Days: 30, StartLine: true, SetBy: "me", SetOn: unit.DateOf(b.now)})
	b.keep("utility_notice", &UtilityNotice{From: unit.DateOf(b.now).Add(-3), Words: "main flushed"})
	after := session.StartLine(s, b.h.Member("person-one").History(s), b.now)
	if len(before) != len(after) {
		t.Fatalf("%d checks, %d before", len(after), len(before))
	}
	for i := range before {
		if before[i].State != after[i].State || before[i].Words != after[i].Words || before[i].Limit != after[i].Limit {
			t.Errorf("%+v became %+v", before[i], after[i])
		}
	}
}

// A critical value of the bloods stops the start as Today asks to ring about it: until
// a call names it, or a later sample that was not drawn after a session is good. One
// typed in after the lines were joined leaves the start line as it stood (H-94).
func TestCriticalBloodsStandOnTheStartLine(t *testing.T) {
	b := newBook(t)
	from, to := b.treated("session-00")
	b.must("closed", "session-00", &session.Closed{})
	potassium := func(value, timing string) Entry {
		at, id := b.now, ""
		switch timing {
		case Pre:
			at, id = from.Add(-5*time.Minute), "session-00"
		case Post:
			at, id = to.Add(5*time.Minute), "session-00"
		}
		e := b.sample(at, timing, id, "potassium "+value+" mmol/L")
		if value == "7.1" {
			e.Again = map[string]string{"results.potassium": value}
		}
		return b.must2(e)
	}
	says := func(when, id, want string) {
		t.Helper()
		if got := b.atTheStart(id); want == "" && got != "" || !strings.Contains(got, want) {
			t.Errorf("%s: %q, want %q", when, got, want)
		}
	}
	stop := "stop: Potassium 7.1\u00a0mmol/L: at or above 6.5\u00a0mmol/L. Ring your unit now."
	high := potassium("7.1", Pre)
	b.now = b.now.Add(48 * time.Hour)
	b.open("session-01")
	says("two days later", "session-01", stop)
	past, err := AsOf(b.life, from.Add(-6*time.Minute))
	if err != nil {
		t.Fatal(err)
	}
	if list := past.Member("person-one").History(nil).Waiting; len(list) != 0 {
		t.Errorf("before it was drawn: %+v", list)
	}
	potassium("4.1", Post)
	says("a good one after a session", "session-01", stop)
	b.must("rang", "session-01", &session.Rang{Whom: "day", Said: "come on as planned, with the bath as ordered"})
	says("rung about on the evening", "session-01", "look: Potassium 7.1")
	b.must("blood_call", "", &BloodCall{Bloods: high.ID, Analyte: "potassium", Rang: "the night nurse, Ana", Said: "dialyse tonight with the bath as prescribed"})
	says("rung", "session-01", "")
	b.now = b.now.Add(24 * time.Hour)
	potassium("7.1", Other)
	says("another", "session-01", stop)
	b.now = b.now.Add(24 * time.Hour)
	potassium("5.2", Other)
	says("a later good one", "session-01", "")
}

// What the laboratory says after the lines were joined holds up the next session.
func TestCriticalBloodsTypedInLater(t *testing.T) {
	b := newBook(t)
	drawn := b.now
	b.paperRun("session-01")
	late := b.sample(drawn, Other, "", "potassium 7.1 mmol/L")
	late.Again = map[string]string{"results.potassium": "7.1"}
	b.must2(late)
	if got := b.atTheStart("session-01"); got != "" {
		t.Errorf("the session that was held: %q", got)
	}
	b.now = b.now.Add(4 * time.Hour)
	b.must("came_off", "session-01", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(2000))})
	b.must("closed", "session-01", &session.Closed{})
	b.now = b.now.Add(20 * time.Hour)
	b.open("session-02")
	if got := b.atTheStart("session-02"); !strings.HasPrefix(got, "stop: Potassium 7.1") {
		t.Errorf("the next one: %q", got)
	}
}
