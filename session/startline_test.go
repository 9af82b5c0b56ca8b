package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

func check(t *testing.T, checks []Check, id string) Check {
	t.Helper()
	i := slices.IndexFunc(checks, func(c Check) bool { return c.ID == id })
	if i < 0 {
		t.Fatalf("no check %s", id)
	}
	return checks[i]
}

func TestStartLineAllGreen(t *testing.T) {
	checks := StartLine(ready(t), known(), evening.Add(mins(40)))
	for _, c := range checks {
		if c.State != Ready {
			t.Errorf("%s: %s, %q", c.ID, c.State, c.Words)
		}
	}
	if !AllPassed(checks) || len(HoldingUp(checks)) != 0 {
		t.Error("not all ready")
	}
}

func TestStartLineOfNothing(t *testing.T) {
	s := newSession(t)
	put(s, evening, &Opened{Place: "home"})
	checks := StartLine(s, known(), evening)
	open := 0
	for _, c := range checks {
		if c.State == OpenYet {
			open++
		}
		if c.State == StopHere {
			t.Errorf("%s stops before anything was done: %q", c.ID, c.Words)
		}
	}
	if AllPassed(checks) || open != len(checks)-3 { // only the prescription, the disinfection and the gap are there
		t.Errorf("%d of %d open", open, len(checks))
	}
	if c := check(t, StartLine(&Session{}, History{}, evening), CheckPrescription); c.State != StopHere {
		t.Errorf("without a prescription: %+v", c)
	}
}

// edit changes the latest body of type T in a ready session.
func edit[T any](s *Session, f func(*T)) {
	b, _ := Last[T](s)
	copied := *b
	f(&copied)
	for i := range s.Log {
		if s.Log[i].Body == any(b) {
			s.Log[i].Body = &copied
		}
	}
}

// weighing makes the weight and the plan those of another weighing.
func weighing(s *Session, weight unit.Mass) {
	edit(s, func(b *WeighIn) { b.Weight = weight })
	edit(s, func(b *AgreedPlan) { b.PreWeight = weight })
}

func miss[T any](s *Session, key string, why Missing) {
	_, e := Last[T](s)
	e.Missing = map[string]Missing{key: why}
}

