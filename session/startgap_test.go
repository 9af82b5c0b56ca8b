package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// twoDaysBefore is the history of somebody whose last session ended at a weight
// 44 hours before the ready session was opened.
func twoDaysBefore() History {
	return History{
		Treated: 1, LastBegan: evening.Add(-48 * time.Hour), LastEnd: evening.Add(-44 * time.Hour), LastRan: 240, LastPlanned: 240,
		LastPost: &WeighOut{Weight: 58_400, Scale: "bath"}, LastPostAt: evening.Add(-44 * time.Hour), Scale: "bath",
	}
}

func TestGapCheck(t *testing.T) {
	now := evening.Add(mins(40))
	for _, tt := range []struct {
		name  string
		set   func(*Session, *History)
		want  CheckState
		codes []string
		words string
	}{
		{"ordinary", func(*Session, *History) {}, Ready, []string{"gap_so", "gain_so"},
			"44\u00a0h since the last session ended, none missed. Gain 1.6\u00a0kg, 2.8\u00a0%."},
		{"the first", func(_ *Session, h *History) { *h = History{} }, Ready, []string{"gap_first"}, "No session before this one is written down."},
		{"not weighed", func(s *Session, _ *History) {
			s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { return e.Kind == "weigh_in" })
		}, Ready, []string{"gap_so"}, "none missed."},
		{"no weight after", func(_ *Session, h *History) { h.LastPost = nil }, Ready, []string{"gap_so", "gain_unknown"}, "none missed. Gain not known: no weight after the last session."},
		{"gain just under 6 %", func(_ *Session, h *History) { h.LastPost = &WeighOut{Weight: 60_000 - 3_479} }, Ready, []string{"gap_so", "gain_so"}, "6.0\u00a0%"},
		{"gain of 6 %", func(_ *Session, h *History) { h.LastPost = &WeighOut{Weight: 60_000 - 3_480} }, Look, []string{"gain_large", "gap_beside"},
			"6.0\u00a0% of dry weight. Tell your unit. 44\u00a0h since the last session ended, none missed."},
		{"lost weight", func(_ *Session, h *History) { h.LastPost = &WeighOut{Weight: 60_600} }, Ready, []string{"gap_so", "gain_so"}, "Gain −0.6\u00a0kg, −1.0\u00a0%."},

		{"weak", func(s *Session, _ *History) { edit(s, func(b *Fitness) { b.Weakness = true }) }, StopHere, []string{"gap_signs", "gap_beside"},
			"Weak. Ring the ambulance first, then your unit; do not wait for the session. 44\u00a0h since the last session ended, none missed."},
		{"heavy legs", func(s *Session, _ *History) { edit(s, func(b *Fitness) { b.HeavyLegs = true }) }, StopHere, nil, "Heavy legs. Ring the ambulance first"},
		{"tingling", func(s *Session, _ *History) { edit(s, func(b *Fitness) { b.Tingling = true }) }, StopHere, nil, "Tingling. Ring the ambulance first"},
		{"faint", func(s *Session, _ *History) { edit(s, func(b *Fitness) { b.Faint = true }) }, StopHere, nil, "Faint or dizzy. Ring the ambulance first"},
		{"palpitations", func(s *Session, _ *History) { edit(s, func(b *Fitness) { b.Flutters = true }) }, StopHere, nil, "Heart racing. Ring the ambulance first"},
		{"odd pulse", func(s *Session, _ *History) { edit(s, func(b *Fitness) { b.OddPulse = true }) }, StopHere, nil, "Pulse odd. Ring the ambulance first"},
		{"all of them", func(s *Session, _ *History) {
			edit(s, func(b *Fitness) {
				b.Weakness, b.HeavyLegs, b.Tingling, b.Faint, b.Flutters, b.OddPulse = true, true, true, true, true, true
			})
		}, StopHere, nil, "Weak, heavy legs, tingling, faint or dizzy, heart racing, pulse odd."},
		{"weak, first session", func(s *Session, h *History) {
			*h = History{}
			edit(s, func(b *Fitness) { b.Weakness = true })
		}, StopHere, nil, "Ring the ambulance first"},
		{"weak, rang before answering", func(s *Session, _ *History) {
			edit(s, func(b *Fitness) { b.Weakness, b.Rang = true, "112: they came, all well" })
		},
			Look, []string{"gap_rang", "gap_beside"}, "Weak. You rang: 112: they came, all well."},
		{"fever is not potassium", func(s *Session, _ *History) { edit(s, func(b *Fitness) { b.Fever = true }) }, Ready, nil, ""},
		{"pulse 50", func(s *Session, _ *History) { edit(s, func(b *VitalsBefore) { b.Pulse = ref(unit.Pulse(50)) }) }, Ready, nil, ""},
		{"pulse 49", func(s *Session, _ *History) { edit(s, func(b *VitalsBefore) { b.Pulse = ref(unit.Pulse(49)) }) }, StopHere, []string{"gap_pulse", "gap_beside"},
			"Pulse 49\u00a0/min. Ring the ambulance first, then your unit; do not wait for the session."},
		{"pulse 46, the unit's bound 45", func(s *Session, _ *History) {
			s.Rx.PulseLow = ref(unit.Pulse(45))
			edit(s, func(b *VitalsBefore) { b.Pulse = ref(unit.Pulse(46)) })
		}, Ready, nil, ""},
		{"pulse 54, the unit's bound 55", func(s *Session, _ *History) {
			s.Rx.PulseLow = ref(unit.Pulse(55))
			edit(s, func(b *VitalsBefore) { b.Pulse = ref(unit.Pulse(54)) })
		}, Ready, nil, ""}, // a limit of the vitals, no sign of potassium
		{"pulse 49, the unit's bound 55", func(s *Session, _ *History) {
			s.Rx.PulseLow = ref(unit.Pulse(55))
			edit(s, func(b *VitalsBefore) { b.Pulse = ref(unit.Pulse(49)) })
		}, StopHere, []string{"gap_pulse", "gap_beside"}, "Pulse 49"},
		{"pulse 44, the unit's bound 45", func(s *Session, _ *History) {
			s.Rx.PulseLow = ref(unit.Pulse(45))
			edit(s, func(b *VitalsBefore) { b.Pulse = ref(unit.Pulse(44)) })
		}, StopHere, []string{"gap_pulse", "gap_beside"}, "Pulse 44"},

		{"one missed", func(_ *Session, h *History) { h.Missed = 1 }, Look, []string{"gap_long"}, "44\u00a0h since the last session ended, 1 session missed."},
		{"two missed", func(_ *Session, h *History) { h.Missed = 2 }, StopHere, []string{"gap_potassium"}, "2 sessions missed. Ring about potassium before you start."},
		{"six days", func(_ *Session, h *History) {
			h.LastBegan, h.LastEnd, h.Missed = evening.AddDate(0, 0, -6), evening.AddDate(0, 0, -6).Add(mins(240)), 2
		}, StopHere, []string{"gap_potassium"}, "140\u00a0h since the last session ended, 2 sessions missed. Ring"},
		{"cut by half", func(_ *Session, h *History) { h.LastRan = 119 }, Look, []string{"gap_short", "gap_beside"}, "of 4\u00a0h. Tell your unit. 44\u00a0h since"},
		{"weak after six days", func(s *Session, h *History) {
			h.LastBegan, h.LastEnd, h.Missed = evening.AddDate(0, 0, -6), evening.AddDate(0, 0, -6).Add(mins(240)), 2
			edit(s, func(b *Fitness) { b.Weakness = true })
		}, StopHere, []string{"gap_signs", "gap_potassium"}, "Weak. Ring the ambulance first"},
	} {
		s, h := ready(t), twoDaysBefore()
		tt.set(s, &h)
		c := check(t, StartLine(s, h, now), CheckGap)
		if c.State != tt.want || !strings.Contains(c.Words, tt.words) || tt.codes != nil && !slices.Equal(c.Codes, tt.codes) {
			t.Errorf("%s: %s %v %q, want %s %v %q", tt.name, c.State, c.Codes, c.Words, tt.want, tt.codes, tt.words)
		}
		if want := strings.Contains(c.Words, "ambulance first"); (c.Ambulance != "") != want || !strings.HasPrefix(c.Words, c.Ambulance) {
			t.Errorf("%s: the ambulance first is %q of %q", tt.name, c.Ambulance, c.Words)
		}
		for _, sentence := range strings.SplitAfter(c.Words, ". ") {
			if n := len(strings.Fields(strings.ReplaceAll(sentence, "\u00a0", ""))); n > 14 {
				t.Errorf("%s: %d words take too long to read: %q", tt.name, n, sentence)
			}
		}
	}
}

