package record

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

func (b *book) noResidue() {
	b.t.Helper()
	b.keep("residual_test", &ResidualTest{For: "chlorine", Value: 50, Below: true, Lot: "R1", Expiry: unit.DateOf(b.now).Add(90)})
}

// heldNow holds a session from paper and disinfects after it.
func (b *book) heldNow(id string) {
	b.t.Helper()
	b.paperRun(id)
	b.offNow(id, true)
}

// heldUncleaned holds one and disinfects nothing.
func (b *book) heldUncleaned(id string) {
	b.t.Helper()
	b.paperRun(id)
	b.offNow(id, false)
}

// offNow ends a treatment that has begun, and its session, a day before the next.
func (b *book) offNow(id string, clean bool) {
	b.t.Helper()
	b.now = b.now.Add(4 * time.Hour)
	b.must("came_off", id, &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(2000))})
	if clean {
		b.must("disinfection", id, &session.Disinfection{Programme: "heat", Result: "passed"})
	}
	b.must("closed", id, &session.Closed{})
	b.now = b.now.Add(20 * time.Hour)
}

// A machine on which nobody of this record was treated is new: a first session is
// no exception. Another name is another machine; another person is not.
func TestNewMachine(t *testing.T) {
	b := newBook(t)
	b.open("session-01")
	if c := b.checkOf("session-01", session.CheckCleaned); c.State != session.StopHere || !strings.Contains(c.Words, "New here") {
		t.Errorf("the first session: %s %q", c.State, c.Words)
	}
	b.noResidue()
	if c := b.checkOf("session-01", session.CheckCleaned); c.State != session.StopHere || !strings.Contains(c.Words, "No rinse is written") {
		t.Errorf("tested alone: %s %q", c.State, c.Words)
	}

	b = newBook(t)
	b.open("session-01")
	b.keep("round_done", &RoundDone{Item: "rinse", Outcome: "done"})
	if c := b.checkOf("session-01", session.CheckCleaned); c.State != session.StopHere {
		t.Errorf("rinsed alone: %s %q", c.State, c.Words)
	}
	b.noResidue()
	if c := b.checkOf("session-01", session.CheckCleaned); c.State != session.Ready || !strings.Contains(c.Words, "less than 0.05\u00a0mg/L chlorine") {
		t.Errorf("rinsed and tested: %s %q", c.State, c.Words)
	}
	b.must("closed", "session-01", &session.Closed{})

	b.heldNow("session-02")
	b.open("session-03")
	if c := b.checkOf("session-03", session.CheckCleaned); c.State != session.Ready {
		t.Errorf("in use: %s %q", c.State, c.Words)
	}
	b.must("closed", "session-03", &session.Closed{})
	// Described again by the same name it is the same machine.
	b.must("machine", "", &session.Machine{Name: "The machine ", GoalUnit: "mL", Kind: "single_pass"})
	b.open("session-04")
	if c := b.checkOf("session-04", session.CheckCleaned); c.State != session.Ready {
		t.Errorf("described again: %s %q", c.State, c.Words)
	}
	b.must("closed", "session-04", &session.Closed{})
	b.must("machine", "", &session.Machine{Name: "the new one", GoalUnit: "mL", Kind: "single_pass"})
	b.open("session-05")
	if c := b.checkOf("session-05", session.CheckCleaned); c.State != session.StopHere || !strings.Contains(c.Words, "New here") {
		t.Errorf("another machine: %s %q", c.State, c.Words)
	}
	b.must("closed", "session-05", &session.Closed{})
	b.must("machine", "", &session.Machine{Name: "the machine", GoalUnit: "mL", Kind: "low_volume"})
	b.open("session-06")
	if c := b.checkOf("session-06", session.CheckCleaned); c.State != session.StopHere || !strings.Contains(c.Words, "New here") {
		t.Errorf("another kind by the old name: %s %q", c.State, c.Words)
	}
	// The start line of the session before stays as it was.
	if c := b.checkOf("session-04", session.CheckCleaned); c.State != session.Ready {
		t.Errorf("the session before: %s %q", c.State, c.Words)
	}

	b = newBook(t)
	b.heldNow("session-01")
	who := b.entry("person", "", &Person{Name: "Sam Finch", BirthYear: 1960, Colour: "fern", Adult: true})
	who.Person = "person-two"
	rx := aPrescription()
	order := b.entry("prescription", "", &rx)
	order.Person = "person-two"
	open := b.entry("session_opened", "session-02", &session.Opened{Place: "home", Source: "live", Confirmed: true})
	open.Person = "person-two"
	for _, e := range []Entry{who, order, open} {
		if found := b.try(e); len(found) > 0 {
			t.Fatal(found)
		}
	}
	if c := b.checkOf("session-02", session.CheckCleaned); c.State != session.Ready {
		t.Errorf("another person's first session on it: %s %q", c.State, c.Words)
	}
}

