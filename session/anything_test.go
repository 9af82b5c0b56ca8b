package session

import (
	"testing"
	"time"

	"ebbline/unit"
)

// anything makes a log of entries in no sensible order, some struck out, some
// with values missing: what a bad import, a wrong clock or a tired hand leaves.
func anything(t *testing.T, dice *lcg) *Session {
	s := newSession(t)
	if dice.next(10) == 0 {
		s.Rx = nil
	}
	if dice.next(10) == 0 {
		s.Machine = Machine{}
	}
	at := func() time.Time { return evening.Add(time.Duration(dice.next(600)-60) * time.Minute) }
	vol := func() *unit.Volume {
		if dice.next(4) == 0 {
			return nil
		}
		return ref(unit.Volume(dice.next(4000)))
	}
	press := func() *unit.Pressure {
		if dice.next(4) == 0 {
			return nil
		}
		return ref(unit.Pressure(dice.next(300) - 50))
	}
	for range dice.next(40) {
		var body any
		switch dice.next(33) {
		case 0:
			body = &Opened{Place: []string{"home", "elsewhere"}[dice.next(2)]}
		case 1:
			body = &Fitness{Hospital: dice.next(2) == 0, Fall: dice.next(2) == 0}
		case 2:
			body = &AccessCheck{Thrill: "present"}
		case 3, 4:
			body = &WeighIn{Weight: unit.Mass(50_000 + dice.next(20_000)), Scale: "bath"}
		case 5:
			body = &VitalsBefore{SitSystolic: press()}
		case 6:
			body = &Chlorine{Result: unit.Concentration(dice.next(300)), ReadsDown: unit.Concentration(dice.next(300))}
		case 7:
			body = &HeparinDrawn{Strength: unit.Strength(dice.next(3) * 1000), Bolus: unit.Dose(dice.next(3000))}
		case 8:
			if p, err := MakePlan(s, Choices{}, History{}, at()); err == nil {
				body = &p.AgreedPlan
			} else {
				body = &AgreedPlan{}
			}
		case 9:
			body = &ReadBack{Goal: unit.Volume(dice.next(4000))}
		case 10:
			body = &StepDone{Phase: SetUp, Step: "prime", State: []string{"started", "done", "undone", "not_done"}[dice.next(4)]}
		case 11, 12:
			body = &Connected{}
		case 13, 14, 15:
			body = &Reading{Systolic: press(), Venous: press(), Arterial: press(), TMP: press(), Removed: vol(), BloodFlow: ref(unit.Flow(dice.next(500))),
				Pulse: ref(unit.Pulse(dice.next(180))), Conduct: ref(unit.Conductivity(1200 + dice.next(400))),
				DialTemp: ref(unit.Temperature(330 + dice.next(80))), BodyTemp: ref(unit.Temperature(350 + dice.next(50))), Rate: ref(unit.Rate(max(dice.next(1500)-200, 0))), Irregular: dice.next(9) == 0, Again: dice.next(9) == 0}
		case 16:
			body = &Pause{}
		case 17:
			body = &Resume{}
		case 18:
			body = &GoalChanged{Goal: unit.Volume(dice.next(4000)), Length: ref(unit.Minutes(30 + dice.next(600)))}
		case 19:
			body = &Drink{Volume: unit.Volume(dice.next(900))}
		case 20:
			body = &CameOff{Returned: "all", Removed: vol(), Washback: vol()}
		case 21:
			body = &WeighOut{Weight: unit.Mass(50_000 + dice.next(20_000)), Scale: "bath"}
		case 22:
			body = &Asleep{For: unit.Minutes(dice.next(300))}
		case 23:
			body = &LowPressure{Systolic: press()}
		case 24:
			body = &Unwell{Words: "sick"}
		case 25:
			body = &Cramp{}
		case 26:
			body = &Saline{Volume: unit.Volume(dice.next(600))}
		case 27:
			body = &Chlorine{Result: unit.Concentration(dice.next(300)), ReadsDown: 20}
		case 28:
			body = &RemovalOff{}
		case 29:
			body = &RemovalOn{}
		case 30:
			body = &GoalChanged{Goal: unit.Volume(dice.next(4000)), Unit: "Sister Berg"}
		case 31:
			body = &Trouble{Trouble: Troubles()[dice.next(17)].Code, State: []string{TroubleOpen, TroubleOver}[dice.next(2)]}
		default:
			body = &Closed{}
		}
		e := put(s, at(), body)
		if dice.next(8) == 0 {
			e.Struck = &Strike{}
		}
		if dice.next(8) == 0 {
			e.Missing = map[string]Missing{"weight_kg": NotDone}
		}
	}
	return s
}

// Whatever stands in a record, every page can be shown, and what holds of time
// and fluid holds.
func TestAnythingInTheRecord(t *testing.T) {
	dice := lcg(99)
	for range 4000 {
		s := anything(t, &dice)
		now := evening.Add(time.Duration(dice.next(700)-90) * time.Minute)
		h := HistoryOf([]*Session{anything(t, &dice), anything(t, &dice)})

		if run, ok := Follow(s, now); ok {
			if run.Treated < 0 || run.Treated > run.Elapsed || run.Left < 0 || run.Blood < 0 || run.Beyond < 0 {
				t.Fatalf("%+v", run)
			}
			if later, ok := Follow(s, now.Add(time.Hour)); !ok || later.Treated < run.Treated {
				t.Fatalf("treated %v, an hour later %v", run.Treated, later.Treated)
			}
		}
		if n, err := SetNow(s, now); err == nil {
			for _, o := range n.Options {
				if o.Goal < 0 || o.Length <= 0 || o.End.Before(now) || o.LeftOver < 0 {
					t.Fatalf("%+v", o)
				}
			}
		}
		if set, ok := ToSetNow(s, now); ok && (set.Goal < 0 || set.Rate < 0 || set.Left < 0 || set.LeftOver < 0) {
			t.Fatalf("%+v", set)
		}
		if due, ok := NextCheck(s, now); ok && (due.At.IsZero() || due.Every <= 0 || due.Why == "") {
			t.Fatalf("%+v", due)
		}
		EbbOf(s, now)
		Remarks(s, now)
		Close(s, now)
		Night(s)
		for _, c := range StartLine(s, h, now) {
			if c.Words == "" || rank[c.State] == 0 && c.State != Ready {
				t.Fatalf("%+v", c)
			}
		}
		if p, err := MakePlan(s, Choices{}, h, now); err == nil {
			if err := Agree(p, p.Form(s.Rx)); err != nil {
				t.Fatalf("%v: %+v", err, p.AgreedPlan)
			}
		}
		for _, sheet := range []RunSheet{DefaultSetUp(), DefaultTakeOff()} {
			if p := Progress(sheet, s, now); p.Done > p.Total {
				t.Fatalf("%d of %d", p.Done, p.Total)
			}
		}
		if e := Expect(little(), s, History{}, PaceOf(little(), []*Session{s}), now); e.Early.After(e.Median) || e.Median.After(e.Late) || e.Early.Before(now) {
			t.Fatalf("%+v", e)
		}
		Drift([]Balance{Close(s, now).Balance, Close(s, now).Balance, Close(s, now).Balance})
		if s.Rx != nil {
			if _, err := SumAnaesthetic(s); err != nil {
				t.Fatal(err)
			}
		}
	}
}
