package session

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"ebbline/fluid"
	"ebbline/unit"
)

// dialled is a session set up with nothing amiss, whose plan takes off so many mL
// in so many minutes, read back 37 minutes after it was opened. The machine's
// field goes in steps of so many mL.
func dialled(t testing.TB, dry unit.Mass, goal unit.Volume, length unit.Minutes, step unit.Volume, limits Limits) *Session {
	t.Helper()
	s := ready(t)
	s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { return e.Kind == "plan" || e.Kind == "read_back" })
	s.Machine = Machine{GoalUnit: "mL", GoalStep: &step, Kind: "single_pass"}
	s.Rx.DryWeight, s.Rx.Length, s.Rx.Limits, s.Rx.Intake, s.Rx.Washback = dry, &length, limits, 0, 0
	edit(s, func(w *WeighIn) { w.Weight, w.Clothing = dry+unit.Mass(goal), 0 })
	p := plan(t, s, Choices{}, History{})
	agree(s, 35, p)
	return s
}

// agree writes down a plan and what the machine shows, so many minutes after the
// session was opened.
func agree(s *Session, after int, p Plan) {
	put(s, evening.Add(mins(after)), &p.AgreedPlan)
	put(s, evening.Add(mins(after+2)), &ReadBack{Goal: p.SetGoal, Length: &p.Length, Shown: p.GoalDigits})
}

func planCheck(t testing.TB, s *Session, after int) Check {
	t.Helper()
	checks := StartLine(s, History{}, evening.Add(mins(after)))
	return checks[slices.IndexFunc(checks, func(c Check) bool { return c.ID == CheckPlan })]
}

// noneSet are limits in which the unit said that it sets none of rate.
func noneSet(t testing.TB) Limits {
	return Limits{RateNoneBy: "Nurse Oren", RateNoneOn: date(t, "2026-03-04")}
}

// Each bound of the rate and its neighbours, by what the unit set. 60 kg and 10 h
// make 600 mL of goal one mL/h/kg.
func TestRateOfThePlan(t *testing.T) {
	limit := func(r unit.RatePerKg) Limits {
		return Limits{SetBy: "Dr Lind", SetOn: date(t, "2026-03-03"), Rate: &r}
	}
	volume := Limits{SetBy: "Dr Lind", SetOn: date(t, "2026-03-03"), MaxRemoval: ref(unit.Volume(9000))}
	for _, tt := range []struct {
		name string
		of   Limits
		goal unit.Volume
		want CheckState
		code string
		said string // the codes of the cautions
	}{
		{"nothing set, 9.99", Limits{}, 5994, Ready, "plan_ready", ""},
		{"nothing set, 10", Limits{}, 6000, Ready, "plan_ready", ""},
		{"nothing set, 1 mL over 10", Limits{}, 6001, Look, "plan_rate_look", "rate_above_10"},
		{"nothing set, 10.01", Limits{}, 6006, Look, "plan_rate_look", "rate_above_10"},
		{"nothing set, 13", Limits{}, 7800, Look, "plan_rate_look", "rate_above_10"},
		{"nothing set, 1 mL over 13", Limits{}, 7801, StopHere, "plan_rate_stop", "rate_above_10 rate_above_13"},
		{"nothing set, 13.01", Limits{}, 7806, StopHere, "plan_rate_stop", "rate_above_10 rate_above_13"},

		{"a largest removal only, 10", volume, 6000, Ready, "plan_ready", ""},
		{"a largest removal only, 10.01", volume, 6006, Look, "plan_rate_look", "rate_above_10"},
		{"a largest removal only, 13.01", volume, 7806, StopHere, "plan_rate_stop", "rate_above_10 rate_above_13"},

		{"the unit sets none, 10", noneSet(t), 6000, Ready, "plan_ready", ""},
		{"the unit sets none, 10.01", noneSet(t), 6006, Ready, "plan_ready", "rate_above_10"},
		{"the unit sets none, 13", noneSet(t), 7800, Ready, "plan_ready", "rate_above_10"},
		{"the unit sets none, 13.01", noneSet(t), 7806, StopHere, "plan_rate_stop", "rate_above_10 rate_above_13"},

		{"the unit's 12, 10.01", limit(1200), 6006, Ready, "plan_ready", ""},
		{"the unit's 12, 12", limit(1200), 7200, Ready, "plan_ready", ""},
		{"the unit's 13, 13", limit(1300), 7800, Ready, "plan_ready", ""},
		{"the unit's 15, 13.01", limit(1500), 7806, Ready, "plan_ready", ""},
		{"the unit's 15, 15", limit(1500), 9000, Ready, "plan_ready", ""},
		{"the unit's 8, 8", limit(800), 4800, Ready, "plan_ready", ""},
	} {
		s := dialled(t, 60_000, tt.goal, 600, 1, tt.of)
		c := planCheck(t, s, 40)
		if c.State != tt.want || !slices.Equal(c.Codes, []string{tt.code}) {
			t.Errorf("%s: %s %v, want %s %s: %q", tt.name, c.State, c.Codes, tt.want, tt.code, c.Words)
		}
		agreed, e := Last[AgreedPlan](s)
		if got := strings.Join(onlyRate(CautionsOf(s, *agreed, History{}, e.At)), " "); got != tt.said {
			t.Errorf("%s: beside the plan stand %q, want %q", tt.name, got, tt.said)
		}
		again := plan(t, s, Choices{}, History{})
		if quiet := tt.want == Ready; (again.RateSaid == nil) != quiet {
			t.Errorf("%s: the page says %+v", tt.name, again.RateSaid)
		}
		if r := again.RateSaid; r != nil && (r.Words != c.Words || r.Limit != c.Limit || r.Stop != (tt.want == StopHere)) {
			t.Errorf("%s: the page says %+v, the start line %q (%s)", tt.name, r, c.Words, c.Limit)
		}
		inside := tt.of.Rate != nil && tt.goal > 6000
		if (again.Studied != "") != inside {
			t.Errorf("%s: the line about the studies is %q", tt.name, again.Studied)
		}
		want := "13\u00a0mL/h/kg, the program's own default, not set by your unit"
		switch {
		case tt.of.Rate != nil:
			want = tt.of.Rate.Text() + ", set by Dr Lind on 3 March 2026"
		case tt.want == Look:
			want = "10\u00a0mL/h/kg, the program's own default, not set by your unit"
		case tt.of.RateNoneBy != "":
			want += ": it sets none (Nurse Oren, 4 March 2026)"
		}
		if c.Limit != want {
			t.Errorf("%s: held against %q, want %q", tt.name, c.Limit, want)
		}
	}
}

