package session

import (
	"math"
	"testing"
	"time"

	"ebbline/unit"
)

func follow(t *testing.T, s *Session, at time.Time) Run {
	t.Helper()
	r, ok := Follow(s, at)
	if !ok {
		t.Fatal("not running")
	}
	return r
}

func TestFollow(t *testing.T) {
	s := connected(t) // 2.0 kg above dry, goal 2.60 L over 4 h
	put(s, on(60), &Reading{Systolic: ref(unit.Pressure(128)), BloodFlow: ref(unit.Flow(280)), Removed: ref(unit.Volume(640))})
	r := follow(t, s, on(90))
	if r.Goal != 2600 || r.Length != 240 || !r.PlannedEnd.Equal(on(240)) || r.Left != mins(150) {
		t.Errorf("goal %v, length %v, end %v, left %v", r.Goal, r.Length, r.PlannedEnd.Sub(on(0)), r.Left)
	}
	if r.Expected == nil || *r.Expected != 975 { // 2600 · 90/240
		t.Errorf("expected %v, want 975", r.Expected)
	}
	if r.Removed == nil || *r.Removed != 640 || !r.RemovedAt.Equal(on(60)) {
		t.Errorf("removed %v at %v", r.Removed, r.RemovedAt)
	}
	if !r.HeparinStop.Equal(on(180)) || !r.HeparinOff.IsZero() {
		t.Errorf("heparin stops %v, off %v", r.HeparinStop.Sub(on(0)), r.HeparinOff)
	}
	if want := 0.3*60 + 0.28*30; math.Abs(r.Blood-want) > 1e-9 || r.BloodAssumed != 0 {
		t.Errorf("%.2f L of blood (%v assumed), want %.2f", r.Blood, r.BloodAssumed, want)
	}
	if !r.NextCheck.Equal(on(120)) || r.CheckFrom != ownDefault {
		t.Errorf("next reading %v, %s", r.NextCheck.Sub(on(0)), r.CheckFrom)
	}
}

// Each change of flow counts from when it was told; pauses process no blood.
func TestBloodProcessed(t *testing.T) {
	s := connected(t)
	put(s, on(30), &FlowChanged{BloodFlow: 200})
	put(s, on(60), &Pause{})
	put(s, on(80), &Resume{})
	put(s, on(100), &Reading{Systolic: ref(unit.Pressure(120))}) // says nothing of the flow
	put(s, on(110), &Reading{BloodFlow: ref(unit.Flow(320))})
	want := (300*30 + 200*30 + 200*30 + 320*10) / 1000.0
	if r := follow(t, s, on(120)); math.Abs(r.Blood-want) > 1e-9 {
		t.Errorf("%.3f L, want %.3f", r.Blood, want)
	}
	// Where no flow was ever told the prescribed one stands in, and says so.
	s = ready(t)
	put(s, on(0), &Connected{})
	put(s, on(50), &FlowChanged{BloodFlow: 200})
	r := follow(t, s, on(60))
	if want := (300*50 + 200*10) / 1000.0; math.Abs(r.Blood-want) > 1e-9 || r.BloodAssumed != mins(50) {
		t.Errorf("%.3f L with %v assumed, want %.3f with 50 min", r.Blood, r.BloodAssumed, want)
	}
}

// The heparin stop is minutes before the end: it moves when the end does.
func TestHeparinStopMoves(t *testing.T) {
	s := connected(t)
	put(s, on(60), &Pause{})
	put(s, on(75), &Resume{})
	if r := follow(t, s, on(80)); !r.HeparinStop.Equal(on(195)) {
		t.Errorf("after a pause of 15 min it stops at %v", r.HeparinStop.Sub(on(0)))
	}
	put(s, on(90), &GoalChanged{Goal: 2600, Length: ref(unit.Minutes(270))})
	if r := follow(t, s, on(95)); !r.PlannedEnd.Equal(on(285)) || !r.HeparinStop.Equal(on(225)) {
		t.Errorf("lengthened by 30 min: end %v, stop %v", r.PlannedEnd.Sub(on(0)), r.HeparinStop.Sub(on(0)))
	}
	if r := follow(t, s, on(85)); !r.HeparinStop.Equal(on(195)) {
		t.Errorf("the change reached back: stop %v", r.HeparinStop.Sub(on(0)))
	}
	put(s, on(220), &HeparinOff{})
	if r := follow(t, s, on(230)); !r.HeparinOff.Equal(on(220)) {
		t.Errorf("heparin off %v", r.HeparinOff)
	}
	s.Rx.HepStop = nil
	if r := follow(t, s, on(230)); !r.HeparinStop.IsZero() {
		t.Errorf("a stop that nobody prescribed: %v", r.HeparinStop)
	}
}

