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

// After a move Today leads to the rinse, then to the residue test, whichever is not
// written yet.
func TestRinseAndResidueStandInTheWay(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), nil)
	start := d.at(2026, 3, 2, 17, 0)
	d.held(start, 0)
	d.house(start, "machine", &session.Machine{Name: "the machine", GoalUnit: "mL", Kind: "single_pass"})
	d.house(start.Add(7*time.Hour), "round_done", &record.RoundDone{Item: "heat", Outcome: "done"})
	now := start.Add(20 * time.Hour)
	wants := func(after, words, part string) {
		t.Helper()
		ways := StandsInTheWay(d.h, d.h.Member(keeper), now)
		if words == "" && len(ways) == 0 {
			return
		}
		if len(ways) != 1 || !ways[0].Stop || !strings.Contains(ways[0].Words, words) || ways[0].Part != part {
			t.Errorf("%s: %+v, want %q at %s", after, ways, words, part)
		}
	}
	wants("in use", "", "")
	d.house(start.Add(8*time.Hour), "round_done", &record.RoundDone{Item: "moved", Outcome: "done"})
	wants("moved", "Rinse, then test for residue.", "round/done/rinse")
	d.house(start.Add(9*time.Hour), "round_done", &record.RoundDone{Item: "rinse", Outcome: "done"})
	wants("rinsed", "Rinsed since; test for residue.", "round/residual")
	d.house(start.Add(10*time.Hour), "residual_test", &record.ResidualTest{For: "chlorine", Value: 50, Below: true, Lot: "R1", Expiry: unit.DateOf(now).Add(90)})
	wants("tested", "", "")
	d.house(start.Add(11*time.Hour), "round_done", &record.RoundDone{Item: "moved", Outcome: "done"})
	d.house(start.Add(12*time.Hour), "residual_test", &record.ResidualTest{For: "chlorine", Value: 50, Below: true, Lot: "R1", Expiry: unit.DateOf(now).Add(90)})
	wants("tested without a rinse", "No rinse is written since.", "round/done/rinse")
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

// What can wait until after the next session stands among the errands: a result
// at its action level that is due on Friday the 13th, a sample that is late, a
// carbon that is nearly used up. Once its day comes the result moves into the way.
func TestErrandsStandInNobodysWay(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), nil)
	m := d.h.Member(keeper)
	for day := 1; day < 64; day += 2 { // 0.1 mg/L on day 80
		d.chlorineOn(day, 0.02+0.001*float64(day), false)
	}
	result := d.at(2026, 3, 6, 12, 0) // due a week later
	d.result(result, "sample-act", water.PointProduct, "Ida", water.Result{What: water.ViableCount, Op: water.Equal, Value: 60, Unit: water.CFUPerML})
	d.house(d.at(2026, 3, 1, 9, 0), "water_sample", &record.WaterSample{Sample: "sample-late", State: "planned", Point: water.PointInlet, For: []string{"viable_count"}, PlannedOn: unit.NewDate(2026, 3, 5)})
	d.evenings(d.at(2026, 3, 9, 17, 0), 1)
	now := d.at(2026, 3, 10, 9, 0)
	if ways := StandsInTheWay(d.h, m, now); len(ways) != 0 {
		t.Errorf("three days before: %+v", ways)
	}
	var words []string
	for _, e := range Errands(d.h, m, now) {
		words = append(words, e.Words)
	}
	all := strings.Join(words, "\n")
	for _, want := range []string{"A water result waits to be seen to: Ida, by 13 March 2026", "machine inlet has not been drawn, due since 5 March 2026", "Total chlorine after the first carbon: on its present course it meets 0.1 mg/L about"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not among the errands:\n%s", want, all)
		}
	}
	d.evenings(d.at(2026, 3, 12, 17, 0), 1)
	now = d.at(2026, 3, 13, 9, 0)
	if ways := StandsInTheWay(d.h, m, now); len(ways) != 1 || ways[0].Stop || !strings.Contains(ways[0].Words, "by 13 March") {
		t.Errorf("on the day it is due: %+v", ways)
	}
}

// What the household put on the start line itself stands in the way although
// nothing was ever written of it; the program's own list does not.
func TestOwnStartLineNeverWritten(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), nil)
	now := d.at(2026, 3, 1, 9, 0)
	d.house(now, "round_item", &record.RoundItem{Item: "seal", Name: "Door seal", Days: 30, StartLine: true, SetBy: "me", SetOn: unit.DateOf(now)})
	ways := StandsInTheWay(d.h, d.h.Member(keeper), now)
	if len(ways) != 1 || !ways[0].Stop || ways[0].Words != "Door seal: never recorded." {
		t.Errorf("%+v", ways)
	}
}

// With the heat cycle off the round, a disinfection that was left out is said
// where the unit set how long the machine may stand.
func TestDisinfectionLeftOutIsSaid(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), nil)
	start := d.at(2026, 3, 2, 17, 0)
	d.house(start, "round_item", &record.RoundItem{Item: "heat", Name: "Heat", Days: 1, Off: true, SetBy: "me", SetOn: unit.DateOf(start)})
	d.held(start, 0)
	now := start.Add(20 * time.Hour)
	if ways := StandsInTheWay(d.h, d.h.Member(keeper), now); len(ways) != 0 {
		t.Errorf("without a rule of the unit: %+v", ways)
	}
	d.house(start, "water_rules", &record.WaterRules{Edition: water.ISO2019, Use: "standard", MaxIdle: ptr(unit.Hours(6000)), SetBy: "Dr Q (invented)", SetOn: unit.DateOf(start)})
	if ways := StandsInTheWay(d.h, d.h.Member(keeper), now); len(ways) != 1 || !ways[0].Stop || !strings.Contains(ways[0].Words, "No disinfection") {
		t.Errorf("with one: %+v", ways)
	}
}

// A notice is in the way until it is said to be over, and two days more.
func TestNoticeEnds(t *testing.T) {
	d := newDiary(t, "Europe/Ljubljana")
	d.ordered(unit.NewDate(2026, 1, 1), nil)
	at := d.at(2026, 3, 2, 9, 0)
	id := d.house(at, "utility_notice", &record.UtilityNotice{From: unit.DateOf(at), Words: "brown water"})
	said := func(day int) bool {
		return len(StandsInTheWay(d.h, d.h.Member(keeper), at.AddDate(0, 0, day))) > 0
	}
	if !said(30) {
		t.Error("a notice without an end is forgotten after a month")
	}
	d.house(at.AddDate(0, 0, 4), "utility_notice", &record.UtilityNotice{From: unit.DateOf(at), To: unit.DateOf(at).Add(4), Words: "it is over", About: id})
	for day, want := range map[int]bool{3: true, 4: true, 6: true, 7: false} {
		if said(day) != want {
			t.Errorf("on day %d: said %v, want %v", day, said(day), want)
		}
	}
	if n := d.h.NoticesAt(time.Time{}); len(n) != 1 || n[0].Text != "brown water" {
		t.Errorf("notices %+v", n)
	}
}
