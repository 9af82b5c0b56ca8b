package session

import (
	"strings"
	"testing"
	"time"
)

// After a chemical disinfection, and on what is new, serviced, moved, stored or
// preserved, the start waits for a residue test that shows nothing. What is new, or
// was serviced, moved, stored or preserved, waits for a rinse as well.
func TestResidueIsLookedFor(t *testing.T) {
	at := func(m int) time.Time { return evening.Add(mins(m)) }
	good := func(m int) Residue { return Residue{At: at(m), Found: "less than 0.05 mg/L chlorine", Good: true} }
	bad := func(m int) Residue {
		return Residue{At: at(m), Found: "0.5 mg/L chlorine", Bound: "0.1 mg/L", Limit: "0.1 mg/L, program default"}
	}
	fresh := func(h *History) { *h = History{MachineCare: MachineCare{New: true}} }
	moved := func(h *History) { h.Upset = []Upset{{At: at(-600), What: "moved"}} }
	ring := func(h *History) {
		h.Upset = []Upset{{At: at(-600), What: "water treatment disinfected", Disinfected: true}}
	}
	chemical := func(h *History) { h.Chemical = at(-60 * 24 * 3) }
	cleaned := func(h *History) { h.Cleaned = &Disinfection{Programme: "chemical", Result: "passed"} }
	both := func(h *History) { moved(h); h.Chemical = at(-300) }
	rinsed := func(m int) func(*History) { return func(h *History) { h.Rinses = append(h.Rinses, at(m)) } }
	tests := func(list ...Residue) func(*History) { return func(h *History) { h.Residues = list } }
	for name, tt := range map[string]struct {
		set   []func(*History)
		log   func(*Session)
		want  CheckState
		words string
	}{
		"nothing wanted":                 {nil, nil, Ready, "Passed, 11 March."},
		"new":                            {[]func(*History){fresh}, nil, StopHere, "New here"},
		"new, rinsed alone":              {[]func(*History){fresh, rinsed(5)}, nil, StopHere, "New here"},
		"new, tested alone":              {[]func(*History){fresh, tests(good(6))}, nil, StopHere, "No rinse is written since. Rinse; write when. Residue test 17:06: less"},
		"new, rinsed and tested":         {[]func(*History){fresh, rinsed(5), tests(good(6))}, nil, Ready, "New here, rinsed and tested, 17:06: less than 0.05 mg/L chlorine."},
		"new, tested days before":        {[]func(*History){fresh, rinsed(-3000), tests(good(-2900))}, nil, Ready, "New here, rinsed and tested, 10 March"},
		"new, disinfected with heat":     {[]func(*History){fresh, tests(good(25))}, func(s *Session) { put(s, at(20), &Disinfection{Programme: "heat", Result: "passed"}) }, Ready, "Passed, 17:20."},
		"new, disinfection failed":       {[]func(*History){fresh, tests(good(25))}, func(s *Session) { put(s, at(20), &Disinfection{Programme: "heat", Result: "failed"}) }, StopHere, "No rinse"},
		"new, the water ran as always":   {[]func(*History){fresh, tests(good(25))}, func(s *Session) { tick(s, at(4), "water_runs", "done") }, StopHere, "No rinse"},
		"new, and a step ticked before":  {[]func(*History){fresh, rinsed(-1600), tests(Residue{At: at(-1500), Good: true, Ticked: true})}, nil, StopHere, "Rinsed; test for residue"},
		"new, rinsed, too much left":     {[]func(*History){fresh, rinsed(5), tests(bad(6))}, nil, StopHere, "Residue test 17:06: 0.5 mg/L chlorine, limit 0.1 mg/L. Rinse; test again."},
		"new, not rinsed, strip expired": {[]func(*History){fresh, tests(Residue{At: at(6), Found: "0 mg/L", Expired: true})}, nil, StopHere, "strip out of date. Test again. No rinse"},
		"moved":                          {[]func(*History){moved}, nil, StopHere, "Moved, 12 March. Rinse, then test"},
		"moved, rinsed before it":        {[]func(*History){moved, rinsed(-700), tests(good(6))}, nil, StopHere, "No rinse"},
		"moved, tested before it":        {[]func(*History){moved, rinsed(5), tests(good(-700))}, nil, StopHere, "Moved, 12 March. Rinsed since; test for residue."},
		"moved, tested, then rinsed":     {[]func(*History){moved, rinsed(8), tests(good(6))}, nil, Ready, "Moved, rinsed and tested, 17:06"},
		"moved, then chemical":           {[]func(*History){both}, nil, StopHere, "Test for residue; write the result. No rinse is written since."},
		"moved, then chemical, tested":   {[]func(*History){both, tests(good(6))}, nil, StopHere, "No rinse"},
		"moved, chemical while set up":   {[]func(*History){moved, tests(good(25))}, func(s *Session) { put(s, at(20), &Disinfection{Programme: "chemical", Result: "passed"}) }, Ready, "Moved, rinsed and tested, 17:25"},
		"moved, rinsed and tested":       {[]func(*History){moved, rinsed(5), tests(good(6))}, nil, Ready, "Moved, rinsed and tested, 17:06"},
		"ring disinfected":               {[]func(*History){ring}, nil, StopHere, "Water treatment disinfected, 12 March"},
		"ring disinfected and tested":    {[]func(*History){ring, tests(good(6))}, nil, Ready, "Residue test 17:06"},
		"chemical earlier":               {[]func(*History){chemical}, nil, StopHere, "Chemical disinfection, 9 March"},
		"chemical last night":            {[]func(*History){cleaned}, nil, StopHere, "Chemical disinfection, 11 March"},
		"chemical, tested":               {[]func(*History){cleaned, tests(good(6))}, nil, Ready, "Chemical, 11 March. Residue test 17:06"},
		"chemical, tested before":        {[]func(*History){cleaned, tests(good(-3000))}, nil, StopHere, "Chemical disinfection"},
		"chemical while setting up":      {nil, func(s *Session) { put(s, at(20), &Disinfection{Programme: "chemical", Result: "passed"}) }, StopHere, "Chemical disinfection, 17:20"},
		"and tested before it":           {[]func(*History){tests(good(10))}, func(s *Session) { put(s, at(20), &Disinfection{Programme: "chemical", Result: "passed"}) }, StopHere, "Chemical disinfection, 17:20"},
		"and tested after it":            {[]func(*History){tests(good(30))}, func(s *Session) { put(s, at(20), &Disinfection{Programme: "chemical", Result: "passed"}) }, Ready, "Residue test 17:30"},
		"chemical that failed":           {[]func(*History){tests(good(30))}, func(s *Session) { put(s, at(20), &Disinfection{Programme: "chemical", Result: "failed"}) }, StopHere, "failed, 17:20"},
		"too much left":                  {[]func(*History){cleaned, tests(bad(6))}, nil, StopHere, "Residue test 17:06: 0.5 mg/L chlorine, limit 0.1 mg/L."},
		"too much left, then none":       {[]func(*History){cleaned, tests(bad(6), good(16))}, nil, Look, "0.5 mg/L chlorine, limit 0.1 mg/L. Residue test 17:16: less"},
		"none left, then too much":       {[]func(*History){cleaned, tests(good(6), bad(16))}, nil, StopHere, "0.5 mg/L"},
		"a strip out of date":            {[]func(*History){cleaned, tests(Residue{At: at(6), Found: "0 mg/L", Expired: true})}, nil, StopHere, "out of date"},
		"ticked":                         {[]func(*History){cleaned}, func(s *Session) { tick(s, at(25), ResidueStep, "done") }, StopHere, "The tick is not enough"},
		"ticked in an earlier session":   {[]func(*History){chemical, tests(Residue{At: at(-1500), Good: true, Ticked: true})}, nil, Ready, "Passed"},
		"another person's first session": {[]func(*History){func(h *History) { h.Treated = 0 }}, nil, Ready, "Passed"},
	} {
		s, h := ready(t), known()
		for _, set := range tt.set {
			set(&h)
		}
		if tt.log != nil {
			tt.log(s)
		}
		c := check(t, StartLine(s, h, evening.Add(mins(40))), CheckCleaned)
		if c.State != tt.want || !strings.Contains(c.Words, tt.words) {
			t.Errorf("%s: %s %q, want %s %q", name, c.State, c.Words, tt.want, tt.words)
		}
		for _, sentence := range strings.SplitAfter(c.Words, ". ") {
			if n := len(strings.Fields(strings.ReplaceAll(sentence, "\u00a0", ""))); n > 14 {
				t.Errorf("%s: %d words take too long to read: %q", name, n, sentence)
			}
		}
	}
}