// Drinks and saline up to what the plan allowed for are no addition.
func TestBeyondPlan(t *testing.T) {
	s := connected(t) // 300 mL of drinks planned
	for _, step := range []struct {
		body any
		want unit.Volume
	}{
		{&Drink{Volume: 200}, 0}, {&Drink{Volume: 100}, 0}, {&Drink{Volume: 150}, 150}, {&Saline{Volume: 100}, 250},
	} {
		put(s, on(60), step.body)
		if r := follow(t, s, on(61)); r.Beyond != step.want {
			t.Errorf("after %T: %v beyond the plan, want %v", step.body, r.Beyond, step.want)
		}
	}
	if r := follow(t, s, on(61)); r.Drunk != 450 || r.Saline != 100 {
		t.Errorf("drunk %v, saline %v", r.Drunk, r.Saline)
	}
}

func TestEbb(t *testing.T) {
	s := connected(t)
	put(s, on(60), &Reading{Removed: ref(unit.Volume(600))})
	put(s, on(70), &Drink{Volume: 500}) // 200 beyond the plan
	put(s, on(120), &Reading{Removed: ref(unit.Volume(1280))})
	put(s, on(120), &GoalChanged{Goal: 2800})
	put(s, on(180), &Reading{Removed: ref(unit.Volume(2000))})
	e, ok := EbbOf(s, on(200))
	if !ok || e.Start != 2600 || e.Rest != 0 {
		t.Fatalf("ebb %+v, %v", e, ok)
	}
	wantPlanned := []struct {
		min    int
		excess unit.Volume
	}{{0, 2600}, {120, 1300}, {120, 1520}, {240, 0}} // 2600+200−1280, then to 2800
	if len(e.Planned) != len(wantPlanned) {
		t.Fatalf("planned %+v", e.Planned)
	}
	for i, w := range wantPlanned {
		if p := e.Planned[i]; p.Treated != mins(w.min) || p.Excess != w.excess || !p.At.Equal(on(w.min)) {
			t.Errorf("planned corner %d: %v after %v (%v), want %v after %d min", i, p.Excess, p.Treated, p.At, w.excess, w.min)
		}
	}
	for i, want := range []unit.Volume{2600, 2000, 1520, 800} {
		if got := e.Actual[i].Excess; got != want {
			t.Errorf("actual point %d: %v, want %v", i, got, want)
		}
	}
	// With the new goal the line goes on from where the removal stood.
	if r := follow(t, s, on(180)); *r.Expected != 2040 { // 1280 + 60/120 · 1520
		t.Errorf("expected %v at 180 min, want 2040", *r.Expected)
	}
}

func TestEbbOfACutGoal(t *testing.T) {
	s := newSession(t)
	s.Rx.Rate = ref(unit.RatePerKg(1000))
	put(s, evening, &WeighIn{Weight: 61_200, Scale: "bath"})
	p, err := MakePlan(s, Choices{}, History{}, evening)
	if err != nil {
		t.Fatal(err)
	}
	put(s, evening, &p.AgreedPlan)
	put(s, on(0), &Connected{})
	e, ok := EbbOf(s, on(1))
	if !ok || e.Start != 3800 || e.Rest != 1480 { // 10 mL/h/kg · 58 kg · 4 h = 2.32 L
		t.Errorf("start %v, rest %v", e.Start, e.Rest)
	}
	if last := e.Planned[len(e.Planned)-1]; last.Excess != 1480 {
		t.Errorf("the line ends at %v, want what is left for later", last.Excess)
	}
	if _, ok := EbbOf(ready(t), on(1)); ok {
		t.Error("an ebb before connecting")
	}
}