func onlyRate(codes []string) []string {
	return slices.DeleteFunc(codes, func(c string) bool { return !strings.HasPrefix(c, "rate_") })
}

// The two evenings on which 19.4 and 27.6 mL/h/kg stood under a ready line.
func TestRateCheckValues(t *testing.T) {
	s := dialled(t, 58_200, 3950, 210, 10, Limits{})
	c := planCheck(t, s, 40)
	if want := "19.4\u00a0mL/h/kg (1129\u00a0mL/h), above 13. Ring your unit: longer, or less? 5\u00a0h\u00a014\u00a0min brings it to 13. In 3\u00a0h\u00a030\u00a0min 2640\u00a0mL fits; 1310\u00a0mL stays on."; c.State != StopHere || c.Words != want {
		t.Errorf("%s %q\nwant %q", c.State, c.Words, want)
	}
	s = dialled(t, 58_000, 4000, 150, 10, Limits{SetBy: "Dr Lind", SetOn: date(t, "2026-03-03"), MaxRemoval: ref(unit.Volume(4000))})
	c = planCheck(t, s, 40)
	if want := "27.6\u00a0mL/h/kg (1600\u00a0mL/h), above 13. Ring your unit: longer, or less? 5\u00a0h\u00a019\u00a0min brings it to 13. In 2\u00a0h\u00a030\u00a0min 1880\u00a0mL fits; 2120\u00a0mL stays on."; c.State != StopHere || c.Words != want {
		t.Errorf("%s %q\nwant %q", c.State, c.Words, want)
	}
	// The greatest volume cuts 600 mL more, which stay on as well.
	s = dialled(t, 58_000, 4600, 150, 10, Limits{SetBy: "Dr Lind", SetOn: date(t, "2026-03-03"), MaxRemoval: ref(unit.Volume(4000))})
	if c := planCheck(t, s, 40); !strings.Contains(c.Words, "1880\u00a0mL fits; 2720\u00a0mL stays on") {
		t.Errorf("cut by the greatest volume first: %q", c.Words)
	}
}

