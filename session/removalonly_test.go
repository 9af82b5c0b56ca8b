package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// removal is a session set up in which fluid is only removed: no bath, no check of
// the fluid, no test of the water.
func removal(t testing.TB) *Session {
	s := ready(t)
	o, _ := First[Opened](s)
	o.RemovalOnly = true
	s.Log = slices.DeleteFunc(s.Log, func(e Event) bool {
		return e.Kind == "bath_label" || e.Kind == "fluid_check" || e.Kind == "chlorine"
	})
	return s
}

func TestStartLineOfRemovalOnly(t *testing.T) {
	at := evening.Add(mins(40))
	there := func(s *Session, id string) (Check, bool) {
		for _, c := range StartLine(s, known(), at) {
			if c.ID == id {
				return c, true
			}
		}
		return Check{}, false
	}
	s := removal(t)
	for _, id := range []string{CheckBath, CheckConduct} {
		if c, ok := there(s, id); ok {
			t.Errorf("%s: %s %q, want it left out", id, c.State, c.Words)
		}
		dialysis := removal(t)
		o, _ := First[Opened](dialysis)
		o.RemovalOnly = false
		if c, ok := there(dialysis, id); !ok || c.State != OpenYet {
			t.Errorf("%s with dialysis: %v %s", id, ok, c.State)
		}
	}
	if c, _ := there(s, CheckChlorine); c.State != Look || !strings.Contains(c.Words, "before any dialysis") {
		t.Errorf("chlorine not tested: %s %q", c.State, c.Words)
	}
	for _, id := range []string{CheckSelfTest, CheckPlan, CheckHeparin, CheckLots} {
		if c, ok := there(s, id); !ok || c.State != Ready {
			t.Errorf("%s: %v %s %q", id, ok, c.State, c.Words)
		}
	}
	if !AllPassed(StartLine(s, known(), at)) {
		t.Errorf("it cannot begin: %+v", HoldingUp(StartLine(s, known(), at)))
	}
	// What was written is judged all the same.
	next := date(t, "2027-01-31")
	put(s, evening.Add(mins(20)), &BathLabel{K: 300, Ca: 150, Lot: "b1", Expiry: next})
	put(s, evening.Add(mins(21)), &Chlorine{Result: 300, Method: "DPD", ReadsDown: 50, Lot: "c1", Expiry: next, Point: "first_carbon"})
	put(s, evening.Add(mins(30)), &FluidCheck{MachineConduct: 1400, MeterConduct: 1600})
	for _, id := range []string{CheckBath, CheckConduct, CheckChlorine} {
		if c, ok := there(s, id); !ok || c.State != StopHere {
			t.Errorf("%s, written: %v %s %q", id, ok, c.State, c.Words)
		}
	}
}

// The bounds of the rate are those of every session.
func TestRateOfRemovalOnly(t *testing.T) {
	s := removal(t)
	plan, _ := Last[AgreedPlan](s)
	back, _ := Last[ReadBack](s)
	plan.SetGoal, plan.Goal, back.Goal = 2790, 2790, 2790
	if c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckPlan); c.State != StopHere || !strings.Contains(c.Words, "above your unit’s") {
		t.Errorf("%s %q", c.State, c.Words)
	}
}

// While it runs nothing is said of dialysis fluid, and all else is said.
func TestRemarksOfRemovalOnly(t *testing.T) {
	s := removal(t)
	put(s, on(0), &Connected{BloodFlow: ref(unit.Flow(300))})
	put(s, on(60), &Reading{Systolic: ref(unit.Pressure(80)), Conduct: ref(unit.Conductivity(1200)), DialTemp: ref(unit.Temperature(430))})
	codes := map[string]bool{}
	for _, r := range Remarks(s, on(61)) {
		codes[r.Code] = true
	}
	if codes["conductivity_out"] || codes["temperature_out"] || !codes["low_pressure"] {
		t.Errorf("%v", codes)
	}
	rule := ChlorineRepeat{Every: time.Hour}
	if at, _ := rule.Next(s, on(61)); !at.IsZero() {
		t.Errorf("chlorine again at %s", at)
	}
	o, _ := First[Opened](s)
	o.RemovalOnly = false
	if at, _ := rule.Next(s, on(61)); at.IsZero() {
		t.Error("with dialysis it is tested again")
	}
}

