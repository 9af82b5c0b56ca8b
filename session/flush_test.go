package session

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/fluid"
	"ebbline/unit"
)

// flushed is a session without heparin that runs: 100 mL every 30 minutes over 4 hours,
// 7 flushes, planned and dialled in; 2.0 L above dry, 300 mL drinks, 300 mL washback.
func flushed(t testing.TB) *Session {
	s := connected(t)
	rx := s.Rx
	rx.Heparin, rx.HepStrength, rx.HepBolus, rx.HepHourly, rx.HepStop = "none", nil, nil, nil, nil
	rx.FlushML, rx.FlushEvery, rx.Limits = ref(unit.Volume(100)), ref(unit.Minutes(30)), Limits{SetBy: "Dr Lind", SetOn: date(t, "2026-03-03"), Rate: ref(unit.RatePerKg(2000))}
	s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { _, is := e.Body.(*HeparinDrawn); return is })
	p, err := MakePlan(s, Choices{}, History{}, evening.Add(mins(35)))
	if err != nil {
		t.Fatal(err)
	}
	edit(s, func(b *AgreedPlan) { *b = p.AgreedPlan })
	edit(s, func(b *ReadBack) { b.Goal, b.Shown = p.SetGoal, p.GoalDigits })
	return s
}

func flush(ml int) *Saline { return &Saline{Volume: unit.Volume(ml), Flush: true} }

// n = floor((length − 1 min) / every): one at the very end is none.
func TestFlushCount(t *testing.T) {
	for _, tt := range []struct{ length, every, want int }{
		{240, 30, 7}, {241, 30, 8}, {239, 30, 7}, {210, 30, 6}, {30, 30, 0}, {31, 30, 1}, {29, 30, 0}, {1, 30, 0}, {0, 30, 0}, {240, 60, 3}, {480, 20, 23},
	} {
		rx := &Prescription{FlushML: ref(unit.Volume(100)), FlushEvery: ref(unit.Minutes(tt.every))}
		if got := rx.FlushCount(unit.Minutes(tt.length)); got != tt.want {
			t.Errorf("%d min, every %d: %d, want %d", tt.length, tt.every, got, tt.want)
		}
	}
	for _, rx := range []*Prescription{nil, {}, {FlushML: ref(unit.Volume(100))}, {FlushEvery: ref(unit.Minutes(30))}} {
		if rx.Flushes() || rx.FlushCount(240) != 0 {
			t.Errorf("%+v", rx)
		}
	}
}

// The flushes are a term of the plan: in the goal by both routes, and listed.
func TestFlushesAreATerm(t *testing.T) {
	s := flushed(t)
	p, err := MakePlan(s, Choices{}, History{}, evening.Add(mins(35)))
	if err != nil {
		t.Fatal(err)
	}
	if p.Flushes != 700 || p.Goal != 3300 || p.Sum() != 3300 || p.Expected != 57_500+300+300+700+500-(3300-2500) {
		t.Errorf("flushes %v, goal %v, sum %v, expected %v", p.Flushes, p.Goal, p.Sum(), p.Expected)
	}
	i := slices.IndexFunc(p.Terms, func(x Term) bool { return x.Code == "flushes" })
	if i < 0 || p.Terms[i].ML == nil || *p.Terms[i].ML != 700 || !strings.Contains(strings.ReplaceAll(p.Terms[i].From, "\u00a0", " "), "7 of 100 mL, every 30 min") {
		t.Errorf("%+v", p.Terms)
	}
	if err := Agree(p, p.Form(s.Rx)); err != nil {
		t.Errorf("the two routes differ: %v", err)
	}
	form := p.Form(s.Rx)
	form.Flushes -= 100
	var differ *fluid.Disagreement
	if err := Agree(p, form); !errors.As(err, &differ) || differ.Field != "flushes_ml" {
		t.Errorf("a page with another term is agreed to, or not for that: %v", err)
	}
	shorter, err := MakePlan(s, Choices{Length: ref(unit.Minutes(180))}, History{}, evening.Add(mins(35)))
	if err != nil || shorter.Flushes != 500 {
		t.Errorf("over 3 hours %v, %v", shorter.Flushes, err)
	}
	s.Rx.FlushML, s.Rx.FlushEvery = nil, nil
	if p, err := MakePlan(s, Choices{}, History{}, evening.Add(mins(35))); err != nil || p.Flushes != 0 || p.Goal != 2600 || slices.ContainsFunc(p.Terms, func(x Term) bool { return x.Code == "flushes" }) {
		t.Errorf("without an order: %+v %v", p.AgreedPlan, err)
	}
}