// One thing amiss at a time, each bound with its neighbours.
func TestEachCheck(t *testing.T) {
	expired, lastDay := date(t, "2026-03-11"), date(t, "2026-03-12")
	for _, tt := range []struct {
		check string
		want  CheckState
		words string // part of what is said
		set   func(*Session, *History)
	}{
		{CheckFit, StopHere, "Ring your unit first: fever.", func(s *Session, _ *History) { edit(s, func(b *Fitness) { b.Fever = true }) }},
		{CheckFit, StopHere, "chest pain, breathless", func(s *Session, _ *History) { edit(s, func(b *Fitness) { b.ChestPain, b.Breathless = true, true }) }},
		{CheckFit, Look, "You rang: Sister Berg, come in slowly", func(s *Session, _ *History) {
			edit(s, func(b *Fitness) { b.Hospital, b.Rang = true, "Sister Berg, come in slowly" })
		}},
		{CheckFit, StopHere, "Ring your unit first: new blood thinner.", func(s *Session, _ *History) { edit(s, func(b *Fitness) { b.Thinner = true }) }},
		{CheckFit, Look, "new medicine", func(s *Session, _ *History) { edit(s, func(b *Fitness) { b.Medicine = true }) }},

		{CheckAccess, StopHere, "No thrill; bruit heard", func(s *Session, _ *History) { edit(s, func(b *AccessCheck) { b.Thrill = "absent" }) }},
		{CheckAccess, Look, "Red: one sign", func(s *Session, _ *History) { edit(s, func(b *AccessCheck) { b.Skin = "red" }) }},
		{CheckAccess, StopHere, "Pus", func(s *Session, _ *History) { edit(s, func(b *AccessCheck) { b.Skin = "discharge" }) }},
		{CheckAccess, StopHere, "Chills", func(s *Session, _ *History) { edit(s, func(b *AccessCheck) { b.Chills = true }) }},
		{CheckAccess, OpenYet, "not felt", func(s *Session, _ *History) { edit(s, func(b *AccessCheck) { b.Thrill = "not_applicable" }) }},
		{CheckAccess, Ready, "cuff not showing", func(s *Session, _ *History) {
			s.Rx.Access = "catheter"
			edit(s, func(b *AccessCheck) { b.Thrill, b.Cuff, b.Length = "not_applicable", "hidden", "as_before" })
		}},
		{CheckAccess, Ready, "Exit site of the catheter looked at.", func(s *Session, _ *History) {
			s.Rx.Access = "catheter" // written as before the two had keys of their own
			edit(s, func(b *AccessCheck) { b.Thrill = "not_applicable" })
		}},
		{CheckAccess, OpenYet, "Cuff or length not answered", func(s *Session, h *History) {
			s.Rx.Access, h.Held = "catheter", true
			edit(s, func(b *AccessCheck) { b.Thrill = "not_applicable" })
		}},
		{CheckAccess, StopHere, "not done", func(s *Session, _ *History) { miss[AccessCheck](s, "thrill", NotDone) }},

		{CheckWeighed, Look, "Weigh on both", func(_ *Session, h *History) { h.Scale = "kitchen" }},
		{CheckWeighed, Ready, "60.5", func(_ *Session, h *History) { h.Scale = "bath" }},
		{CheckWeighed, StopHere, "not done", func(s *Session, _ *History) { miss[WeighIn](s, "weight_kg", NotDone) }},

		{CheckVitals, StopHere, "under 110", func(s *Session, _ *History) {
			s.Rx.SystolicLow = ref(unit.Pressure(110))
			edit(s, func(b *VitalsBefore) { b.SitSystolic = ref(unit.Pressure(109)) })
		}},
		{CheckVitals, Ready, "", func(s *Session, _ *History) {
			s.Rx.SystolicLow = ref(unit.Pressure(110))
			edit(s, func(b *VitalsBefore) { b.SitSystolic = ref(unit.Pressure(110)) })
		}},
		{CheckVitals, StopHere, "at or over 170", func(s *Session, _ *History) {
			s.Rx.SystolicHi = ref(unit.Pressure(170))
			edit(s, func(b *VitalsBefore) { b.SitSystolic = ref(unit.Pressure(170)) })
		}},
		{CheckVitals, Look, "under 100", func(s *Session, _ *History) {
			edit(s, func(b *VitalsBefore) { b.SitSystolic = ref(unit.Pressure(99)) })
		}},
		{CheckVitals, Look, "Standing", func(s *Session, _ *History) {
			edit(s, func(b *VitalsBefore) { b.StandSystolic = ref(unit.Pressure(88)) })
		}},
		{CheckVitals, Ready, "", func(s *Session, _ *History) {
			edit(s, func(b *VitalsBefore) {
				b.SitSystolic, b.StandSystolic = ref(unit.Pressure(179)), ref(unit.Pressure(170))
			})
		}},
		{CheckVitals, Look, "at or over 180", func(s *Session, _ *History) {
			edit(s, func(b *VitalsBefore) { b.SitSystolic = ref(unit.Pressure(180)) })
		}},
		{CheckVitals, StopHere, "Temperature", func(s *Session, _ *History) {
			edit(s, func(b *VitalsBefore) { b.Temperature = ref(unit.Temperature(378)) })
		}},
		{CheckVitals, Ready, "", func(s *Session, _ *History) {
			edit(s, func(b *VitalsBefore) { b.Temperature = ref(unit.Temperature(377)) })
		}},
		{CheckVitals, OpenYet, "Temperature not written", func(s *Session, _ *History) {
			s.Rx.TempHigh = ref(unit.Temperature(375))
			edit(s, func(b *VitalsBefore) { b.Temperature = nil })
		}},
		{CheckVitals, OpenYet, "Sitting", func(s *Session, _ *History) { edit(s, func(b *VitalsBefore) { b.SitSystolic = nil }) }},

		{CheckCleaned, Look, "No disinfection", func(_ *Session, h *History) { h.Treated = 3 }},
		{CheckCleaned, Ready, "Passed", func(_ *Session, h *History) {
			h.Treated, h.Cleaned = 3, &Disinfection{Programme: "heat", Result: "passed"}
		}},
		{CheckCleaned, StopHere, "failed", func(_ *Session, h *History) {
			h.Treated, h.Cleaned = 3, &Disinfection{Programme: "heat", Result: "failed"}
		}},
		{CheckCleaned, StopHere, "Test for residue", func(_ *Session, h *History) {
			h.Treated, h.Cleaned = 3, &Disinfection{Programme: "chemical", Result: "passed"}
		}},
		{CheckCleaned, StopHere, "The tick is not enough", func(s *Session, h *History) {
			h.Treated, h.Cleaned = 3, &Disinfection{Programme: "chemical", Result: "passed"}
			tick(s, evening.Add(mins(25)), ResidueStep, "done")
		}},
		{CheckCleaned, Ready, "Residue test 17:25: less than 0.05 mg/L chlorine.", func(_ *Session, h *History) {
			h.Treated, h.Cleaned = 3, &Disinfection{Programme: "chemical", Result: "passed"}
			h.Residues = []Residue{{At: evening.Add(mins(25)), Found: "less than 0.05 mg/L chlorine", Good: true}}
		}},
		{CheckCleaned, StopHere, "no session was treated on it", func(*Session, *History) {}},

		{CheckChlorine, Ready, "Less than 0.1", func(*Session, *History) {}},
		{CheckChlorine, Ready, "0.1\u00a0mg/L", func(s *Session, _ *History) { edit(s, func(b *Chlorine) { b.Below = false }) }}, // the limit itself passes
		{CheckChlorine, StopHere, "0.11\u00a0mg/L, limit 0.1", func(s *Session, _ *History) {
			edit(s, func(b *Chlorine) { b.Below, b.Result = false, 110 })
		}},
		{CheckChlorine, StopHere, "1\u00a0mg/L", func(s *Session, _ *History) {
			edit(s, func(b *Chlorine) { b.Below, b.Result = false, 1000 })
		}},
		{CheckChlorine, StopHere, "cannot tell", func(s *Session, _ *History) { edit(s, func(b *Chlorine) { b.Result = 500 }) }},
		{CheckChlorine, StopHere, "reads down to 0.5 only", func(s *Session, _ *History) {
			edit(s, func(b *Chlorine) { b.Below, b.Result, b.ReadsDown = false, 0, 500 })
		}},
		{CheckChlorine, Ready, "", func(s *Session, _ *History) {
			edit(s, func(b *Chlorine) { b.Below, b.Result, b.ReadsDown = false, 0, 100 })
		}},
		{CheckChlorine, StopHere, "how low", func(s *Session, _ *History) { edit(s, func(b *Chlorine) { b.ReadsDown = 0 }) }},
		{CheckChlorine, StopHere, "limit 0.05", func(s *Session, _ *History) {
			s.Rx.Chlorine = ref(unit.Concentration(50))
			edit(s, func(b *Chlorine) { b.Below, b.Result = false, 60 })
		}},
		{CheckChlorine, StopHere, "expired 11 March 2026", func(s *Session, _ *History) { edit(s, func(b *Chlorine) { b.Expiry = expired }) }},
		{CheckChlorine, Ready, "", func(s *Session, _ *History) { edit(s, func(b *Chlorine) { b.Expiry = lastDay }) }},
		{CheckChlorine, StopHere, "not done", func(s *Session, _ *History) { miss[Chlorine](s, "total_chlorine_mg_l", NotDone) }},
		{CheckChlorine, StopHere, "does not apply", func(s *Session, _ *History) { miss[Chlorine](s, "total_chlorine_mg_l", DoesNotApply) }},
		{CheckChlorine, StopHere, "does not apply", func(s *Session, _ *History) { // it may be a batch of tap water
			s.Machine.Kind = "low_volume"
			miss[Chlorine](s, "total_chlorine_mg_l", DoesNotApply)
		}},
		{CheckChlorine, Ready, "ready bags", func(s *Session, _ *History) {
			s.Machine.Kind = "bags"
			miss[Chlorine](s, "total_chlorine_mg_l", DoesNotApply)
		}},

		{CheckSelfTest, StopHere, "Not passed", func(s *Session, _ *History) { edit(s, func(b *SelfTest) { b.Passed = false }) }},
		{CheckSelfTest, Look, "try 2", func(s *Session, _ *History) { edit(s, func(b *SelfTest) { b.Tries = 2 }) }},
		{CheckSelfTest, Look, "try 2", func(s *Session, _ *History) { // a failed one before it counts
			put(s, evening.Add(mins(5)), &SelfTest{Passed: false, Tries: 1})
		}},

		{CheckConduct, Ready, "", func(s *Session, _ *History) { edit(s, func(b *FluidCheck) { b.MeterConduct = 1360 }) }},
		{CheckConduct, StopHere, "Machine 14.00, meter 13.59", func(s *Session, _ *History) { edit(s, func(b *FluidCheck) { b.MeterConduct = 1359 }) }},
		{CheckConduct, StopHere, "disagree", func(s *Session, _ *History) {
			s.Rx.ConductTol = ref(unit.Conductivity(10))
		}},
		{CheckConduct, Look, "set is 14.00", func(s *Session, _ *History) { // 5 % of 14.00 is 0.70
			edit(s, func(b *FluidCheck) { b.MachineConduct, b.MeterConduct = 1470, 1470 })
		}},
		{CheckConduct, StopHere, "set is 14.00", func(s *Session, _ *History) {
			edit(s, func(b *FluidCheck) { b.MachineConduct, b.MeterConduct = 1471, 1471 })
		}},
		{CheckConduct, StopHere, "too warm", func(s *Session, _ *History) {
			edit(s, func(b *FluidCheck) { b.MachineTemp = ref(unit.Temperature(386)) })
		}},

		{CheckBath, StopHere, "Label K 1, prescribed 2", func(s *Session, _ *History) { edit(s, func(b *BathLabel) { b.K = 100 }) }},
		{CheckBath, StopHere, "Label Ca 1.25, prescribed 1.5", func(s *Session, _ *History) { edit(s, func(b *BathLabel) { b.Ca = 125 }) }},
		{CheckBath, StopHere, "expired", func(s *Session, _ *History) { edit(s, func(b *BathLabel) { b.Expiry = expired }) }},
		{CheckBath, OpenYet, "Expiry", func(s *Session, _ *History) { edit(s, func(b *BathLabel) { b.Expiry = unit.Date{} }) }},

		{CheckLots, StopHere, "Needles expired", func(s *Session, _ *History) { edit(s, func(b *Supply) { b.Expiry = expired }) }},
		{CheckLots, Ready, "", func(s *Session, _ *History) { edit(s, func(b *Supply) { b.Expiry = lastDay }) }},
		{CheckLots, StopHere, "Heparin expired", func(s *Session, _ *History) { edit(s, func(b *HeparinDrawn) { b.Expiry = expired }) }},
		{CheckLots, StopHere, "Local anaesthetic expired", func(s *Session, _ *History) {
			put(s, evening.Add(mins(33)), &AnaestheticDrawn{Strength: 10, Volume: 40, Expiry: expired})
		}},
		{CheckLots, OpenYet, "Expiry of needles", func(s *Session, _ *History) { edit(s, func(b *Supply) { b.Expiry = unit.Date{} }) }},
		{CheckLots, OpenYet, "No lots", func(s *Session, _ *History) {
			s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { return e.Kind == "supply" })
		}},

		{CheckHeparin, StopHere, "Hold heparin: bleeding", func(s *Session, _ *History) { edit(s, func(b *Fitness) { b.Bleeding = true }) }},
		{CheckHeparin, StopHere, "Hold heparin: new blood thinner", func(s *Session, _ *History) { edit(s, func(b *Fitness) { b.Thinner = true }) }},
		{CheckHeparin, Ready, "as prescribed", func(s *Session, _ *History) { edit(s, func(b *Fitness) { b.Medicine = true }) }},
		{CheckHeparin, StopHere, "Hold heparin: fall or knock", func(s *Session, _ *History) {
			edit(s, func(b *Fitness) { b.Fall, b.Rang = true, "rang the unit" })
		}},
		{CheckHeparin, StopHere, "dentist", func(s *Session, _ *History) { edit(s, func(b *Fitness) { b.Procedure = true }) }},
		{CheckHeparin, StopHere, "Bolus 15\u00a0000", func(s *Session, _ *History) { edit(s, func(b *HeparinDrawn) { b.Bolus = 15_000 }) }},
		{CheckHeparin, StopHere, "last time it was 5\u00a0000", func(_ *Session, h *History) { h.Strength = ref(unit.Strength(5000)) }},
		{CheckHeparin, Ready, "", func(s *Session, h *History) {
			h.Strength = ref(unit.Strength(5000))
			edit(s, func(b *HeparinDrawn) { b.LabelRead = ref(unit.Strength(1000)) })
		}},
		{CheckHeparin, Ready, "None prescribed", func(s *Session, _ *History) {
			s.Rx.Heparin = "none"
			s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { return e.Kind == "heparin_drawn" })
		}},
		{CheckHeparin, StopHere, "None prescribed, but", func(s *Session, _ *History) { s.Rx.Heparin = "none" }},

		{CheckPlan, StopHere, "Plan again", func(s *Session, _ *History) { put(s, evening.Add(mins(36)), &WeighIn{Weight: 60_400, Scale: "bath"}) }},
		{CheckPlan, StopHere, "another prescription", func(s *Session, _ *History) { s.PrescriptionID = "rx2" }},
		{CheckPlan, Ready, "", func(s *Session, _ *History) { weighing(s, 58_201) }}, // clothes 0.5 kg, dry weight 58 kg
		{CheckPlan, Look, "0.3\u00a0kg below your dry weight", func(s *Session, _ *History) { weighing(s, 58_200) }},
		{CheckPlan, Look, "0.499\u00a0kg below", func(s *Session, _ *History) { weighing(s, 58_001) }},
		{CheckPlan, StopHere, "0.5\u00a0kg below your dry weight. Ring", func(s *Session, _ *History) { weighing(s, 58_000) }},
		{CheckPlan, StopHere, "0.1\u00a0kg below your dry weight, with vomiting", func(s *Session, _ *History) {
			weighing(s, 58_400)
			edit(s, func(b *Fitness) { b.Stomach = true })
		}},
		{CheckPlan, StopHere, "with a blood pressure of 88", func(s *Session, _ *History) {
			weighing(s, 58_400)
			edit(s, func(b *VitalsBefore) { b.StandSystolic = ref(unit.Pressure(88)) })
		}},
		{CheckPlan, StopHere, "0.3\u00a0kg below", func(s *Session, _ *History) {
			s.Rx.DryRing = ref(unit.Mass(300))
			weighing(s, 58_200)
		}},
		{CheckPlan, StopHere, "Plan 2.60, machine 26", func(s *Session, _ *History) {
			edit(s, func(b *ReadBack) { b.Goal, b.Shown = 26_000, "26" })
		}},
		{CheckPlan, StopHere, "Set the time again", func(s *Session, _ *History) { edit(s, func(b *ReadBack) { b.Length = ref(unit.Minutes(24)) }) }},
		{CheckPlan, OpenYet, "Not read back", func(s *Session, _ *History) {
			b, _ := Last[AgreedPlan](s)
			put(s, evening.Add(mins(38)), b)
		}},

		{CheckPrescription, Look, "not read back", func(s *Session, _ *History) { s.Rx.How = "phone" }},
		{CheckPrescription, Look, "paper has not come", func(s *Session, _ *History) { s.Rx.How, s.Rx.ReadBack = "phone", true }},
		{CheckPrescription, Ready, "", func(s *Session, h *History) { s.Rx.How, h.PaperCame = "phone", true }},
		{CheckPrescription, StopHere, "Valid only from", func(s *Session, _ *History) { s.Rx.ValidFrom = date(t, "2026-03-13") }},
		{CheckPrescription, Look, "Review was due", func(s *Session, _ *History) { s.Rx.ReviewBy = date(t, "2026-03-11") }},
	} {
		s, h := ready(t), History{}
		tt.set(s, &h)
		c := check(t, StartLine(s, h, evening.Add(mins(40))), tt.check)
		if c.State != tt.want || !strings.Contains(c.Words, tt.words) {
			t.Errorf("%s: %s %q, want %s %q", tt.check, c.State, c.Words, tt.want, tt.words)
		}
		for _, sentence := range strings.SplitAfter(c.Words, ". ") {
			if n := len(strings.Fields(strings.ReplaceAll(sentence, "\u00a0", ""))); n > 14 {
				t.Errorf("%s: %d words take too long to read: %q", tt.check, n, sentence)
			}
		}
	}
}