// The length is rounded up and the goal down: at each of them the rate lies
// inside, and one minute or one step further it does not. Nothing is lost.
func TestRateRemediesAreRounded(t *testing.T) {
	dice := lcg(7)
	stops := 0
	for range 4000 {
		dry := unit.Mass(35_000 + dice.next(90_000))
		goal := unit.Volume(200 + dice.next(9000))
		length := unit.Minutes(30 + dice.next(600))
		step := []unit.Volume{1, 5, 10, 20, 50, 100}[dice.next(6)]
		bound := []unit.RatePerKg{stopRate, lookRate, 785, 1299}[dice.next(4)]
		if !above(bound, goal, length, dry) {
			continue
		}
		stops++
		longer, less := lengthAt(bound, goal, dry), goalAt(bound, length, dry, step)
		if above(bound, goal, longer, dry) || !above(bound, goal, longer-1, dry) {
			t.Fatalf("%v of %v in %v: %v is not the shortest inside %v", goal, dry, length, longer, bound)
		}
		if above(bound, less, length, dry) || !above(bound, less+step, length, dry) || less%step != 0 || less >= goal {
			t.Fatalf("%v of %v in %v: %v is not the largest inside %v, in steps of %v", goal, dry, length, less, bound, step)
		}
		// The other road: package fluid, in whole fractions.
		if longer > 1440 {
			continue
		}
		p, err := fluid.NewPlan(fluid.PlanInput{PreWeight: (dry + unit.Mass(goal)).Exact(), DryWeight: dry.Exact(), Session: length.Exact(), RateLimit: exactly(bound)})
		if err != nil || unit.Minutes(*p.ShortestSessionMin) != longer || floorTo(unit.Volume(*p.LargestGoalMl), step) != less {
			t.Fatalf("%v of %v in %v at %v: %v and %v, by fluid %v and %v, %v", goal, dry, length, bound, longer, less, *p.ShortestSessionMin, *p.LargestGoalMl, err)
		}
	}
	if stops < 1000 {
		t.Fatalf("only %d lay over", stops)
	}
}

// A rate over a bound is never written as that bound, and never off by more than
// half of its last digit, or a hundredth.
func TestRateOverIsWrittenOver(t *testing.T) {
	dice := lcg(9)
	for range 4000 {
		dry, length := unit.Mass(35_000+dice.next(90_000)), unit.Minutes(30+dice.next(600))
		goal := goalAt(stopRate, length, dry, 1) + 1 + unit.Volume(dice.next(60)*dice.next(60))
		text := rateOver(stopRate, goal, length, dry)
		var shown unit.RatePerKg
		if err := shown.UnmarshalText([]byte(strings.TrimSuffix(text, "\u00a0mL/h/kg"))); err != nil {
			t.Fatal(err)
		}
		is := float64(goal) * 60000 / float64(length) / float64(dry)
		if d := shown.Float() - is; shown <= stopRate || d > 0.0501 || d < -0.0501 {
			t.Fatalf("%v of %v in %v is %.4f, written %s", goal, dry, length, is, text)
		}
	}
	if got := rateOver(stopRate, 7801, 600, 60_000); got != "13.01\u00a0mL/h/kg" {
		t.Errorf("13.0017 is written %q", got)
	}
}

// Each sentence about the rate can be read at once: 14 words at most, the longest
// values in them.
func TestRateSentencesAreShort(t *testing.T) {
	limits := Limits{SetBy: "Dr Lind", SetOn: date(t, "2026-03-03"), Rate: ref(unit.RatePerKg(1275))}
	over := dialled(t, 58_000, 3990, 219, 10, Limits{})
	over.Rx.Limits = limits
	for _, s := range []*Session{dialled(t, 58_000, 2290, 219, 10, Limits{}), dialled(t, 58_000, 3990, 219, 10, Limits{}), over} {
		c := planCheck(t, s, 40)
		if !strings.HasPrefix(c.Codes[0], "plan_rate_") {
			t.Fatalf("%v", c.Codes)
		}
		for _, words := range strings.FieldsFunc(strings.ReplaceAll(c.Words, ". ", "? "), func(r rune) bool { return r == '?' }) {
			if n := len(strings.Fields(words)); n > 14 {
				t.Errorf("%d words: %q", n, words)
			}
		}
	}
}