// After service, a move, a time in store, a preservative, a new membrane or a
// repair that opened it, residue is looked for before the next treatment; a
// session that was treated since is behind it.
func TestUpsetMachine(t *testing.T) {
	done := func(item string) func(*book) {
		return func(b *book) { b.keep("round_done", &RoundDone{Item: item, Outcome: "done"}) }
	}
	ring := func(with string) func(*book) {
		return func(b *book) {
			b.keep("round_done", &RoundDone{Item: "ro-disinfection", Outcome: "done", Programme: with})
		}
	}
	for name, tt := range map[string]struct {
		set  func(*book)
		want string // of the stop; "" for none
	}{
		"serviced":  {done("service"), "Serviced, 21 October"},
		"membrane":  {done("membrane"), "Membrane new"},
		"moved":     {done("moved"), "Moved"},
		"stored":    {done("stored"), "Stored"},
		"preserved": {done("preserved"), "Preserved"},
		"new water": {done("new-water"), "Water treatment new"},
		"repaired":  {func(b *book) { b.keep("fault", &Fault{Words: "a seal was changed", Mended: true, Opened: true}) }, "Repaired"},
		"a fault":   {func(b *book) { b.keep("fault", &Fault{Words: "alarm, gone after a restart", Mended: true}) }, ""},
		"carbon":    {done("carbon"), ""},
		"rinse":     {done("rinse"), ""},
		"ring, chemical, failed": {func(b *book) {
			b.keep("round_done", &RoundDone{Item: "ro-disinfection", Outcome: "failed", Programme: "chemical"})
		}, "Disinfection of water treatment failed, 21 October. Rinse, then test"},
		"ring, not said with what": {ring(""), ""}, // a look: entries of before do not say it
		"ring, chemical":           {ring("chemical"), "Water treatment disinfected"},
		"ring, heat":               {ring("heat"), ""},
		"machine, chemical":        {done("chemical"), "Chemical disinfection, 21 October"},
		"machine, heat":            {done("heat"), ""},
	} {
		b := newBook(t)
		b.heldNow("session-01")
		tt.set(b)
		b.now = b.now.Add(time.Hour)
		said, _ := session.ResidueWanted(b.h.Member("person-one").History(nil))
		if (said != "") != (tt.want != "") || !strings.Contains(said, tt.want) {
			t.Errorf("%s, before a session is opened: %q", name, said)
		}
		b.now = b.now.Add(4 * time.Hour)
		b.open("session-02")
		c := b.checkOf("session-02", session.CheckCleaned)
		if stop := c.State == session.StopHere; stop != (tt.want != "") || stop && !strings.Contains(c.Words, tt.want) {
			t.Errorf("%s: %s %q", name, c.State, c.Words)
		}
		if unsure := name == "ring, not said with what"; unsure != (c.State == session.Look && strings.Contains(c.Words, "not said with what")) {
			t.Errorf("%s: %s %q", name, c.State, c.Words)
		}
		b.noResidue()
		rinse := tt.want != "" && (!strings.Contains(tt.want, "isinfect") || strings.Contains(tt.want, "failed")) // a programme that passed rinses at its end
		if c := b.checkOf("session-02", session.CheckCleaned); rinse != (c.State == session.StopHere && strings.Contains(c.Words, "No rinse is written")) {
			t.Errorf("%s, tested: %s %q", name, c.State, c.Words)
		}
		b.keep("round_done", &RoundDone{Item: "rinse", Outcome: "done"})
		c = b.checkOf("session-02", session.CheckCleaned)
		if said := strings.Contains(c.Words, strings.TrimSuffix(tt.want, ", 21 October")+", rinsed and tested, "); c.State != session.Ready || rinse && !strings.Contains(name, "failed") && !said {
			t.Errorf("%s, rinsed and tested: %s %q", name, c.State, c.Words)
		}
		b.must("closed", "session-02", &session.Closed{})

		// A session from paper that was held since rinses nothing.
		lasts := map[string]bool{"serviced": true, "membrane": true, "moved": true, "stored": true, "preserved": true, "new water": true, "repaired": true}[name]
		b = newBook(t)
		b.heldNow("session-01")
		tt.set(b)
		b.heldNow("session-02")
		b.open("session-03")
		c = b.checkOf("session-03", session.CheckCleaned)
		if lasts && (c.State != session.StopHere || !strings.Contains(c.Words, tt.want)) || !lasts && c.State != session.Ready && !strings.Contains(c.Words, "Chemical disinfection") {
			t.Errorf("%s, a session since: %s %q", name, c.State, c.Words)
		}
	}
}

