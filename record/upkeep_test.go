package record

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

// house tries an entry that belongs to nobody in particular.
func (b *book) house(kind string, body any) Entry {
	b.t.Helper()
	e := b.entry(kind, "", body)
	e.Person = ""
	return e
}

// keep adds one that must be taken.
func (b *book) keep(kind string, body any) Entry {
	b.t.Helper()
	e := b.house(kind, body)
	if found := b.try(e); len(found) > 0 {
		b.t.Fatalf("%s: %v", kind, found)
	}
	return e
}

// refuses holds that an entry is not taken, with these words on this field.
func (b *book) refuses(step Step, field, words string, e Entry) {
	b.t.Helper()
	for _, one := range Check(b.h, e) {
		if one.Field == field && one.Step == step && strings.Contains(one.Words, words) {
			return
		}
	}
	b.t.Errorf("%s: want %s on %s with %q; got %v", e.Kind, step, field, words, Check(b.h, e))
}

// TestHouseKindsNeedNoPerson: what belongs to the household is taken without a
// person, corrected and struck out without one, and refused with a stranger's.
func TestHouseKindsNeedNoPerson(t *testing.T) {
	b := newBook(t)
	day := unit.DateOf(b.now)
	first := b.keep("utility_notice", &UtilityNotice{From: day, Words: "main flushed in our street"})
	e := b.house("utility_notice", &UtilityNotice{From: day, Words: "main flushed in the next street"})
	e.Corrects, e.Reason = first.ID, "misread"
	if found := b.try(e); len(found) > 0 {
		t.Fatal(found)
	}
	b.keep("struck", &Struck{Entry: e.ID, Reason: "not our street"})
	for i, n := range b.h.Upkeep.Notices {
		if n.Struck == nil {
			t.Errorf("notice %d still counts", i)
		}
	}
	stranger := b.house("round_done", &RoundDone{Item: "clinic", Outcome: "done"})
	stranger.Person = "nobody-known"
	b.refuses(Refuse, "person", "nobody", stranger)
	lost := b.house("question", &Question{Words: "whose is this"})
	b.refuses(Refuse, "person", "nobody", lost)
	unknown := b.house("struck", &Struck{Entry: "never-written", Reason: "whatever"})
	b.refuses(Refuse, "person", "nobody", unknown)
}

// waterSample takes a sample to "sent".
func (b *book) waterSample(id, point string, what ...string) {
	b.t.Helper()
	b.keep("water_sample", &WaterSample{Sample: id, State: "planned", Point: point, For: what, PlannedOn: unit.DateOf(b.now)})
	b.keep("water_sample", &WaterSample{Sample: id, State: "drawn", Cooled: true})
	b.keep("water_sample", &WaterSample{Sample: id, State: "sent", Carrier: "courier"})
}

func aResult(id string, results ...water.Result) *WaterResult {
	celsius, plated := unit.Temperature(200), unit.Drawn(100)
	return &WaterResult{Sample: id, Laboratory: "Laboratory (invented)", Edition: water.ISO2019, Use: "standard",
		Medium: "R2A", Celsius: &celsius, Days: 7, Plated: &plated, Results: results}
}

func count(v float64) water.Result {
	return water.Result{What: water.ViableCount, Op: water.Equal, Value: v, Unit: water.CFUPerML}
}