// Planned flushes are in the goal already. One more raises what is to be set, and one that
// was left out lowers it, once its time is over; a late one changes nothing.
func TestFlushesAndWhatToSet(t *testing.T) {
	type given struct{ min, ml int }
	for _, tt := range []struct {
		name  string
		at    int
		given []given
		drink int // at minute 10
		goal  unit.Volume
		added unit.Volume
		out   unit.Volume
		ask   bool
	}{
		{"none due yet", 25, nil, 0, 3300, 0, 0, false},
		{"as ordered", 130, []given{{30, 100}, {60, 100}, {90, 100}, {120, 100}}, 0, 3300, 0, 0, false},
		{"14 minutes late, not given", 44, nil, 0, 3300, 0, 0, false},
		{"its time is over", 45, nil, 0, 3200, 0, 100, true},
		{"given late", 50, []given{{44, 100}}, 0, 3300, 0, 0, false},
		{"given early", 50, []given{{16, 100}}, 0, 3300, 0, 0, false},
		{"one left out between", 100, []given{{30, 100}, {90, 100}}, 0, 3200, 0, 100, true},
		{"two left out", 100, []given{{90, 100}}, 0, 3100, 0, 200, true},
		{"two at once", 40, []given{{29, 100}, {31, 100}}, 0, 3400, 100, 0, true},
		{"a larger one", 40, []given{{30, 150}}, 0, 3350, 50, 0, false},
		{"the planned drink hides none", 40, []given{{30, 100}}, 300, 3300, 0, 0, false},
		{"a drink beyond the plan, before the flushes have come", 40, []given{{30, 100}}, 600, 3600, 300, 0, true},
		{"a drink too much and one left out", 50, nil, 400, 3300, 0, 0, false},
	} {
		s := flushed(t)
		if tt.drink > 0 {
			put(s, on(10), &Drink{Volume: unit.Volume(tt.drink)})
		}
		for _, g := range tt.given {
			put(s, on(g.min), flush(g.ml))
		}
		n := setNow(t, s, tt.at)
		if o := n.Options[0]; o.Goal != tt.goal || n.Added != tt.added || n.Omitted != tt.out || n.Ask != tt.ask {
			t.Errorf("%s: goal %v added %v omitted %v ask %t; want %v %v %v %t", tt.name, o.Goal, n.Added, n.Omitted, n.Ask, tt.goal, tt.added, tt.out, tt.ask)
		}
		if set, ok := ToSetNow(s, on(tt.at)); !ok || set.Goal != tt.goal || set.Ask != tt.ask {
			t.Errorf("%s: to set %+v", tt.name, set)
		}
	}
}

// A goal that was changed on the machine took in what was left out by then; and what the
// plan left for later is lowered before the goal is.
func TestFlushesLeftOutBeforeANewGoal(t *testing.T) {
	s := flushed(t)
	put(s, on(50), &GoalChanged{Goal: 3200})
	if n := setNow(t, s, 70); n.Omitted != 0 || n.Options[0].Goal != 3200 || n.Ask {
		t.Errorf("taken off twice: %+v", n.Options[0])
	}
	put(s, on(60), flush(100))
	if n := setNow(t, s, 110); n.Omitted != 100 || n.Options[0].Goal != 3100 {
		t.Errorf("one more left out: omitted %v, goal %v", n.Omitted, n.Options[0].Goal)
	}
	s = flushed(t)
	edit(s, func(b *AgreedPlan) { b.SetGoal, b.LeftOver = 3150, 150 })
	if n := setNow(t, s, 50); n.Omitted != 0 || n.Options[0].Goal != 3150 {
		t.Errorf("lowered though more is left for later: %v", n.Options[0].Goal)
	}
	if n := setNow(t, s, 80); n.Omitted != 50 || n.Options[0].Goal != 3100 {
		t.Errorf("two left out, 150 for later: omitted %v, goal %v", n.Omitted, n.Options[0].Goal)
	}
}

// A longer session has flushes that the plan did not have: each is added.
func TestFlushesOfALongerSession(t *testing.T) {
	s := flushed(t)
	for k := 1; k <= 7; k++ {
		put(s, on(30*k), flush(100))
	}
	put(s, on(212), &GoalChanged{Goal: 3300, Length: ref(unit.Minutes(300))})
	if due, ok := NextFlush(s, on(213)); !ok || due.Number != 8 || due.Of != 9 || !due.At.Equal(on(240)) {
		t.Errorf("%+v %t", due, ok)
	}
	put(s, on(240), flush(100))
	if n := setNow(t, s, 241); n.Added != 100 || n.Options[0].Goal != 3400 {
		t.Errorf("added %v, goal %v", n.Added, n.Options[0].Goal)
	}
}