// A service and a new membrane stay until rinsed and tested, as a move does. A
// household that wrote them before that was asked has its machine in use: a live
// session begun without a reason, or three on paper, were held since.
func TestServiceIsNotForgotten(t *testing.T) {
	past := func(b *book, id string) {
		b.must("override", id, &session.Override{Check: session.CheckCleaned, Reason: "no strips in the house, rinsed twice"})
	}
	live := func(b *book, id string, before func(*book, string)) {
		b.open(id)
		if before != nil {
			before(b, id)
		}
		// As a record of before holds it: nothing asked, nothing held up.
		e := b.entry("connected", id, &session.Connected{})
		if err := b.h.Apply(e); err != nil {
			b.t.Fatal(err)
		}
		b.offNow(id, true)
	}
	for _, item := range []string{"service", "membrane"} {
		for _, tt := range []struct {
			name string
			then func(*book)
			stop bool
		}{
			{"nothing since", func(*book) {}, true},
			{"a session on paper", func(b *book) { b.heldNow("session-02") }, true},
			{"two on paper", func(b *book) { b.heldNow("session-02"); b.heldNow("session-03") }, true},
			{"three on paper", func(b *book) { b.heldNow("session-02"); b.heldNow("session-03"); b.heldNow("session-04") }, false},
			{"live, past the stop", func(b *book) { live(b, "session-02", past) }, true},
			{"live, before it was asked", func(b *book) { live(b, "session-02", nil) }, false},
			{"tested, not rinsed", func(b *book) { b.heldUncleaned("session-02"); b.noResidue() }, true},
			{"tested, rinsed by the programme of the evening", func(b *book) { b.heldNow("session-02"); b.noResidue() }, false},
			{"rinsed and tested", func(b *book) {
				b.heldNow("session-02")
				b.keep("round_done", &RoundDone{Item: "rinse", Outcome: "done"})
				b.noResidue()
			}, false},
		} {
			b := newBook(t)
			b.heldNow("session-01")
			b.keep("round_done", &RoundDone{Item: item, Outcome: "done"})
			b.now = b.now.Add(time.Hour)
			tt.then(b)
			b.open("session-09")
			if c := b.checkOf("session-09", session.CheckCleaned); (c.State == session.StopHere) != tt.stop {
				t.Errorf("%s, %s: %s %q", item, tt.name, c.State, c.Words)
			}
		}
		// Written after the session that began without it: that session did not know.
		b := newBook(t)
		b.heldNow("session-01")
		late := b.now
		live(b, "session-02", nil)
		e := b.entry("round_done", "", &RoundDone{Item: item, Outcome: "done"})
		e.Person, e.At = "", late
		if found := b.try(e); len(found) > 0 {
			t.Fatal(found)
		}
		b.open("session-09")
		if c := b.checkOf("session-09", session.CheckCleaned); c.State != session.StopHere {
			t.Errorf("%s, written late: %s %q", item, c.State, c.Words)
		}
	}
}