func TestChlorineAge(t *testing.T) {
	s := ready(t) // tested 12 minutes in
	for after, want := range map[time.Duration]CheckState{mins(60) - time.Second: Ready, mins(60): StopHere, 24 * time.Hour: StopHere} {
		if c := check(t, StartLine(s, History{}, evening.Add(mins(12)).Add(after)), CheckChlorine); c.State != want {
			t.Errorf("after %v: %s %q", after, c.State, c.Words)
		}
	}
	// Connected in time it stays as it stood then, however late one looks.
	s = connected(t)
	put(s, on(120), &Chlorine{Result: 300, Below: false, ReadsDown: 50, Expiry: date(t, "2027-01-01")})
	if c := check(t, StartLine(s, History{}, on(200)), CheckChlorine); c.State != Ready {
		t.Errorf("after connecting: %s %q", c.State, c.Words)
	}
}

func TestWeightAgeAtTheStart(t *testing.T) {
	s := newSession(t)
	put(s, evening, &WeighIn{Weight: 60_500, Scale: "bath"})
	at := func(m int) CheckState {
		return check(t, StartLine(s, History{}, evening.Add(mins(m))), CheckWeighed).State
	}
	if at(60) != Ready || at(61) != StopHere {
		t.Errorf("at 60 min %s, at 61 min %s", at(60), at(61))
	}
	// Planned in time, the needles may take longer, but not for ever.
	p, err := MakePlan(s, Choices{}, History{}, evening.Add(mins(55)))
	if err != nil {
		t.Fatal(err)
	}
	put(s, evening.Add(mins(55)), &p.AgreedPlan)
	if at(80) != Ready || at(121) != StopHere {
		t.Errorf("planned at 55 min: at 80 min %s, at 121 min %s", at(80), at(121))
	}
}

