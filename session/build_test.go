package session

import (
	"fmt"
	"testing"
	"time"
	_ "time/tzdata"

	"ebbline/unit"
)

// kindOf names the kinds that a step of a run sheet can be ticked by.
func kindOf(body any) string {
	switch body.(type) {
	case *Opened:
		return "session_opened"
	case *Fitness:
		return "fitness"
	case *AccessCheck:
		return "access_check"
	case *WeighIn:
		return "weigh_in"
	case *VitalsBefore:
		return "vitals_before"
	case *BatchUsed:
		return "batch_used"
	case *Chlorine:
		return "chlorine"
	case *SelfTest:
		return "self_test"
	case *FluidCheck:
		return "fluid_check"
	case *BathLabel:
		return "bath_label"
	case *Supply:
		return "supply"
	case *HeparinDrawn:
		return "heparin_drawn"
	case *CatheterLock:
		return "catheter_lock"
	case *LockDrawn:
		return "lock_drawn"
	case *Glucose:
		return "glucose"
	case *AgreedPlan:
		return "plan"
	case *ReadBack:
		return "read_back"
	case *StepDone:
		return "step"
	case *Needling:
		return "needling"
	case *Connected:
		return "connected"
	case *Reading:
		return "reading"
	case *CameOff:
		return "came_off"
	case *Holding:
		return "holding"
	case *VitalsAfter:
		return "vitals_after"
	case *WeighOut:
		return "weigh_out"
	case *Circuit:
		return "circuit"
	case *Disinfection:
		return "disinfection"
	case *Closed:
		return "closed"
	}
	return fmt.Sprintf("%T", body)
}

// put adds an entry that happened at and was written at once.
func put(s *Session, at time.Time, body any) *Event {
	id := fmt.Sprintf("e%d", len(s.Log)+1)
	s.Add(Event{ID: id, Kind: kindOf(body), At: at, Written: at, By: "Ada", Body: body})
	return s.Find(id)
}

func ref[T any](v T) *T { return &v }

func date(t testing.TB, text string) unit.Date {
	t.Helper()
	d, err := unit.ParseDate(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	z, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

// evening is when the invented session starts setting up.
var evening = time.Date(2026, 3, 12, 17, 0, 0, 0, time.UTC)

func mins(n int) time.Duration { return time.Duration(n) * time.Minute }

// ordered is an invented prescription: 4 h, 58 kg, 12 mL/h/kg, limits set on 3 March 2026.
func ordered(t testing.TB) *Prescription {
	return &Prescription{
		OrderedBy: "Dr Lind", OrderedOn: date(t, "2026-03-01"), How: "paper", ValidFrom: date(t, "2026-03-02"), ReviewBy: date(t, "2026-06-01"),
		Days: []string{"mon", "wed", "fri"}, Length: ref(unit.Minutes(240)),
		DryWeight: 58_000, DrySetBy: "Dr Lind", DrySetOn: date(t, "2026-03-01"), DryReview: date(t, "2026-05-01"),
		Dialyser: "1.8 m²", BloodFlow: 300, DialFlow: ref(unit.Flow(500)), BathK: 200, BathCa: 150, SetConduct: ref(unit.Conductivity(1400)),
		Heparin: "unfractionated", HepStrength: ref(unit.Strength(1000)), HepBolus: ref(unit.Dose(1500)), HepHourly: ref(unit.DoseRate(750)), HepStop: ref(unit.Minutes(60)),
		Access: "fistula", AccessSide: "left_arm", Technique: "rope_ladder", GaugeA: 16, GaugeV: 16,
		Intake: 300, Washback: 300,
		Limits: Limits{SetBy: "Dr Lind", SetOn: date(t, "2026-03-03"), Rate: ref(unit.RatePerKg(1200))},
	}
}

func newSession(t testing.TB) *Session {
	return &Session{
		ID: "s1", Person: "ada", PrescriptionID: "rx1", Rx: ordered(t),
		Machine: Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass"},
	}
}

// ready is a session set up with nothing amiss, the plan agreed 35 minutes and
// read back 37 minutes after it was opened.
func ready(t testing.TB) *Session {
	s := newSession(t)
	in := func(m int) time.Time { return evening.Add(mins(m)) }
	next := date(t, "2027-01-31")
	put(s, in(0), &Opened{Place: "home", Source: "live", Confirmed: true})
	put(s, in(1), &Fitness{})
	put(s, in(2), &AccessCheck{Thrill: "present", Bruit: "present", Skin: "clean"})
	put(s, in(4), &WeighIn{Weight: 60_500, Clothing: 500, Scale: "bath", ReadIn: "kg"})
	put(s, in(9), &VitalsBefore{SitSystolic: ref(unit.Pressure(138)), SitDiastolic: ref(unit.Pressure(80)), StandSystolic: ref(unit.Pressure(130)), StandDiastolic: ref(unit.Pressure(76)), Pulse: ref(unit.Pulse(72)), Temperature: ref(unit.Temperature(366))})
	put(s, in(12), &Chlorine{Result: 100, Below: true, Method: "DPD", ReadsDown: 50, Lot: "c1", Expiry: next, Point: "first_carbon"})
	put(s, in(13), &SelfTest{Passed: true, Tries: 1})
	put(s, in(20), &BathLabel{K: 200, Ca: 150, Lot: "b1", Expiry: next})
	for _, item := range []string{"dialyser", "lines", "needles"} {
		put(s, in(22), &Supply{Item: item, Lot: item[:1] + "1", Expiry: next})
	}
	put(s, in(30), &FluidCheck{MachineConduct: 1400, MeterConduct: 1380})
	put(s, in(32), &HeparinDrawn{Strength: 1000, Bolus: 1500, Line: 2250, BolusVol: 150, LineVol: 225, Lot: "h1", Expiry: next})
	p, err := MakePlan(s, Choices{}, History{}, in(35))
	if err != nil {
		t.Fatal(err)
	}
	put(s, in(35), &p.AgreedPlan)
	put(s, in(37), &ReadBack{Goal: p.SetGoal, Shown: p.GoalDigits})
	return s
}

// known is the history of a machine in use, disinfected with heat after the last
// session, the evening before.
func known() History {
	last := evening.AddDate(0, 0, -1)
	return History{Treated: 3, Cleaned: &Disinfection{Programme: "heat", Result: "passed"}, CleanedAt: last.Add(mins(90)), MachineCare: MachineCare{Used: last}}
}

// connected is a ready session connected 45 minutes after it was opened.
func connected(t testing.TB) *Session {
	s := ready(t)
	put(s, evening.Add(mins(45)), &Connected{BloodFlow: ref(unit.Flow(300))})
	return s
}

// on gives the instant so many minutes after connecting.
func on(minutes int) time.Time { return evening.Add(mins(45 + minutes)) }