// The states a sample goes through, and no others.
func TestSampleSteps(t *testing.T) {
	b := newBook(t)
	b.refuses(Refuse, "sample", "never planned", b.house("water_sample", &WaterSample{Sample: "sample-01", State: "drawn"}))
	b.refuses(Refuse, "point", "blank", b.house("water_sample", &WaterSample{Sample: "sample-01", State: "planned", For: []string{"endotoxin"}, PlannedOn: unit.DateOf(b.now)}))
	b.refuses(Refuse, "for", "nothing a laboratory", b.house("water_sample", &WaterSample{Sample: "sample-01", State: "planned", Point: water.PointInlet, For: []string{"gold"}, PlannedOn: unit.DateOf(b.now)}))
	b.keep("water_sample", &WaterSample{Sample: "sample-01", State: "planned", Point: water.PointInlet, For: []string{"viable_count"}, PlannedOn: unit.DateOf(b.now)})
	b.refuses(Refuse, "sample", "planned already", b.house("water_sample", &WaterSample{Sample: "sample-01", State: "planned", Point: water.PointInlet, For: []string{"viable_count"}, PlannedOn: unit.DateOf(b.now)}))
	b.refuses(Refuse, "state", "after planned comes drawn or lost", b.house("water_sample", &WaterSample{Sample: "sample-01", State: "sent"}))
	b.refuses(Refuse, "sample", "is planned", b.house("water_result", aResult("sample-01", count(3))))
	b.keep("water_sample", &WaterSample{Sample: "sample-01", State: "drawn"})
	b.keep("water_sample", &WaterSample{Sample: "sample-01", State: "sent"})
	b.now = b.now.Add(20 * 24 * time.Hour)
	s, _ := b.h.Upkeep.Sample("sample-01")
	if late := water.DefaultSampleRule().Overdue(s, b.now); len(late) != 1 || late[0].Code != "sample_no_result" {
		t.Errorf("20 days after sending: %v, want the missing result", late)
	}
	b.keep("water_result", aResult("sample-01", count(3)))
	if s, _ := b.h.Upkeep.Sample("sample-01"); s.State != water.SampleJudged {
		t.Errorf("after its result the sample is %s", s.State)
	}
	b.refuses(Refuse, "sample", "is judged", b.house("water_result", aResult("sample-01", count(3))))
}

// The three bands of microbes and endotoxin at their edges, as they become
// tasks (ISO 23500-3:2019: under 100 CFU/mL and 0.25 EU/mL, acting from half).
func TestFailedResultBecomesATask(t *testing.T) {
	for _, tt := range []struct {
		what  water.Substance
		value float64
		want  water.Verdict
	}{
		{water.ViableCount, 49, water.Within}, {water.ViableCount, 50, water.Action}, {water.ViableCount, 99, water.Action}, {water.ViableCount, 100, water.Over},
		{water.Endotoxin, 0.124, water.Within}, {water.Endotoxin, 0.125, water.Action}, {water.Endotoxin, 0.249, water.Action}, {water.Endotoxin, 0.25, water.Over},
	} {
		b := newBook(t)
		b.waterSample("sample-01", water.PointProduct, string(tt.what))
		r := count(tt.value)
		if tt.what == water.Endotoxin {
			r = water.Result{What: tt.what, Op: water.Equal, Value: tt.value, Unit: water.EUPerML}
		}
		body := aResult("sample-01", r)
		if tt.want != water.Within {
			b.refuses(Refuse, "owner", "somebody has to see to it", b.house("water_result", body))
			body.Owner = "Orla"
		}
		e := b.keep("water_result", body)
		j := b.h.Upkeep.Result(e.ID)
		if j.Judgements[0].Verdict != tt.want || j.Open() != (tt.want != water.Within) {
			t.Errorf("%s %v: %s, open %v; want %s", tt.what, tt.value, j.Judgements[0].Verdict, j.Open(), tt.want)
		}
		if tt.want == water.Within {
			b.refuses(Refuse, "result_id", "nothing to see to", b.house("task_closed", &TaskClosed{Result: e.ID, Did: "nothing", Told: "nobody"}))
			continue
		}
		b.refuses(Refuse, "told", "too short", b.house("task_closed", &TaskClosed{Result: e.ID, Did: "disinfected, drawn again", Told: "x"}))
		done := b.keep("task_closed", &TaskClosed{Result: e.ID, Did: "disinfected, drawn again", Told: "the unit by telephone"})
		if b.h.Upkeep.Result(e.ID).Open() {
			t.Error("followed up and still open")
		}
		b.keep("struck", &Struck{Entry: done.ID, Reason: "wrong result"})
		if !b.h.Upkeep.Result(e.ID).Open() {
			t.Error("the follow-up was struck out and the task did not come back")
		}
	}
}