func TestOverride(t *testing.T) {
	s := ready(t)
	edit(s, func(b *BathLabel) { b.Lot, b.Expiry = "b1", date(t, "2026-03-01") })
	now := evening.Add(mins(40))
	held := func() Check { return check(t, StartLine(s, History{}, now), CheckBath) }
	if AllPassed(StartLine(s, known(), now)) || held().Passed() {
		t.Fatal("an expired bath passes")
	}
	for _, reason := range []string{"", "ok", "123456789", "          ", "aaaaaaaaaaaa", " . . . . "} {
		put(s, evening.Add(mins(38)), &Override{Check: CheckBath, Reason: reason})
		if held().Passed() {
			t.Errorf("passed with the reason %q", reason)
		}
	}
	put(s, evening.Add(mins(38)), &Override{Check: CheckChlorine, Reason: "this is for another check"})
	if held().Passed() {
		t.Error("passed with a reason for another check")
	}
	put(s, evening.Add(mins(39)), &Override{Check: CheckBath, Reason: "Nurse Berg agreed by telephone"})
	c := held()
	if !c.Passed() || c.State != StopHere || c.Overridden.Reason != "Nurse Berg agreed by telephone" || c.By != "Ada" || !c.At.Equal(evening.Add(mins(39))) {
		t.Errorf("%+v", c)
	}
	if !AllPassed(StartLine(s, known(), now)) {
		t.Error("held up by something else")
	}
	// What comes to light after the reason was written is not covered by it.
	put(s, evening.Add(mins(40)), &BathLabel{K: 100, Ca: 150, Lot: "b2", Expiry: date(t, "2027-01-01")})
	if held().Passed() {
		t.Error("an old reason passes a new fault")
	}
	// Struck out, the reason counts no more.
	s = ready(t)
	edit(s, func(b *BathLabel) { b.K = 100 })
	put(s, evening.Add(mins(39)), &Override{Check: CheckBath, Reason: "Nurse Berg agreed by telephone"}).Struck = &Strike{}
	if held().Passed() {
		t.Error("a reason that was struck out passes")
	}
}