// A flush after a low pressure is no saline given for it: it is in the goal, and other
// saline then is not.
func TestFlushIsNotHeldForALowPressure(t *testing.T) {
	s := flushed(t)
	put(s, on(30), flush(100))
	put(s, on(55), &Reading{Systolic: mm(78), Removed: ref(unit.Volume(700))})
	put(s, on(56), &Saline{Volume: 200})
	put(s, on(60), flush(100))
	put(s, on(70), &Reading{Systolic: mm(120), Removed: ref(unit.Volume(800))})
	if n := setNow(t, s, 71); n.Saline != 200 || n.Added != 0 || n.Omitted != 0 {
		t.Errorf("saline not in the goal %v, added %v, omitted %v", n.Saline, n.Added, n.Omitted)
	}
}

// A flush where none was planned counts as any saline.
func TestFlushThatNobodyPlanned(t *testing.T) {
	s := connected(t)
	put(s, on(30), flush(100))
	if r, _ := Follow(s, on(40)); r.Beyond != 0 || r.Saline != 100 { // in the place of a planned drink
		t.Errorf("%v %v", r.Beyond, r.Saline)
	}
	put(s, on(35), flush(300))
	if r, _ := Follow(s, on(40)); r.Beyond != 100 {
		t.Errorf("%v", r.Beyond)
	}
	if due, ok := NextFlush(s, on(40)); ok {
		t.Errorf("due: %+v", due)
	}
}

// The next flush is the first that was not given and whose time is not over; a pause moves
// it, and the last is before the end.
func TestNextFlush(t *testing.T) {
	s := flushed(t)
	due := func(at, number, min int, late bool) {
		t.Helper()
		got, ok := NextFlush(s, on(at))
		if !ok || got.Number != number || got.Of != 7 || !got.At.Equal(on(min)) || got.Late != late || got.Volume != 100 {
			t.Errorf("at %d: %+v %t; want number %d at %d, late %t", at, got, ok, number, min, late)
		}
	}
	due(0, 1, 30, false)
	due(35, 1, 30, false)
	due(36, 1, 30, true)
	due(45, 2, 60, false) // the first is left out
	put(s, on(58), flush(100))
	due(58, 3, 90, false)
	if given, out := FlushesGiven(s, on(58)); given != 1 || out != 1 {
		t.Errorf("%d given, %d left out", given, out)
	}
	put(s, on(70), &Pause{})
	if got, ok := NextFlush(s, on(75)); !ok || !got.At.IsZero() || got.Number != 3 || got.Late {
		t.Errorf("while it stands still: %+v %t", got, ok)
	}
	put(s, on(90), &Resume{})
	due(95, 3, 110, false)
	for k := 3; k <= 7; k++ {
		put(s, on(20+30*k), flush(100))
	}
	if got, ok := NextFlush(s, on(232)); ok {
		t.Errorf("after the last: %+v", got)
	}
	put(s, on(260), &CameOff{Returned: "all"})
	if _, ok := NextFlush(s, on(261)); ok {
		t.Error("due after the end")
	}
	if given, out := FlushesGiven(s, on(300)); given != 6 || out != 1 {
		t.Errorf("at the end: %d given, %d left out", given, out)
	}
}

// Without heparin nothing asks for it, and heparin that is drawn is a stop.
func TestNoHeparinWorks(t *testing.T) {
	s := flushed(t)
	at := on(-1)
	if c := check(t, StartLine(s, known(), at), CheckHeparin); c.State != Ready {
		t.Errorf("%s %q", c.State, c.Words)
	}
	sheet := WithNight(DefaultSetUp()).WithoutHeparin()
	if sheet.ticked("heparin_drawn") >= 0 || sheet.Validate() != nil || len(sheet.Steps) != len(WithNight(DefaultSetUp()).Steps)-1 {
		t.Errorf("the steps ask for it, or do not fit any more: %v", sheet.Validate())
	}
	if gate, _ := sheet.Step("start_line"); slices.Contains(gate.After, "heparin") || len(gate.After) == 0 {
		t.Errorf("the start line waits for %v", gate.After)
	}
	r, _ := Follow(s, on(200))
	if !r.HeparinStop.IsZero() {
		t.Error("a heparin pump is to be stopped")
	}
	put(s, on(100), &Reading{}).Missing = map[string]Missing{"heparin_so_far_iu": NotRecorded, "tmp_mmhg": NotRecorded}
	if !slices.ContainsFunc(OpenItems(s), func(o OpenItem) bool { return o.Key == "tmp_mmhg" }) {
		t.Error("what is lacking of the reading is not listed")
	}
	for _, o := range OpenItems(s) {
		if strings.Contains(o.Kind+o.Key, "heparin") {
			t.Errorf("%+v", o)
		}
	}
	put(s, at.Add(-time.Minute), &HeparinDrawn{Strength: 1000, Bolus: 1500, BolusVol: 150, Lot: "h1", Expiry: date(t, "2027-01-31")})
	if c := check(t, StartLine(s, known(), at), CheckHeparin); c.State != StopHere {
		t.Errorf("drawn all the same: %s %q", c.State, c.Words)
	}
}