// A judgement stands when the edition or the unit's own limit changes after it.
func TestJudgementsKeepTheirEdition(t *testing.T) {
	b := newBook(t)
	sodium := water.Result{What: water.Sodium, Op: water.Equal, Value: 60, Unit: water.MgPerL}
	b.waterSample("sample-01", water.PointProduct, "sodium")
	old := b.keep("water_result", aResult("sample-01", sodium))
	b.waterSample("sample-02", water.PointProduct, "sodium")
	body := aResult("sample-02", sodium)
	body.Edition, body.Owner = water.Proposal, "Orla"
	newer := b.keep("water_result", body)
	day := unit.DateOf(b.now)
	b.keep("water_limit", &WaterLimit{What: "sodium", Use: "standard", Max: "40", Unit: "mg/L", SetBy: "Dr Q (invented)", SetOn: day})
	b.waterSample("sample-03", water.PointProduct, "sodium")
	third := aResult("sample-03", sodium)
	third.Owner = "Orla"
	own := b.keep("water_result", third)
	for _, tt := range []struct {
		id   string
		want water.Verdict
		max  float64
	}{{old.ID, water.Within, 70}, {newer.ID, water.Over, 50}, {own.ID, water.Over, 40}} {
		j := b.h.Upkeep.Result(tt.id).Judgements[0]
		if j.Verdict != tt.want || j.Limit.Max != tt.max {
			t.Errorf("%s: %s against %v; want %s against %v", tt.id, j.Verdict, j.Limit.Max, tt.want, tt.max)
		}
	}
	if setter := b.h.Upkeep.Result(own.ID).Judgements[0].Limit.Setter; setter != "Dr Q (invented)" {
		t.Errorf("the unit's limit names %q as its setter", setter)
	}
	// A judgement that was sent along must be the one the limits give.
	b.waterSample("sample-04", water.PointProduct, "sodium")
	forged := aResult("sample-04", sodium)
	forged.Owner = "Orla"
	forged.Judged = b.h.Upkeep.Result(old.ID).Judgements
	b.refuses(Refuse, "judged", "limits in force", b.house("water_result", forged))
	forged.Judged, _ = b.h.Upkeep.Judge(forged)
	b.keep("water_result", forged)
}

// Censored figures, the basis of nitrate, and figures a thousand times off.
func TestResultsAsReported(t *testing.T) {
	b := newBook(t)
	b.waterSample("sample-01", water.PointProduct, "nitrate", "lead")
	noBasis := aResult("sample-01", water.Result{What: water.Nitrate, Op: water.Equal, Value: 8.9, Unit: water.MgPerL})
	b.refuses(Refuse, "results", `"N" or "NO3"`, b.house("water_result", noBasis))
	wrongUnit := aResult("sample-01", water.Result{What: water.Lead, Op: water.Equal, Value: 4, Unit: water.MgPerL})
	wrongUnit.Owner = "Orla"
	b.refuses(Ask, "laboratory", "is the unit right?", b.house("water_result", wrongUnit))
	inUg := aResult("sample-01", water.Result{What: water.Lead, Op: water.Equal, Value: 4, Unit: water.UgPerL},
		water.Result{What: water.Nitrate, Op: water.Equal, Value: 8.85, Unit: water.MgPerL, Basis: water.AsNO3})
	b.keep("water_result", inUg)

	b.waterSample("sample-02", water.PointProduct, "endotoxin")
	cannot := aResult("sample-02", water.Result{What: water.Endotoxin, Op: water.Less, Value: 0.5, Unit: water.EUPerML})
	cannot.Owner = "Orla"
	e := b.keep("water_result", cannot)
	if v := b.h.Upkeep.Result(e.ID).Judgements[0].Verdict; v != water.CannotTell {
		t.Errorf("<0.5 EU/mL is %s, want cannot tell", v)
	}

	b.waterSample("sample-03", water.PointProduct, "viable_count")
	blind := aResult("sample-03", count(2))
	blind.Plated = nil
	b.refuses(Refuse, "medium", "ask the laboratory", b.house("water_result", blind))
	b.waterSample("sample-04", water.PointFluid, "viable_count")
	b.refuses(Refuse, "edition", "does not go with", b.house("water_result", aResult("sample-04", count(2))))
}