// What can be potassium is a complaint too, with the ambulance before the unit.
func TestFitAmbulanceFirst(t *testing.T) {
	s := ready(t)
	edit(s, func(b *Fitness) { b.Faint, b.ChestPain = true, true })
	c := check(t, StartLine(s, History{}, evening.Add(mins(40))), CheckFit)
	if c.State != StopHere || c.Ambulance != "Faint or dizzy. Ring the ambulance first, then your unit." || c.Words != "Faint or dizzy. Ring the ambulance first, then your unit. Tell ambulance and unit: chest pain." {
		t.Errorf("%s %q %q", c.State, c.Ambulance, c.Words)
	}
	edit(s, func(b *Fitness) { b.Rang = "Nurse Berg" })
	if c := check(t, StartLine(s, History{}, evening.Add(mins(40))), CheckFit); c.State != Look || c.Ambulance != "" || c.Words != "Faint or dizzy, chest pain. You rang: Nurse Berg." {
		t.Errorf("%s %q %q", c.State, c.Ambulance, c.Words)
	}
}

// What says that the ambulance is rung first shows its number, kept from an earlier
// answer too, until a call was written; what is left of it then says so no longer.
func TestAmbulanceNumberBesideItsWords(t *testing.T) {
	call := &Rang{Whom: "the ambulance", Said: "they measured, all well"}
	for name, tt := range map[string]struct {
		bodies []any
		want   bool
	}{
		"weak":                           {[]any{&Fitness{Weakness: true}}, true},
		"weak, then well":                {[]any{&Fitness{Weakness: true}, &Fitness{None: true}}, true},
		"weak, then well, rang":          {[]any{&Fitness{Weakness: true}, &Fitness{None: true}, call}, false},
		"weak, rang, then well":          {[]any{&Fitness{Weakness: true}, call, &Fitness{None: true}}, false},
		"weak, then weak with a call":    {[]any{&Fitness{Weakness: true}, &Fitness{Weakness: true, Rang: "112: they came"}}, false},
		"rang, weak, then well":          {[]any{call, &Fitness{Weakness: true}, &Fitness{None: true}}, true},
		"pulse 44, then 62":              {[]any{&VitalsBefore{Pulse: ref(unit.Pulse(44))}, &VitalsBefore{Pulse: ref(unit.Pulse(62))}}, true},
		"pulse 44, then 62, then a call": {[]any{&VitalsBefore{Pulse: ref(unit.Pulse(44))}, &VitalsBefore{Pulse: ref(unit.Pulse(62))}, call}, false},
		"well":                           {[]any{&Fitness{None: true}}, false},
	} {
		s := ready(t)
		for i, body := range tt.bodies {
			put(s, evening.Add(mins(15+i)), body)
		}
		checks := StartLine(s, twoDaysBefore(), evening.Add(mins(40)))
		if got := AmbulanceFirst(checks); (got != "") != tt.want {
			t.Errorf("%s: the ambulance first is %q", name, got)
		}
		for _, c := range checks {
			if strings.Contains(c.Words, "Ring the ambulance first") != (c.Ambulance != "") {
				t.Errorf("%s: %s says %q, its number is shown for %q", name, c.ID, c.Words, c.Ambulance)
			}
			if c.Ambulance != "" && !c.Rings {
				t.Errorf("%s: no call is asked for beside %q", name, c.Words)
			}
		}
	}
	for name, tt := range map[string]struct {
		fit  Fitness
		want bool
	}{
		"chest pain": {Fitness{ChestPain: true}, true}, "breathless": {Fitness{Breathless: true}, true}, "fever": {Fitness{Fever: true}, false},
		"chest pain, rang": {Fitness{ChestPain: true, Rang: "the unit: come in"}, false},
	} {
		s := ready(t)
		put(s, evening.Add(mins(15)), &tt.fit)
		if got := AmbulanceToo(StartLine(s, twoDaysBefore(), evening.Add(mins(40)))); got != tt.want {
			t.Errorf("%s: the ambulance's number: %v", name, got)
		}
	}
}