// What happens to the machine while it is set up belongs to this session, by the
// session's own entry and by the round's.
func TestDisinfectedWhileSettingUp(t *testing.T) {
	for name, write := range map[string]func(*book, string){
		"session": func(b *book, programme string) {
			b.must("disinfection", "session-02", &session.Disinfection{Programme: programme, Result: "passed"})
		},
		"round": func(b *book, programme string) {
			b.keep("round_done", &RoundDone{Item: programme, Outcome: "done"})
		},
	} {
		b := newBook(t)
		b.heldNow("session-01")
		b.now = b.now.Add(40 * time.Hour)
		hours := unit.Hours(2400)
		b.keep("water_rules", &WaterRules{Edition: water.ISO2019, Use: "standard", MaxIdle: &hours, SetBy: "Dr Q (invented)", SetOn: unit.DateOf(b.now)})
		b.open("session-02")
		b.must("self_test", "session-02", &session.SelfTest{Passed: true, Tries: 1})
		if c := b.checkOf("session-02", session.CheckCleaned); c.State != session.StopHere {
			t.Fatalf("%s, before: %s %q", name, c.State, c.Words)
		}
		write(b, "heat")
		if c := b.checkOf("session-02", session.CheckCleaned); c.State != session.Ready {
			t.Errorf("%s, heat: %s %q", name, c.State, c.Words)
		}
		if c := b.checkOf("session-02", session.CheckSelfTest); c.State != session.OpenYet || !strings.Contains(c.Words, "before the disinfection") {
			t.Errorf("%s, the self-test: %s %q", name, c.State, c.Words)
		}
		write(b, "chemical")
		if c := b.checkOf("session-02", session.CheckCleaned); c.State != session.StopHere || !strings.Contains(c.Words, "Test for residue") {
			t.Errorf("%s, chemical: %s %q", name, c.State, c.Words)
		}
		b.noResidue()
		if c := b.checkOf("session-02", session.CheckCleaned); c.State != session.Ready {
			t.Errorf("%s, tested: %s %q", name, c.State, c.Words)
		}
		// The machine's disinfection is due after the session all the same.
		b.must("closed", "session-02", &session.Closed{})
	}
}

// What else is done to machine or water treatment while setting up undoes what was
// tested before it: the water is other water, and the machine tests itself again.
func TestReworkedWhileSettingUp(t *testing.T) {
	tested := []string{session.CheckSelfTest, session.CheckBath, session.CheckConduct, session.CheckChlorine}
	for name, tt := range map[string]struct {
		kind string
		body any
		want string // "" where nothing is undone
	}{
		"ring, heat":          {"round_done", &RoundDone{Item: "ro-disinfection", Outcome: "done", Programme: "heat"}, "Water treatment disinfected at "},
		"ring, not said":      {"round_done", &RoundDone{Item: "ro-disinfection", Outcome: "done"}, "Water treatment disinfected at "},
		"ring, failed":        {"round_done", &RoundDone{Item: "ro-disinfection", Outcome: "failed", Programme: "chemical"}, "Disinfection of water treatment failed at "},
		"service":             {"round_done", &RoundDone{Item: "service", Outcome: "done"}, "Serviced at "},
		"membrane":            {"round_done", &RoundDone{Item: "membrane", Outcome: "done"}, "Membrane new at "},
		"moved":               {"round_done", &RoundDone{Item: "moved", Outcome: "done"}, "Moved at "},
		"repaired":            {"fault", &Fault{Words: "a seal was changed", Mended: true, Opened: true}, "Repaired at "},
		"a rinse undoes none": {"round_done", &RoundDone{Item: "rinse", Outcome: "done"}, ""},
		"nor a new filter":    {"round_done", &RoundDone{Item: "sediment", Outcome: "done"}, ""},
	} {
		b := newBook(t)
		b.heldNow("session-01")
		b.open("session-02")
		test := func() {
			b.must("self_test", "session-02", &session.SelfTest{Passed: true, Tries: 1})
			b.must("bath_label", "session-02", &session.BathLabel{K: 200, Ca: 150, Lot: "B1", Expiry: unit.DateOf(b.now).Add(90)})
			b.must("fluid_check", "session-02", &session.FluidCheck{MachineConduct: 1400, MeterConduct: 1390})
			b.must("chlorine", "session-02", b.chlorine(40, "product"))
		}
		test()
		for _, id := range tested {
			if c := b.checkOf("session-02", id); c.State != session.Ready {
				t.Fatalf("%s, before, %s: %s %q", name, id, c.State, c.Words)
			}
		}
		b.keep(tt.kind, tt.body)
		b.keep("round_done", &RoundDone{Item: "rinse", Outcome: "done"})
		b.noResidue()
		for _, id := range tested {
			c := b.checkOf("session-02", id)
			if undone := c.State == session.OpenYet && strings.HasPrefix(c.Words, tt.want) && strings.HasSuffix(c.Words, "after this was done: do it again."); undone != (tt.want != "") {
				t.Errorf("%s, %s: %s %q", name, id, c.State, c.Words)
			}
		}
		steps := func() map[string]string {
			s, got := b.h.Session("session-02"), map[string]string{}
			for _, st := range session.ProgressWith(session.DefaultSetUp(), s, b.h.Member(s.Person).History(s), b.now).Steps {
				got[st.ID] = st.State
			}
			return got
		}
		for _, id := range []string{"self_test", "bath", "chlorine"} {
			if got := steps()[id]; (got == session.StepIsDone) != (tt.want == "") {
				t.Errorf("%s, the step %s: %s", name, id, got)
			}
		}
		if tt.want == "" {
			continue
		}
		test()
		for _, id := range tested {
			if c := b.checkOf("session-02", id); c.State != session.Ready {
				t.Errorf("%s, again, %s: %s %q", name, id, c.State, c.Words)
			}
		}
	}
}