// A check that is ready is not marked as gone on in spite of.
func TestOverrideOfAGreenCheck(t *testing.T) {
	s := ready(t)
	put(s, evening.Add(mins(39)), &Override{Check: CheckBath, Reason: "just to be on the sure side"})
	if c := check(t, StartLine(s, History{}, evening.Add(mins(40))), CheckBath); c.Overridden != nil {
		t.Errorf("%+v", c)
	}
}

func TestLimitsSayWhose(t *testing.T) {
	s := ready(t)
	now := evening.Add(mins(40))
	for _, id := range []string{CheckChlorine, CheckConduct, CheckVitals} {
		if c := check(t, StartLine(s, History{}, now), id); !strings.HasSuffix(c.Limit, ownDefault) {
			t.Errorf("%s: %q", id, c.Limit)
		}
	}
	s.Rx.Chlorine, s.Rx.ConductTol = ref(unit.Concentration(100)), ref(unit.Conductivity(30))
	s.Rx.SystolicLow, s.Rx.SystolicHi = ref(unit.Pressure(100)), ref(unit.Pressure(180))
	for _, id := range []string{CheckChlorine, CheckConduct, CheckVitals} {
		if c := check(t, StartLine(s, History{}, now), id); !strings.HasSuffix(c.Limit, "set by Dr Lind on 3 March 2026") {
			t.Errorf("%s: %q", id, c.Limit)
		}
	}
	if c := check(t, StartLine(s, History{}, now), CheckVitals); c.Words != "Inside the limits your unit set on 3 March 2026. Sitting 138/80, standing 130/76, pulse 72, 36.6\u00a0°C." {
		t.Errorf("%q", c.Words)
	}
}

func TestHoldingUpPutsStopsFirst(t *testing.T) {
	s := ready(t)
	s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { return e.Kind == "fitness" })
	edit(s, func(b *BathLabel) { b.K = 100 })
	held := HoldingUp(StartLine(s, known(), evening.Add(mins(40))))
	if len(held) != 2 || held[0].ID != CheckBath || held[1].ID != CheckFit {
		t.Errorf("%+v", held)
	}
}