// A complaint or a slow pulse is not wiped out by a better answer; a call answers
// it, and what comes after the call needs one of its own.
func TestGapAfterABetterAnswer(t *testing.T) {
	pulse := func(n unit.Pulse) *VitalsBefore {
		return &VitalsBefore{SitSystolic: ref(unit.Pressure(130)), Pulse: &n}
	}
	rang := &Rang{Whom: "the ambulance", Said: "they measured, all well"}
	for name, tt := range map[string]struct {
		bodies []any
		want   CheckState
		words  string
	}{
		"weak, then well":        {[]any{&Fitness{Weakness: true}, &Fitness{}}, Look, "At 17:15: Weak."},
		"weak, rang":             {[]any{&Fitness{Weakness: true}, rang}, Look, "You rang the ambulance at 17:16: they measured, all well."},
		"rang, weak":             {[]any{rang, &Fitness{Weakness: true}}, StopHere, "Weak."},
		"44, then 62":            {[]any{pulse(44), pulse(62)}, Look, "At 17:15: Pulse 44"},
		"weak, then 44, then 62": {[]any{&Fitness{Weakness: true}, pulse(44), pulse(62)}, StopHere, "Weak."},
	} {
		s := ready(t)
		for i, body := range tt.bodies {
			put(s, evening.Add(mins(15+i)), body)
		}
		if c := check(t, StartLine(s, twoDaysBefore(), evening.Add(mins(40))), CheckGap); c.State != tt.want || !strings.Contains(c.Words, tt.words) {
			t.Errorf("%s: %s %q, want %s %q", name, c.State, c.Words, tt.want, tt.words)
		}
	}
}

