package household

import (
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// What stands in the way of the next session is said, stops first; what can
// wait is not.
func TestStandsInTheWay(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), nil)
	m := d.h.Member(keeper)
	start := d.at(2026, 3, 2, 17, 0)
	if ways := StandsInTheWay(d.h, m, start.Add(-time.Hour)); len(ways) != 0 {
		t.Errorf("before anything was written: %+v", ways)
	}
	d.held(start, 0)
	now := start.Add(20 * time.Hour)
	if ways := StandsInTheWay(d.h, m, now); len(ways) != 0 {
		t.Errorf("nothing was ever written of a disinfection, so it is left to the start line: %+v", ways)
	}
	d.house(start.Add(7*time.Hour), "round_done", &record.RoundDone{Item: "heat", Outcome: "done"})
	if ways := StandsInTheWay(d.h, m, now); len(ways) != 0 {
		t.Errorf("disinfected: %+v", ways)
	}
	d.held(start.AddDate(0, 0, 1), 0)
	now = start.AddDate(0, 0, 2)
	ways := StandsInTheWay(d.h, m, now)
	if len(ways) != 1 || !ways[0].Stop || !strings.Contains(ways[0].Words, "Heat disinfection") || ways[0].Part != "round" {
		t.Errorf("a session since the last disinfection: %+v", ways)
	}
	d.house(now.Add(-time.Hour), "utility_notice", &record.UtilityNotice{From: unit.DateOf(now), Words: "mains flushed"})
	ways = StandsInTheWay(d.h, m, now)
	if len(ways) != 2 || ways[1].Stop || !strings.Contains(ways[1].Words, "mains flushed") {
		t.Errorf("with a notice about the water: %+v", ways)
	}
	// A cuff that is overdue stands in nobody's way.
	d.house(now.AddDate(-2, 0, 0), "round_done", &record.RoundDone{Item: "cuff", Outcome: "done"})
	if again := StandsInTheWay(d.h, m, now); len(again) != 2 {
		t.Errorf("an old cuff check: %+v", again)
	}
}

// The machine stands longer than the unit lets it.
func TestIdleMachineStandsInTheWay(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), nil)
	start := d.at(2026, 3, 2, 17, 0)
	d.held(start, 0)
	d.put(start.Add(6*time.Hour), "disinfection", "s-"+start.UTC().Format("20060102-1504"), &session.Disinfection{Programme: "heat", Result: "passed"})
	now := start.Add(66 * time.Hour)
	d.house(start, "water_rules", &record.WaterRules{Edition: water.ISO2019, Use: "standard", MaxIdle: ptr(unit.Hours(6000)), SetBy: "Dr Q (invented)", SetOn: unit.DateOf(start)})
	if words := machineIdle(d.h.Member(keeper), now); words != "" {
		t.Errorf("60 of 60 hours: %s", words)
	}
	if words := machineIdle(d.h.Member(keeper), now.Add(time.Hour)); !strings.Contains(words, "61 hours") || !strings.Contains(words, "Dr Q (invented) set 60") {
		t.Errorf("61 of 60 hours: %q", words)
	}
}