// The rate that counts is that of what is dialled in: less, or longer, agreed
// after a call, is no stop any more; the same plan again needs a new call.
func TestRateStopIsAnswered(t *testing.T) {
	s := dialled(t, 58_200, 3950, 210, 10, Limits{})
	put(s, evening.Add(mins(45)), &Rang{Whom: "Nurse Oren", Said: "take it off all the same"})
	if c := planCheck(t, s, 50); c.State != Look || !strings.Contains(c.Words, "19.4") || !strings.Contains(c.Words, "You rang Nurse Oren at 17:45") {
		t.Errorf("after the call: %+v", c)
	}
	again := plan(t, s, Choices{}, History{})
	agree(s, 55, again)
	if c := planCheck(t, s, 60); c.State != StopHere {
		t.Errorf("agreed again after the call: %+v", c)
	}
	if again.RateSaid.Longer != 314 || again.RateSaid.Less != 2640 {
		t.Errorf("the page offers %+v", again.RateSaid)
	}
	less := plan(t, s, Choices{SetGoal: &again.RateSaid.Less}, History{})
	agree(s, 65, less)
	if c := planCheck(t, s, 70); c.State != Look || c.Codes[0] != "plan_rate_look" {
		t.Errorf("with what fits: %+v", c)
	}
	if less.LeftOver != 1310 {
		t.Errorf("%v stay on", less.LeftOver)
	}
	longer := plan(t, s, Choices{Length: &again.RateSaid.Longer}, History{})
	agree(s, 75, longer)
	if c := planCheck(t, s, 80); c.State != Look || longer.SetGoal != 3950 {
		t.Errorf("over the length: %+v, %v", c, longer.SetGoal)
	}
	// An override holds for what was known.
	put(s, evening.Add(mins(85)), &again.AgreedPlan)
	put(s, evening.Add(mins(86)), &Override{Check: CheckPlan, Reason: "nobody reached, tried at 18:20"})
	if c := planCheck(t, s, 90); c.State != StopHere || !c.Passed() {
		t.Errorf("gone past: %+v", c)
	}
}

// A plan that no longer stands still says its rate: the reason that keeps it all
// the same must know of it.
func TestRateOfAnOvertakenPlan(t *testing.T) {
	s := dialled(t, 58_200, 3950, 210, 10, Limits{})
	put(s, evening.Add(mins(40)), &WeighIn{Weight: 60_000, Scale: "bath"})
	c := planCheck(t, s, 45)
	if c.State != StopHere || !slices.Equal(c.Codes, []string{"plan_weight", "plan_rate_stop"}) {
		t.Errorf("%+v", c)
	}
	agreed, e := Last[AgreedPlan](s)
	if got := CautionsOf(s, *agreed, History{}, e.At); !slices.Contains(got, "rate_above_13") {
		t.Errorf("beside the plan stand %v", got)
	}
}

// Live, a limit of the unit cuts what is dialled in. Typed in afterwards, what was
// dialled in over it is taken as it was and stands at stop.
func TestRateOverTheUnitsLimitOnPaper(t *testing.T) {
	for source, place := range map[string]string{"live": "home", "paper": "home", "": "elsewhere"} {
		s := dialled(t, 58_000, 3600, 240, 10, Limits{SetBy: "Dr Lind", SetOn: date(t, "2026-03-03"), Rate: ref(unit.RatePerKg(1200)), MaxRemoval: ref(unit.Volume(3500))})
		s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { return e.Kind == "plan" || e.Kind == "read_back" })
		edit(s, func(o *Opened) { o.Source, o.Place = source, place })
		whole, err := MakePlan(s, Choices{SetGoal: ref(unit.Volume(3600))}, History{}, evening.Add(mins(6)))
		if source == "live" {
			if err == nil {
				t.Errorf("live: %v dialled in over the unit's limit was taken", whole.SetGoal)
			}
			continue
		}
		if err != nil {
			t.Fatal(source, place, err)
		}
		if err := Agree(whole, whole.Form(s.Rx)); err != nil {
			t.Errorf("%s %s: the two roads: %v", source, place, err)
		}
		agree(s, 35, whole)
		c := planCheck(t, s, 40)
		want := "15.5\u00a0mL/h/kg (900\u00a0mL/h), above your unit’s 12. Ring your unit: longer, or less? 5\u00a0h\u00a011\u00a0min brings it to 12. In 4\u00a0h 2780\u00a0mL fits; 820\u00a0mL stays on." +
			" 3600\u00a0mL, above your unit’s largest removal of 3500\u00a0mL. Ring your unit. 2780\u00a0mL fits; 820\u00a0mL stays on."
		if c.State != StopHere || c.Words != want || c.Limit != "12\u00a0mL/h/kg, set by Dr Lind on 3 March 2026" {
			t.Errorf("%s %s: %s %q (%s)", source, place, c.State, c.Words, c.Limit)
		}
		if got := onlyRate(CautionsOf(s, whole.AgreedPlan, History{}, evening.Add(mins(35)))); len(got) != 2 {
			t.Errorf("%s %s: beside the plan stand %v", source, place, got)
		}
		if whole.Within != "" || whole.Studied != "" {
			t.Errorf("%s %s: %q %q", source, place, whole.Within, whole.Studied)
		}
		// Not said otherwise, the limit cuts on paper too.
		if p := plan(t, s, Choices{}, History{}); p.SetGoal != 2780 {
			t.Errorf("%s %s: without a word of what was dialled in: %v", source, place, p.SetGoal)
		}
		for _, bad := range []unit.Volume{3610, 3605, -10} {
			if _, err := MakePlan(s, Choices{SetGoal: &bad}, History{}, evening); err == nil {
				t.Errorf("%s %s: %v was taken of a goal of 3600", source, place, bad)
			}
		}
	}
}