// A reason to go on that was written before the chemical cycle does not pass it.
func TestResidueIsNotPassedBeforehand(t *testing.T) {
	s := ready(t)
	put(s, evening.Add(mins(10)), &Override{Check: CheckCleaned, Reason: "the machine was just delivered"})
	put(s, evening.Add(mins(20)), &Disinfection{Programme: "chemical", Result: "passed"})
	if c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckCleaned); c.Passed() {
		t.Errorf("%+v", c)
	}
	put(s, evening.Add(mins(30)), &Override{Check: CheckCleaned, Reason: "no strips in the house, rinsed twice"})
	if c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckCleaned); !c.Passed() || c.State != StopHere {
		t.Errorf("%+v", c)
	}
}

// What is known before a session is opened says whether a residue test or a rinse is
// wanted, and which comes next.
func TestResidueWantedBefore(t *testing.T) {
	at := func(m int) time.Time { return evening.Add(mins(m)) }
	good := Residue{At: at(20), Found: "less than 0.05 mg/L chlorine", Good: true}
	serviced := func(h *History) { h.Upset = []Upset{{At: evening, What: "serviced"}} }
	for name, tt := range map[string]struct {
		set   func(*History)
		words string
		rinse bool
	}{
		"nothing wanted":    {func(*History) {}, "", false},
		"serviced":          {serviced, "Serviced, 12 March. Rinse, then test for residue.", true},
		"serviced, rinsed":  {func(h *History) { serviced(h); h.Rinses = []time.Time{at(10)} }, "Serviced, 12 March. Rinsed since; test for residue.", false},
		"serviced, tested":  {func(h *History) { serviced(h); h.Residues = []Residue{good} }, "No rinse is written since. Rinse; write when.", true},
		"serviced and both": {func(h *History) { serviced(h); h.Residues, h.Rinses = []Residue{good}, []time.Time{at(10)} }, "", false},
		"chemical":          {func(h *History) { h.Chemical = evening }, "Chemical disinfection, 12 March. Test for residue; write the result.", false},
		"new":               {func(h *History) { *h = History{} }, "", false}, // the first session tells it
	} {
		h := known()
		tt.set(&h)
		if words, rinse := ResidueWanted(h); words != tt.words || rinse != tt.rinse {
			t.Errorf("%s: %q, %v; want %q, %v", name, words, rinse, tt.words, tt.rinse)
		}
	}
}

// A session held elsewhere says nothing of this household's machine.
func TestElsewhereIsAnotherMachine(t *testing.T) {
	s := newSession(t)
	put(s, evening, &Opened{Place: "elsewhere", Where: "the unit"})
	if c := check(t, StartLine(s, History{}, evening.Add(mins(40))), CheckCleaned); c.State != Ready || c.Words == "" {
		t.Errorf("%s %q", c.State, c.Words)
	}
}