// Who opens the page and waits is still waiting; once connected the gap stays as
// it was; what is typed in later waits no longer than its own entries.
func TestGapIsCountedToTheMoment(t *testing.T) {
	h := twoDaysBefore()
	h.LastBegan, h.LastEnd = evening.Add(-99*time.Hour), evening.Add(-95*time.Hour)
	at := func(s *Session, m int) Check { return check(t, StartLine(s, h, evening.Add(mins(m))), CheckGap) }
	s := ready(t)
	if c := at(s, 59); c.State != Look || !strings.HasPrefix(c.Words, "95\u00a0h") {
		t.Errorf("after 59 min of waiting: %s %q", c.State, c.Words)
	}
	if c := at(s, 60); c.State != StopHere || !strings.HasPrefix(c.Words, "96\u00a0h") {
		t.Errorf("after an hour: %s %q", c.State, c.Words)
	}
	// A call before the bound was reached did not know of it; one after it did.
	put(s, evening.Add(mins(50)), &Rang{Whom: "the unit", Said: "start now"})
	if c := at(s, 61); c.State != StopHere {
		t.Errorf("rung before it stopped: %s %q", c.State, c.Words)
	}
	put(s, evening.Add(mins(62)), &Rang{Whom: "the unit", Said: "start all the same"})
	if c := at(s, 63); c.State != Look || !strings.Contains(c.Words, "start all the same.") {
		t.Errorf("rung after: %s %q", c.State, c.Words)
	}
	if c := at(connected(t), 600); c.State != Look {
		t.Errorf("connected after 45 min: %s %q", c.State, c.Words)
	}
	for name, change := range map[string]func(*Opened){
		"paper":     func(b *Opened) { b.Source = "paper" },
		"elsewhere": func(b *Opened) { b.Place = "elsewhere" },
	} {
		typed := ready(t)
		edit(typed, change)
		if c := at(typed, 60*24*3); c.State != Look || !strings.HasPrefix(c.Words, "95\u00a0h") {
			t.Errorf("%s, typed in three days later: %s %q", name, c.State, c.Words)
		}
	}
}