// A limit that was corrected afterwards judges the plan too.
func TestRateOverALimitCorrectedLater(t *testing.T) {
	s := dialled(t, 60_000, 7200, 600, 1, Limits{SetBy: "Dr Lind", SetOn: date(t, "2026-03-03"), Rate: ref(unit.RatePerKg(1200))})
	s.Rx.Rate = ref(unit.RatePerKg(1199))
	if c := planCheck(t, s, 40); c.State != StopHere || !strings.HasPrefix(c.Words, "12.0\u00a0mL/h/kg (720\u00a0mL/h), above your unit’s 11.99.") {
		t.Errorf("%+v", c)
	}
	if c := planCheck(t, dialled(t, 60_000, 7200, 600, 1, Limits{Rate: ref(unit.RatePerKg(1200))}), 40); c.State != Ready {
		t.Errorf("%+v", c)
	}
}

// What was kept beside an older plan about a rate inside the unit's limit is not
// printed; all else is.
func TestBesideAPlanOnPaper(t *testing.T) {
	kept := []string{"Goal is over 4 L. Weight, scale, clothes: right?", fluid.RateAbove10().Text, fluid.RateAbove13().Text}
	for _, tt := range []struct {
		rate *unit.RatePerKg
		want int
	}{{nil, 3}, {ref(unit.RatePerKg(2000)), 1}, {ref(unit.RatePerKg(1200)), 3}} {
		b := AgreedPlan{DryWeight: 58_200, SetGoal: 3950, Length: 210, Cautions: kept}
		if got := b.Beside(&Prescription{Limits: Limits{Rate: tt.rate}}); !slices.Equal(got, kept[:tt.want]) {
			t.Errorf("unit's limit %v: %q", tt.rate, got)
		}
	}
	if got := (AgreedPlan{Cautions: kept}).Beside(nil); len(got) != 3 {
		t.Errorf("without a prescription: %q", got)
	}
}

// The cautions about the rate are said in full, or stand behind what the start line
// says; never both, and none is lost.
func TestRateIsSaidOnceOnThePage(t *testing.T) {
	for _, tt := range []struct {
		goal          unit.Volume
		of            Limits
		notes, behind string
	}{
		{5900, Limits{}, "[]", "[]"}, {6100, Limits{}, "[]", "[rate_above_10]"}, {8000, Limits{}, "[]", "[rate_above_10 rate_above_13]"},
		{6100, noneSet(t), "[rate_above_10]", "[]"}, {8000, noneSet(t), "[]", "[rate_above_10 rate_above_13]"},
	} {
		p := plan(t, dialled(t, 60_000, tt.goal, 600, 1, tt.of), Choices{}, History{})
		codes := func(list []unit.Caution) string {
			var of []string
			for _, c := range list {
				of = append(of, c.Code)
			}
			return fmt.Sprint(onlyRate(of))
		}
		if codes(p.Notes()) != tt.notes || codes(p.Behind()) != tt.behind {
			t.Errorf("%v: %v and %v, want %v and %v", tt.goal, codes(p.Notes()), codes(p.Behind()), tt.notes, tt.behind)
		}
		if len(p.Notes())+len(p.Behind()) != len(p.Said) {
			t.Errorf("%v: of %v are said %v and %v", tt.goal, p.Said, p.Notes(), p.Behind())
		}
	}
}