func TestWaterReadingChecks(t *testing.T) {
	b := newBook(t)
	kpa := func(v float64) *unit.Gauge { g := unit.Gauge(v * 10); return &g }
	us := func(v float64) *unit.Trace { g := unit.Trace(v * 10); return &g }
	hours := func(v float64) *unit.Hours { g := unit.Hours(v * 100); return &g }
	b.refuses(Refuse, "after_second_carbon_kpa", "wrong way round", b.house("water_reading", &WaterReading{AfterCarbon: kpa(300), AfterCarbon2: kpa(340)}))
	b.refuses(Refuse, "product_conductivity_us_cm", "still blank", b.house("water_reading", &WaterReading{}))
	b.refuses(Refuse, "after_softener_kpa", "wrong way round", b.house("water_reading", &WaterReading{Feed: kpa(300), AfterSoftener: kpa(340)}))
	b.refuses(Refuse, "product_conductivity_us_cm", "wrong way round", b.house("water_reading", &WaterReading{FeedConduct: us(12), ProductConduct: us(480)}))
	b.keep("water_reading", &WaterReading{Feed: kpa(340), AfterCarbon: kpa(300), FeedConduct: us(480), ProductConduct: us(9), MachineHours: hours(2410)})
	b.refuses(Ask, "machine_h", "2410", b.house("water_reading", &WaterReading{MachineHours: hours(241)}))
}

func TestRoundEntries(t *testing.T) {
	b := newBook(t)
	day := unit.DateOf(b.now)
	b.refuses(Refuse, "item", "small letters", b.house("round_item", &RoundItem{Item: "My Filter", Name: "x", Days: 3, SetBy: "me", SetOn: day}))
	b.refuses(Refuse, "days", "still blank", b.house("round_item", &RoundItem{Item: "seal", Name: "Door seal", SetBy: "me", SetOn: day}))
	b.refuses(Refuse, "item", "nothing that recurs", b.house("round_done", &RoundDone{Item: "seal", Outcome: "done"}))
	before := len(b.h.Upkeep.Rounds())
	b.keep("round_item", &RoundItem{Item: "seal", Name: "Door seal", Days: 30, SetBy: "me", SetOn: day})
	b.keep("round_item", &RoundItem{Item: "uv", Name: "UV lamp", Days: 1, Off: true, SetBy: "me", SetOn: day})
	b.keep("round_item", &RoundItem{Item: "carbon", Name: "Carbon, both", Months: 4, Sessions: 60, StartLine: true, SetBy: "Dr Q (invented)", SetOn: day})
	rounds := b.h.Upkeep.Rounds()
	if len(rounds) != before {
		t.Errorf("%d rounds, want %d: one added, one off", len(rounds), before)
	}
	for _, r := range rounds {
		if r.ID == "uv" {
			t.Error("the lamp is still followed")
		}
		if r.ID == "carbon" && (r.Every.Sessions != 60 || !r.StartLine || r.Status != water.Given) {
			t.Errorf("the carbon is %+v", r)
		}
	}
	kg := func(v int64) *unit.Mass { m := unit.Mass(v); return &m }
	b.refuses(Refuse, "shown_kg", "write both", b.house("round_done", &RoundDone{Item: "scale", Outcome: "done", KnownMass: kg(20000)}))
	b.refuses(Refuse, "known_kg", "does not belong", b.house("round_done", &RoundDone{Item: "seal", Outcome: "done", KnownMass: kg(20000), ShownMass: kg(20100)}))
	b.keep("round_done", &RoundDone{Item: "scale", Outcome: "done", KnownMass: kg(20000), ShownMass: kg(20100)})
	if off, ok := b.h.Upkeep.Done[len(b.h.Upkeep.Done)-1].Value.Off(); !ok || off != "+0.1\u00a0kg" {
		t.Errorf("the scale is off by %q, %v", off, ok)
	}
	warm, cold := unit.Temperature(81), unit.Temperature(80)
	b.refuses(Refuse, "shown_c", "what the fridge shows", b.house("round_done", &RoundDone{Item: "fridge", Outcome: "done"}))
	b.refuses(Ask, "shown_c", "outside 2 to 8", b.house("round_done", &RoundDone{Item: "fridge", Outcome: "done", ShownTemp: &warm}))
	b.keep("round_done", &RoundDone{Item: "fridge", Outcome: "done", ShownTemp: &cold})
	b.refuses(Refuse, "about", "no fault", b.house("fault", &Fault{Words: "conductivity alarm at start", About: "entry-99999"}))
	first := b.keep("fault", &Fault{Words: "conductivity alarm at start"})
	b.keep("fault", &Fault{Words: "technician changed the pump", About: first.ID, Mended: true})
	b.refuses(Refuse, "secret", "not a secret", b.entry("calendar_secret", "", &CalendarSecret{Secret: "short", Titles: "busy"}))
}