// It is no dialysis: the hours since the last one go on, the weight after it is the
// last weight, and its own length is the one it is held against.
func TestRemovalOnlyIsNoDialysis(t *testing.T) {
	dialysis, only := connected(t), removal(t)
	put(dialysis, on(240), &CameOff{Returned: "all", Removed: ref(unit.Volume(2000))})
	put(dialysis, on(270), &WeighOut{Weight: 58_500, Clothing: 500, Scale: "bath"})
	day := 24 * time.Hour
	for i := range only.Log {
		only.Log[i].At = only.Log[i].At.Add(day)
	}
	plan, _ := Last[AgreedPlan](only)
	plan.Length = 120
	put(only, on(0).Add(day), &Connected{})
	put(only, on(120).Add(day), &CameOff{Returned: "all", Removed: ref(unit.Volume(1000))})
	put(only, on(150).Add(day), &WeighOut{Weight: 57_500, Clothing: 500, Scale: "bath"})

	h := HistoryOf([]*Session{dialysis, only})
	if h.Treated != 2 || !h.LastEnd.Equal(on(240)) || !h.LastBegan.Equal(on(0)) || !h.RemovedAt.Equal(on(120).Add(day)) {
		t.Errorf("last dialysis %s to %s, removal only until %s", h.LastBegan, h.LastEnd, h.RemovedAt)
	}
	if h.LastPost.Weight != 57_500 {
		t.Errorf("last weight %s", h.LastPost.Weight)
	}
	at := on(240).Add(97 * time.Hour)
	c := GapOf(h, ordered(t), at).Said()
	c.Words = strings.ReplaceAll(c.Words, "\u00a0", " ")
	if c.State != StopHere || !strings.Contains(c.Words, "97 h since the last dialysis ended") || !strings.Contains(c.Words, "Fluid alone was removed until 13 March at 19:45: that is no dialysis.") {
		t.Errorf("97 h after the last dialysis: %s %q", c.State, c.Words)
	}
	if got := Close(only, on(160).Add(day)); got.Delivered != "whole" || got.Planned != 120 {
		t.Errorf("2 h as planned: %s, %s", got.Delivered, got.Words)
	}
	for _, o := range OpenItems(only) {
		if ofFluid[o.Kind] {
			t.Errorf("asks for %s", o.What)
		}
	}
	again := h
	again.Add(dialysis)
	if !again.RemovedAt.IsZero() {
		t.Error("a dialysis after it: it is still spoken of")
	}
}

// The steps of the fluid are left out, and what waited for them waits for what they
// waited for.
func TestWithoutFluid(t *testing.T) {
	sheet := WithoutFluid(DefaultSetUp(), Machine{})
	for _, id := range []string{"bath", "conductivity"} {
		if _, there := sheet.Step(id); there {
			t.Errorf("step %s is there", id)
		}
	}
	if _, there := sheet.Step("chlorine"); !there {
		t.Error("the test of the water is gone")
	}
	if err := sheet.Validate(); err != nil || !slices.Contains(sheet.waits("start_line"), "prime") {
		t.Errorf("%v, the start line waits for %v", err, sheet.waits("start_line"))
	}
}

// With a batch its steps are left out too; from tap water the prime waits for the test
// of the water, which the machine primes with.
func TestWithoutFluidOfEachKind(t *testing.T) {
	for kind, want := range map[string]struct{ batch, chlorine bool }{"single_pass": {false, true}, "batch": {false, false}, "bags": {false, false}} {
		m := Machine{Kind: kind}
		sheet := WithoutFluid(FitFluid(DefaultSheet(SetUp, ordered(t), m), m), m)
		_, batch := sheet.Step(BatchStep)
		_, chlorine := sheet.Step("chlorine")
		if batch != want.batch || chlorine != want.chlorine || slices.Contains(sheet.primesLast(m).waits(PrimeStep), "chlorine") != want.chlorine {
			t.Errorf("%s: batch %v, chlorine %v, the prime waits for %v", kind, batch, chlorine, sheet.primesLast(m).waits(PrimeStep))
		}
		if err := sheet.Validate(); err != nil {
			t.Errorf("%s: %v", kind, err)
		}
	}
}

// A concentrate that the shelf says is used each time has no lot in such a session.
func TestLotsOfRemovalOnly(t *testing.T) {
	h := known()
	h.Shelf = []ShelfItem{{Names: []string{"acid concentrate"}, Each: true}}
	s := removal(t)
	if c := check(t, StartLine(s, h, evening.Add(mins(40))), CheckLots); strings.Contains(c.Words, "concentrate") {
		t.Errorf("removal only: %s %q", c.State, c.Words)
	}
	o, _ := First[Opened](s)
	o.RemovalOnly = false
	if c := check(t, StartLine(s, h, evening.Add(mins(40))), CheckLots); !strings.Contains(c.Words, "concentrate") {
		t.Errorf("with dialysis: %s %q", c.State, c.Words)
	}
}