// Who said that the unit sets no rate is no limit that was set, and needs no
// name of who set the limits.
func TestRateKnown(t *testing.T) {
	none := noneSet(t)
	if none.Any() || !none.RateKnown() {
		t.Errorf("%+v: any %v, known %v", none, none.Any(), none.RateKnown())
	}
	if (Limits{MaxRemoval: ref(unit.Volume(3000))}).RateKnown() || !(Limits{Rate: ref(unit.RatePerKg(1000))}).RateKnown() {
		t.Error("a greatest volume is no limit of rate, and a rate is one")
	}
	if a, b := OwnRateWords(&Prescription{}), OwnRateWords(&Prescription{Limits: none}); a == b || !strings.Contains(b, "a line above 10, stops above 13") {
		t.Errorf("%q\n%q", a, b)
	}
}

// The largest removal that the unit set stops a plan that was agreed all the same,
// whatever its rate; what fits beside a stop for the rate lies inside both.
func TestLargestRemovalOfThePlan(t *testing.T) {
	most := func(v unit.Volume, of Limits) Limits {
		of.SetBy, of.SetOn, of.MaxRemoval = "Dr Lind", date(t, "2026-03-03"), &v
		return of
	}
	for _, tt := range []struct {
		name string
		most unit.Volume
		goal unit.Volume
		min  unit.Minutes
		want CheckState
		says string
	}{
		{"the most itself", 2350, 2350, 300, Ready, "2\u2009350\u00a0mL in 5\u00a0h"},
		{"one over", 2349, 2350, 300, StopHere, "2350\u00a0mL, above your unit’s largest removal of 2349\u00a0mL. Ring your unit. 2349\u00a0mL fits; 1\u00a0mL stays on."},
		{"far over", 1000, 2350, 300, StopHere, "1000\u00a0mL fits; 1350\u00a0mL stays on."},
		{"with a rate over too", 1000, 4200, 180, StopHere, "In 3\u00a0h 1000\u00a0mL fits; 3200\u00a0mL stays on."},
		{"with a rate that leaves less", 3000, 4200, 180, StopHere, "largest removal of 3000\u00a0mL. Ring your unit. 2340\u00a0mL fits; 1860\u00a0mL stays on."},
	} {
		s := dialled(t, 60000, tt.goal, tt.min, 1, noneSet(t))
		s.Rx.Limits = most(tt.most, s.Rx.Limits)
		c := planCheck(t, s, 40)
		if c.State != tt.want || !strings.Contains(strings.ReplaceAll(c.Words, "\u2009", ""), strings.ReplaceAll(tt.says, "\u2009", "")) {
			t.Errorf("%s: %s %q, want %s %q", tt.name, c.State, c.Words, tt.want, tt.says)
		}
		if tt.want == StopHere && !c.Rings {
			t.Errorf("%s: nobody is rung", tt.name)
		}
	}
}

// What is dialled in short of what is to come off is said in what is ready, from a
// step of the machine's field on.
func TestWhatStaysOnIsSaid(t *testing.T) {
	for set, want := range map[unit.Volume]string{
		2350: "2350\u00a0mL in 5\u00a0h, read back.",
		2341: "2341\u00a0mL in 5\u00a0h, read back.",
		2340: "2340\u00a0mL in 5\u00a0h, read back. 10\u00a0mL stays on.",
		1050: "1050\u00a0mL in 5\u00a0h, read back. 1300\u00a0mL stays on.",
		0:    "0\u00a0mL in 5\u00a0h, read back. 2350\u00a0mL stays on.",
	} {
		s := dialled(t, 60000, 2350, 300, 10, noneSet(t))
		edit(s, func(b *AgreedPlan) { b.SetGoal = set })
		edit(s, func(b *ReadBack) { b.Goal, b.Shown = set, "" })
		if c := planCheck(t, s, 40); c.State != Ready || c.Words != want {
			t.Errorf("%d of 2350: %s %q, want %q", set, c.State, c.Words, want)
		}
	}
}
