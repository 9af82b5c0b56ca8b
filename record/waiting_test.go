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