// A notice is ended by an entry that names it and its last day.
func TestNoticeIsEnded(t *testing.T) {
	b := newBook(t)
	day := unit.DateOf(b.now)
	first := b.keep("utility_notice", &UtilityNotice{From: day, Words: "main flushed"})
	b.refuses(Refuse, "about", "no notice", b.house("utility_notice", &UtilityNotice{From: day, To: day, Words: "it is over", About: "entry-99999"}))
	b.refuses(Refuse, "to", "still blank", b.house("utility_notice", &UtilityNotice{From: day, Words: "it is over", About: first.ID}))
	b.refuses(Refuse, "to", "before the day it began", b.house("utility_notice", &UtilityNotice{From: day.Add(-9), To: day.Add(-1), Words: "it is over", About: first.ID}))
	b.keep("utility_notice", &UtilityNotice{From: day, To: day.Add(1), Words: "it is over", About: first.ID})
	if n := b.h.NoticesAt(b.now.Add(time.Hour)); len(n) != 1 || n[0].To != day.Add(1) || n[0].Open(day.Add(4)) {
		t.Errorf("%+v", n)
	}
	if n := b.h.NoticesAt(b.now.Add(-240 * time.Hour)); len(n) != 0 {
		t.Errorf("before it came: %+v", n)
	}
}

// A notice that is put right after it ended has ended all the same, and its end
// can be put right after that.
func TestCorrectedNoticeHasEnded(t *testing.T) {
	b := newBook(t)
	day := unit.DateOf(b.now)
	first := b.keep("utility_notice", &UtilityNotice{From: day, Words: "main flushed"})
	end := b.keep("utility_notice", &UtilityNotice{From: day, To: day.Add(1), Words: "it is over", About: first.ID})
	b.must2(b.correction(first, &UtilityNotice{From: day, Words: "main flushed in the next street"}))
	ends := func(on unit.Date) {
		t.Helper()
		n := b.h.NoticesAt(b.now.Add(time.Hour))
		if len(n) != 1 || n[0].Text != "main flushed in the next street" || n[0].To != on {
			t.Errorf("%+v", n)
		}
	}
	ends(day.Add(1))
	b.must2(b.correction(end, &UtilityNotice{From: day, To: day.Add(2), Words: "it is over", About: first.ID}))
	ends(day.Add(2))
}

// A residual test is negative up to the bound of what was used: for chlorine
// 0.1 mg/L itself, for peracetic acid and formaldehyde under 1 and 3.
func TestResidualTestNegative(t *testing.T) {
	mg := func(v float64) unit.Concentration { return unit.Concentration(v * 1000) }
	for _, tt := range []struct {
		what  string
		value float64
		below bool
		want  bool
	}{
		{"chlorine", 0.1, false, true}, {"chlorine", 0.11, false, false}, {"chlorine", 0.1, true, true}, {"chlorine", 0.5, true, false},
		{"peracetic", 0.99, false, true}, {"peracetic", 1, false, false}, {"peracetic", 1, true, true},
		{"formaldehyde", 2.9, false, true}, {"formaldehyde", 3, false, false},
	} {
		if got, _ := (ResidualTest{For: tt.what, Value: mg(tt.value), Below: tt.below}).Negative(); got != tt.want {
			t.Errorf("%s %v (below %v): negative %v", tt.what, tt.value, tt.below, got)
		}
	}
}