// A step ticked in a session before answers a chemical disinfection only as it did
// when no result was asked for: neither in a session that was broken off, nor in one
// that went past the stop.
func TestTickedBeforeIsNoTest(t *testing.T) {
	for name, tt := range map[string]struct {
		then func(*book)
		want session.CheckState
	}{
		"ticked and treated, as older records have it": {func(b *book) {
			b.paperRun("session-02")
			b.must("step", "session-02", &session.StepDone{Phase: session.SetUp, Step: session.ResidueStep, State: "done"})
			b.now = b.now.Add(4 * time.Hour)
			b.must("came_off", "session-02", &session.CameOff{Returned: "none"})
		}, session.Ready},
		"ticked and broken off": {func(b *book) {
			b.open("session-02")
			b.must("step", "session-02", &session.StepDone{Phase: session.SetUp, Step: session.ResidueStep, State: "done"})
		}, session.StopHere},
		"ticked and gone past": {func(b *book) {
			b.paperRun("session-02")
			b.must("step", "session-02", &session.StepDone{Phase: session.SetUp, Step: session.ResidueStep, State: "done"})
			b.must("override", "session-02", &session.Override{Check: session.CheckCleaned, Reason: "no strips in the house, rinsed twice"})
			b.now = b.now.Add(4 * time.Hour)
			b.must("came_off", "session-02", &session.CameOff{Returned: "none"})
		}, session.StopHere},
	} {
		b := newBook(t)
		b.heldNow("session-01")
		b.keep("round_done", &RoundDone{Item: "chemical", Outcome: "done"})
		b.now = b.now.Add(time.Hour)
		tt.then(b)
		b.must("closed", "session-02", &session.Closed{})
		b.keep("round_done", &RoundDone{Item: "heat", Outcome: "done"})
		b.now = b.now.Add(time.Hour)
		b.open("session-03")
		if c := b.checkOf("session-03", session.CheckCleaned); c.State != tt.want {
			t.Errorf("%s: %s %q, want %s", name, c.State, c.Words, tt.want)
		}
	}
}

// As of a moment the residue test counts that was made by then, that very moment
// included, and none after it.
func TestResidueAsOf(t *testing.T) {
	b := newBook(t)
	b.open("session-01")
	b.keep("round_done", &RoundDone{Item: "rinse", Outcome: "done"})
	b.noResidue()
	tested := b.now
	b.must("fitness", "session-01", &session.Fitness{})
	for after, want := range map[time.Duration]session.CheckState{-time.Second: session.StopHere, 0: session.Ready, time.Minute: session.Ready} {
		at := tested.Add(after)
		h, err := AsOf(b.life, at)
		if err != nil {
			t.Fatal(err)
		}
		s := h.Session("session-01")
		for _, c := range session.StartLine(s, h.Member(s.Person).History(s), at) {
			if c.ID == session.CheckCleaned && c.State != want {
				t.Errorf("%s after the test: %s %q, want %s", after, c.State, c.Words, want)
			}
		}
	}
}
