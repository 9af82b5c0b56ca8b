package session

import (
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

func closed(t *testing.T) *Session {
	s := offAgain(t)
	put(s, on(241), &Reading{Systolic: mm(124)})
	put(s, on(245), &VitalsAfter{LieSystolic: mm(126), StandSystolic: mm(118)})
	put(s, on(265), &Holding{Arterial: ref(unit.Minutes(10)), Venous: ref(unit.Minutes(10)), Thrill: "present"})
	put(s, on(272), &Circuit{Grade: 0})
	put(s, on(310), &Disinfection{Programme: "heat", Result: "passed"})
	put(s, on(-10), &Needling{SiteA: "A3", SiteV: "V4", GaugeA: 16, GaugeV: 16, TriesA: 1, TriesV: 1})
	put(s, on(315), &Closed{MachineTreated: ref(unit.Minutes(238))})
	return s
}

func TestClose(t *testing.T) {
	c := Close(closed(t), on(400))
	if c.Planned != 240 || c.Treated != 240 || c.Delivered != "whole" || c.Words != "4\u00a0h, as prescribed." || c.AskTime != "" {
		t.Errorf("%+v", c)
	}
	if !c.Balanced || c.Balance.Grade != "agrees" || len(c.Open) != 0 || c.Blood < 71.9 || c.Blood > 72.1 {
		t.Errorf("balance %+v, open %v, blood %v", c.Balance, c.Open, c.Blood)
	}
	if c.Nadir == nil || *c.Nadir != 124 || c.Low {
		t.Errorf("nadir %v, counts %v", c.Nadir, c.Low)
	}
}

func TestTreatedTimeAgainstTheMachine(t *testing.T) {
	for machine, ask := range map[unit.Minutes]bool{235: false, 245: false, 234: true, 246: true} {
		s := closed(t)
		edit(s, func(b *Closed) { b.MachineTreated = &machine })
		if c := Close(s, on(400)); (c.AskTime != "") != ask {
			t.Errorf("machine %v: %q", machine, c.AskTime)
		}
	}
}

// A treatment that ended early and does not say why leaves that open.
func TestWhyItEndedEarlyStaysOpen(t *testing.T) {
	for _, tt := range []struct {
		minutes int
		why     string
		open    bool
	}{{180, "", true}, {180, "water cut", false}, {234, "", true}, {235, "", false}, {260, "", false}} {
		s := connected(t)
		put(s, on(tt.minutes), &CameOff{Returned: "all", Why: tt.why})
		open := slices.ContainsFunc(OpenItems(s), func(o OpenItem) bool { return o.Kind == "came_off" && o.Key == "why" && o.IsOpen() })
		if open != tt.open {
			t.Errorf("%d min, why %q: open %v", tt.minutes, tt.why, open)
		}
	}
}

func TestDelivered(t *testing.T) {
	ended := func(minutes int, why string) *Session {
		s := connected(t)
		put(s, on(minutes), &CameOff{Returned: "all", Why: why})
		return s
	}
	for minutes, want := range map[int]struct{ delivered, words string }{
		235: {"whole", "3\u00a0h\u00a055\u00a0min, as prescribed."},
		234: {"shortened", "Shortened by 6\u00a0min (3 %): water cut."},
		180: {"shortened", "Shortened by 1\u00a0h (25 %): water cut."},
		245: {"whole", "4\u00a0h\u00a05\u00a0min, as prescribed."},
		260: {"longer", "4\u00a0h\u00a020\u00a0min, 20\u00a0min more than prescribed."},
	} {
		if c := Close(ended(minutes, "water cut"), on(400)); c.Delivered != want.delivered || c.Words != want.words {
			t.Errorf("%d min: %s, %q", minutes, c.Delivered, c.Words)
		}
	}
	// Shortened on the machine under way is still shortened.
	s := connected(t)
	put(s, on(100), &GoalChanged{Goal: 1500, Length: ref(unit.Minutes(150))})
	put(s, on(150), &CameOff{Returned: "all"})
	if c := Close(s, on(400)); c.Delivered != "shortened" || c.Short != 90 {
		t.Errorf("%+v", c)
	}
	// Pauses do not count as treatment.
	s = connected(t)
	put(s, on(60), &Pause{})
	put(s, on(100), &Resume{})
	put(s, on(240), &CameOff{Returned: "all"})
	if c := Close(s, on(400)); c.Treated != 200 || c.Short != 40 {
		t.Errorf("%+v", c)
	}
	// Set up and closed without treatment: missed.
	s = ready(t)
	put(s, on(0), &Closed{})
	if c := Close(s, on(400)); c.Delivered != "missed" || c.Short != 240 {
		t.Errorf("%+v", c)
	}
	if c := Close(connected(t), on(10)); c.Delivered != "not known" {
		t.Errorf("while running: %+v", c)
	}
}

func TestNadirCounts(t *testing.T) {
	for _, tt := range []struct {
		start, low int
		counts     bool
	}{{138, 90, false}, {138, 89, true}, {159, 95, false}, {160, 99, true}, {160, 100, false}} {
		s := connected(t)
		edit(s, func(b *VitalsBefore) { b.SitSystolic = mm(tt.start) })
		put(s, on(60), &Reading{Systolic: mm(130)})
		put(s, on(90), &LowPressure{Systolic: mm(tt.low)})
		if c := Close(s, on(100)); c.Low != tt.counts || int(*c.Nadir) != tt.low {
			t.Errorf("from %d to %d: counts %v", tt.start, tt.low, c.Low)
		}
	}
}

func kinds(items []OpenItem) []string {
	var out []string
	for _, o := range items {
		out = append(out, strings.Trim(o.Kind+" "+o.Key+" "+string(o.Why), " "))
	}
	return out
}

func TestOpenItems(t *testing.T) {
	if got := kinds(OpenItems(newSession(t))); len(got) != 0 {
		t.Errorf("at the beginning: %v", got)
	}
	if got := kinds(OpenItems(connected(t))); !slices.Equal(got, []string{"needling"}) {
		t.Errorf("running: %v", got)
	}
	s := connected(t)
	put(s, on(240), &CameOff{Returned: "all"})
	want := []string{"needling", "reading", "holding", "vitals_after", "weigh_out", "circuit", "disinfection", "came_off removed_ml", "came_off washback_ml"}
	if got := kinds(OpenItems(s)); !slices.Equal(got, want) {
		t.Errorf("coming off: %v, want %v", got, want)
	}
	// All four kinds of missing are listed with their reason, and are not open.
	s = closed(t)
	miss[WeighOut](s, "weight_kg", NotRecorded)
	miss[VitalsAfter](s, "standing_systolic_mmhg", NotDone)
	miss[Holding](s, "venous_min", DoesNotApply)
	miss[Reading](s, "systolic_mmhg", AsleepByPlan)
	seen := map[Missing]bool{}
	for _, o := range OpenItems(s) {
		if o.IsOpen() {
			t.Errorf("open: %+v", o)
		}
		seen[o.Why] = true
	}
	if len(seen) != 4 {
		t.Errorf("reasons %v", seen)
	}
	// A washback or a disinfection still to be told.
	s = closed(t)
	edit(s, func(b *Disinfection) { b.Result = "running" })
	edit(s, func(b *CameOff) { b.Removed = nil })
	if got := kinds(OpenItems(s)); !slices.Equal(got, []string{"came_off removed_ml", "disinfection result"}) {
		t.Errorf("%v", got)
	}
	// Said why there is none, it is not open any more.
	miss[CameOff](s, "removed_ml", NotRecorded)
	if got := kinds(OpenItems(s)); !slices.Equal(got, []string{"disinfection result", "came_off removed_ml not_recorded"}) {
		t.Errorf("%v", got)
	}
}

// Elsewhere, the machine and its water are the other place's to log; on a
// catheter there is nothing to needle or hold.
func TestOpenItemsByKindOfSession(t *testing.T) {
	s := newSession(t)
	put(s, evening, &Opened{Place: "elsewhere", Source: "paper", Where: "the unit"})
	put(s, on(0), &Connected{})
	for _, o := range OpenItems(s) {
		if machineOf[o.Kind] {
			t.Errorf("elsewhere: %+v", o)
		}
	}
	s.Rx.Access = "catheter"
	if got := kinds(OpenItems(s)); slices.Contains(got, "needling") || !slices.Contains(got, "weigh_in") {
		t.Errorf("catheter: %v", got)
	}
}