// The history keeps what the gap is counted from.
func TestHistoryOfTheLastSession(t *testing.T) {
	full := connected(t)
	put(full, on(238), &CameOff{Returned: "all"})
	h := HistoryOf([]*Session{full})
	if !h.LastBegan.Equal(on(0)) || !h.LastEnd.Equal(on(238)) || h.LastRan != 238 || h.LastPlanned != 240 {
		t.Errorf("%+v", h)
	}
	// Pauses are no treatment; what was ordered is what counts, not a shorter plan.
	short := connected(t)
	edit(short, func(b *AgreedPlan) { b.Length = 200 })
	put(short, on(10), &Pause{})
	put(short, on(70), &Resume{})
	put(short, on(150), &CameOff{Returned: "all"})
	if h := HistoryOf([]*Session{full, short}); h.LastRan != 90 || h.LastPlanned != 240 || !GapOf(h, short.Rx, on(200)).Short() {
		t.Errorf("%+v", h)
	}
	half := connected(t)
	edit(half, func(b *AgreedPlan) { b.Length = 120 })
	put(half, on(120), &CameOff{Returned: "all"})
	if c := GapOf(HistoryOf([]*Session{full, half}), half.Rx, on(200)).Said(); c.State != Look || !strings.Contains(c.Words, "ran 2\u00a0h of 4\u00a0h") {
		t.Errorf("planned and run by half: %s %q", c.State, c.Words)
	}
	half.Rx = nil
	if h := HistoryOf([]*Session{full, half}); h.LastPlanned != 120 {
		t.Errorf("without an order: %d", h.LastPlanned)
	}
	// Without an end nothing is known of its length; one that was never begun is
	// not the last.
	open := connected(t)
	if h := HistoryOf([]*Session{full, open}); h.LastRan != 0 || h.LastPlanned != 0 || !h.LastEnd.IsZero() || h.LastBegan.IsZero() {
		t.Errorf("%+v", h)
	}
	if h := HistoryOf([]*Session{full, ready(t)}); !h.LastEnd.Equal(on(238)) {
		t.Errorf("%+v", h)
	}
}

// The plan says since when, and the gain with its share.
func TestPlanSaysTheGap(t *testing.T) {
	p := plan(t, ready(t), Choices{}, twoDaysBefore())
	find := func(code string) Term {
		i := slices.IndexFunc(p.Terms, func(t Term) bool { return t.Code == code })
		if i < 0 {
			t.Fatalf("no term %s", code)
		}
		return p.Terms[i]
	}
	if got := find("since_last"); got.Label != "Since the last session ended" || !strings.HasSuffix(got.Value, "\u00a0h") || got.From != "none missed; 10 March 2026" {
		t.Errorf("%+v", got)
	}
	h := twoDaysBefore()
	h.RemovedAt = h.LastEnd.Add(24 * time.Hour)
	if p = plan(t, ready(t), Choices{}, h); find("since_last").Label != "Since the last dialysis ended" {
		t.Errorf("after removal only: %+v", find("since_last"))
	}
	h.LastEnd = time.Time{}
	if p = plan(t, ready(t), Choices{}, h); find("since_last").Label != "Since the last dialysis began" {
		t.Errorf("its end not written: %+v", find("since_last"))
	}
	if got := find("gain"); got.Value != "1.6\u00a0kg, 2.8\u00a0%" {
		t.Errorf("%+v", got)
	}
	if p := plan(t, ready(t), Choices{}, History{}); slices.ContainsFunc(p.Terms, func(t Term) bool { return t.Code == "since_last" }) {
		t.Error("a gap before the first session")
	}
}