// What stands at the start line of the machine's disinfection: idle hours by the
// unit's rule and by the program's own, a cycle run outside a session, and
// disinfectant that nobody has looked for.
func TestMachineCareAtTheStartLine(t *testing.T) {
	check := func(b *book, id string) session.Check {
		t.Helper()
		s := b.h.Session(id)
		for _, c := range session.StartLine(s, b.h.Member("person-one").History(s), b.now) {
			if c.ID == session.CheckCleaned {
				return c
			}
		}
		t.Fatal("the machine's disinfection is not on the start line")
		return session.Check{}
	}
	held := func(programme, result string) *book {
		b := newBook(t)
		b.paperRun("session-01")
		b.now = b.now.Add(4 * time.Hour)
		b.must("came_off", "session-01", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(2000))})
		b.must("disinfection", "session-01", &session.Disinfection{Programme: programme, Result: result})
		b.must("closed", "session-01", &session.Closed{})
		return b
	}
	hours := func(v float64) *unit.Hours { g := unit.Hours(v * 100); return &g }

	b := held("heat", "passed")
	b.now = b.now.Add(40 * time.Hour)
	b.open("session-02")
	if c := check(b, "session-02"); c.State != session.Ready {
		t.Errorf("40 hours after heat: %s, %s", c.State, c.Words)
	}
	b.now = b.now.Add(10 * time.Hour)
	if c := check(b, "session-02"); c.State != session.Look || !strings.Contains(c.Words, "50 hours") {
		t.Errorf("50 hours by the program's own figure: %s, %s; want it said", c.State, c.Words)
	}
	b.keep("water_rules", &WaterRules{Edition: water.ISO2019, Use: "standard", MaxIdle: hours(24), SetBy: "Dr Q (invented)", SetOn: unit.DateOf(b.now)})
	if c := check(b, "session-02"); c.State != session.StopHere || !strings.Contains(c.Limit, "Dr Q (invented)") {
		t.Errorf("50 hours where the unit allows 24: %s, %s, %s; want a stop that names who set it", c.State, c.Words, c.Limit)
	}
	b.keep("round_done", &RoundDone{Item: "heat", Outcome: "done"})
	if c := check(b, "session-02"); c.State != session.Ready {
		t.Errorf("disinfected again: %s, %s", c.State, c.Words)
	}
	b.keep("round_done", &RoundDone{Item: "heat", Outcome: "failed"})
	if c := check(b, "session-02"); c.State != session.StopHere {
		t.Errorf("the last cycle failed: %s, %s", c.State, c.Words)
	}

	b = held("chemical", "passed")
	b.now = b.now.Add(20 * time.Hour)
	b.open("session-02")
	if c := check(b, "session-02"); c.State != session.StopHere {
		t.Errorf("after a chemical night: %s, %s; want the test asked for", c.State, c.Words)
	}
	b.must("step", "session-02", &session.StepDone{Phase: session.SetUp, Step: session.ResidueStep, State: "done"})
	if c := check(b, "session-02"); c.State != session.StopHere || !strings.Contains(c.Words, "tick is not enough") {
		t.Errorf("ticked without a result: %s, %s", c.State, c.Words)
	}
	b.keep("round_done", &RoundDone{Item: "heat", Outcome: "done"})
	if c := check(b, "session-02"); c.State != session.StopHere {
		t.Errorf("a heat cycle took the place of the test: %s, %s", c.State, c.Words)
	}
	b.keep("residual_test", &ResidualTest{For: "chlorine", Value: 500, Lot: "R1", Expiry: unit.DateOf(b.now).Add(90)})
	if c := check(b, "session-02"); c.State != session.StopHere || !strings.Contains(c.Words, "0.5\u00a0mg/L chlorine, limit 0.1\u00a0mg/L") {
		t.Errorf("a positive test was taken as none left: %s, %s", c.State, c.Words)
	}
	b.refuses(Ask, "expiry", "expired strip shows nothing", b.house("residual_test", &ResidualTest{For: "chlorine", Value: 50, Lot: "R1", Expiry: unit.DateOf(b.now).Add(-1)}))
	if (ResidualTest{For: "chlorine", Value: 50, Expiry: unit.DateOf(b.now).Add(-1)}).Shows(b.now) || !(ResidualTest{For: "chlorine", Value: 50, Expiry: unit.DateOf(b.now)}).Shows(b.now) {
		t.Error("an expired strip shows something, or one on its last day nothing")
	}
	b.keep("residual_test", &ResidualTest{For: "chlorine", Value: 50, Lot: "R1", Expiry: unit.DateOf(b.now).Add(90)})
	if c := check(b, "session-02"); c.State != session.Look || !strings.Contains(c.Words, "0.5\u00a0mg/L") || !strings.Contains(c.Words, "0.05\u00a0mg/L") {
		t.Errorf("after a good test that followed a bad one: %s, %s; want both values", c.State, c.Words)
	}
}
