package session

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

func mm(v int) *unit.Pressure { return ref(unit.Pressure(v)) }
func flow(v int) *unit.Flow   { return ref(unit.Flow(v)) }

// codes gives what was remarked on by the end of a session.
func codes(s *Session, at time.Time) []string {
	var out []string
	for _, r := range Remarks(s, at) {
		out = append(out, r.Code)
	}
	return out
}

// running is a session with readings every half-hour, so that none is late.
func withReadings(t *testing.T, rows ...*Reading) *Session {
	s := connected(t)
	s.Rx.CheckEvery = ref(unit.Minutes(30))
	for i, r := range rows {
		put(s, on(30*(i+1)), r)
	}
	return s
}

func TestVenousFall(t *testing.T) {
	row := func(v, f int) *Reading { return &Reading{Venous: mm(v), BloodFlow: flow(f)} }
	for _, tt := range []struct {
		name string
		rows []*Reading
		want []string
	}{
		{"19 lower", []*Reading{row(145, 300), row(126, 300)}, nil},
		{"20 lower", []*Reading{row(145, 300), row(125, 300)}, []string{"venous_fall"}},
		{"20 lower, flow 10 apart", []*Reading{row(145, 300), row(125, 290)}, []string{"venous_fall"}},
		{"20 lower, flow 11 apart", []*Reading{row(145, 300), row(125, 289)}, nil},
		{"29 higher", []*Reading{row(145, 300), row(174, 300)}, nil},
		{"30 higher", []*Reading{row(145, 300), row(175, 300)}, []string{"venous_rise"}},
		{"against the middle of three", []*Reading{row(150, 300), row(140, 300), row(145, 300), row(125, 300)}, []string{"venous_fall"}},
		{"one odd row does not move it", []*Reading{row(145, 300), row(144, 300), row(160, 300), row(128, 300)}, nil},
		{"said once while it stays low", []*Reading{row(145, 300), row(120, 300), row(118, 300), row(121, 300)}, []string{"venous_fall"}},
		{"back to where it ran", []*Reading{row(145, 300), row(110, 300), row(146, 300)}, []string{"venous_fall"}},
		{"falls again from the new value", []*Reading{row(145, 300), row(120, 300), row(99, 300)}, []string{"venous_fall", "venous_fall"}},
		{"first row", []*Reading{row(60, 300)}, nil},
	} {
		if got := codes(withReadings(t, tt.rows...), on(30*len(tt.rows)+1)); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
	s := withReadings(t, row(145, 300), row(118, 300))
	r := Remarks(s, on(61))[0]
	if r.Words != "Venous 118, was 145 at the same flow. Look at both needles and lines first." || r.Level != LevelLook || !r.At.Equal(on(60)) || r.Entry == "" {
		t.Errorf("%+v", r)
	}
	if got := Remarks(s, on(59)); len(got) != 0 {
		t.Errorf("before it was typed: %v", got)
	}
}

// A row without a flow is held against the flow last told.
func TestVenousWithFlowToldElsewhere(t *testing.T) {
	s := withReadings(t, &Reading{Venous: mm(145)}, &Reading{Venous: mm(120)})
	if got := codes(s, on(61)); !slices.Equal(got, []string{"venous_fall"}) {
		t.Errorf("%v", got)
	}
	s = connected(t)
	s.Rx.CheckEvery = ref(unit.Minutes(30))
	put(s, on(30), &Reading{Venous: mm(145)})
	put(s, on(40), &FlowChanged{BloodFlow: 200})
	put(s, on(60), &Reading{Venous: mm(95)})
	if got := codes(s, on(61)); len(got) != 0 {
		t.Errorf("lower at a lower flow: %v", got)
	}
}

// The pressure of a needle that was moved begins again; the other's goes on (H-113).
func TestNeedleAdjustedBeginsAgain(t *testing.T) {
	for which, want := range map[string][]string{"both": nil, "venous": {"arterial_fall"}, "arterial": {"venous_fall"}} {
		s := connected(t)
		s.Rx.CheckEvery = ref(unit.Minutes(30))
		put(s, on(30), &Reading{Venous: mm(145), Arterial: mm(-160)})
		put(s, on(35), &NeedleAdjusted{Which: which})
		put(s, on(40), &Reading{Venous: mm(115), Arterial: mm(-210)})
		if got := codes(s, on(41)); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", which, got, want)
		}
	}
}

func TestArterialFall(t *testing.T) {
	for second, want := range map[int]int{-199: 0, -200: 1, -120: 0} {
		s := withReadings(t, &Reading{Arterial: mm(-160)}, &Reading{Arterial: mm(second)})
		if got := Remarks(s, on(61)); len(got) != want {
			t.Errorf("%d after -160: %v", second, got)
		}
	}
}

func TestRemovalRemarks(t *testing.T) {
	for _, tt := range []struct {
		name    string
		minutes int
		removed unit.Volume
		want    []string
	}{
		{"a tenth behind", 120, 1170, nil}, // planned 1300
		{"more than a tenth behind", 120, 1169, []string{"removal_behind"}},
		{"a tenth ahead", 120, 1430, nil},
		{"more than a tenth ahead", 120, 1431, []string{"removal_ahead"}},
		{"early it may be off", 29, 0, nil},
		{"a little of a little", 30, 226, nil}, // 325 planned; 99 off
		{"100 off", 30, 225, []string{"removal_behind"}},
		{"just over the goal", 238, 2650, nil},
		{"over the goal", 238, 2651, []string{"goal_exceeded"}},
	} {
		s := connected(t)
		s.Rx.CheckEvery = ref(unit.Minutes(240))
		put(s, on(tt.minutes), &Reading{Removed: &tt.removed})
		if got := codes(s, on(tt.minutes)); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
	// A pause is not being behind.
	s := connected(t)
	put(s, on(30), &Pause{})
	put(s, on(90), &Resume{})
	put(s, on(120), &Reading{Removed: ref(unit.Volume(650))})
	if got := codes(s, on(121)); slices.Contains(got, "removal_behind") {
		t.Errorf("after a pause: %v", got)
	}
	// Nor is a goal that was lowered on the machine.
	s = connected(t)
	put(s, on(60), &Reading{Removed: ref(unit.Volume(650))})
	put(s, on(60), &GoalChanged{Goal: 1250})
	put(s, on(120), &Reading{Removed: ref(unit.Volume(850))})
	if got := codes(s, on(121)); len(got) != 0 {
		t.Errorf("after the goal was lowered: %v", got)
	}
}

func TestBloodFlowRemark(t *testing.T) {
	for f, want := range map[int]int{270: 0, 269: 1} {
		s := withReadings(t, &Reading{BloodFlow: flow(f)}, &Reading{BloodFlow: flow(f)})
		if got := Remarks(s, on(61)); len(got) != want {
			t.Errorf("flow %d of 300: %v", f, got)
		}
	}
	s := connected(t)
	put(s, on(5), &Reading{BloodFlow: flow(150)}) // still being raised
	if got := codes(s, on(6)); len(got) != 0 {
		t.Errorf("at the beginning: %v", got)
	}
}

func TestTMPCreeps(t *testing.T) {
	for _, tt := range []struct {
		rows []int
		want int
	}{
		{[]int{100, 120, 135, 150}, 1},
		{[]int{100, 120, 135, 149}, 0},
		{[]int{100, 160}, 0}, // a leap is no creeping
		{[]int{100, 130, 120, 170}, 0},
		{[]int{100, 120, 140, 160, 180, 200}, 1},
	} {
		var rows []*Reading
		for _, v := range tt.rows {
			rows = append(rows, &Reading{TMP: mm(v)})
		}
		if got := Remarks(withReadings(t, rows...), on(30*len(rows)+1)); len(got) != tt.want {
			t.Errorf("%v: %v", tt.rows, got)
		}
	}
}

func TestLateCheck(t *testing.T) {
	s := connected(t) // due each hour, 15 minutes of grace
	if got := codes(s, on(75)); len(got) != 0 {
		t.Errorf("15 min late: %v", got)
	}
	r := Remarks(s, on(76))
	if len(r) != 1 || r[0].Code != "check_late" || !r[0].At.Equal(on(75)) || !strings.Contains(r[0].Words, "18:45") {
		t.Errorf("16 min late: %+v", r)
	}
	// It stays said once the reading has come, and is not said again.
	put(s, on(90), &Reading{Systolic: mm(130)})
	if got := codes(s, on(239)); !slices.Equal(got, []string{"check_late"}) {
		t.Errorf("later: %v", got)
	}
	// Asleep by plan is not late.
	s = connected(t)
	put(s, on(50), &Asleep{For: 180})
	if got := codes(s, on(235)); len(got) != 0 {
		t.Errorf("asleep by plan: %v", got)
	}
	// Nor is a session that has come off.
	s = connected(t)
	put(s, on(50), &CameOff{Returned: "all"})
	if got := codes(s, on(600)); len(got) != 0 {
		t.Errorf("after the end: %v", got)
	}
}

// The same record remarks the same, and a remark once made does not go away as
// time passes.
func TestRemarksOnlyGrow(t *testing.T) {
	s := synthetic(t, 11)
	var before []Remark
	for m := 0; m <= 300; m += 5 {
		now := Remarks(s, on(m))
		for i, r := range before {
			if !slices.Contains(now, r) {
				t.Fatalf("at %d min the remark %d, %+v, is gone", m, i, r)
			}
		}
		before = now
	}
}

// synthetic is an invented ordinary session with the scatter of ordinary
// readings, typed every half-hour with some minutes more or less.
func synthetic(t testing.TB, number int) *Session {
	dice := lcg(1000 + number)
	gauss := func(sd float64) float64 {
		sum := -6.0
		for range 12 {
			sum += float64(dice.next(1_000_000)) / 1e6
		}
		return sum * sd
	}
	round := func(v, step float64) int { return int(math.Round(v/step) * step) }
	s := connected(t)
	s.Rx.CheckEvery = ref(unit.Minutes(30))
	start := 135 + gauss(15)
	edit(s, func(b *VitalsBefore) { b.SitSystolic = mm(round(start, 1)) })
	fall := 10 + math.Abs(gauss(10)) // towards the end
	venous, arterial, tmp := 140+gauss(20), -160+gauss(20), 60+gauss(15)
	for m := 30 + int(gauss(4)); m < 236; m += 30 + int(gauss(4)) {
		part := float64(m) / 240
		put(s, on(m), &Reading{
			Systolic: mm(round(start-fall*part+gauss(7), 1)), Pulse: ref(unit.Pulse(72)),
			BloodFlow: flow(round(300+gauss(2), 5)),
			Venous:    mm(round(venous+5*part+gauss(5), 5)), Arterial: mm(round(arterial+gauss(7), 5)),
			TMP: mm(round(tmp+10*part+gauss(5), 5)), Removed: ref(unit.Volume(round(math.Max(2600*part+gauss(15), 0), 10))),
		})
		if dice.next(8) == 0 {
			put(s, on(m+1), &Drink{Volume: 100})
		}
	}
	put(s, on(240), &CameOff{Returned: "all", Removed: ref(unit.Volume(round(2600+gauss(20), 10)))})
	return s
}

// The budget of remarks: over 200 ordinary sessions at most one in the median
// and three in 95 of 100, so that those that are said are still read.
func TestRemarkBudget(t *testing.T) {
	var counts []float64
	by := map[string]int{}
	for i := range 200 {
		r := Remarks(synthetic(t, i), on(300))
		counts = append(counts, float64(len(r)))
		for _, x := range r {
			by[x.Code]++
		}
	}
	slices.Sort(counts)
	t.Logf("median %.0f, 95th percentile %.0f, most %.0f; %v", counts[100], counts[190], counts[199], by)
	if counts[100] > 1 || counts[190] > 3 {
		t.Errorf("median %.0f, 95th percentile %.0f", counts[100], counts[190])
	}
}

// A needle that slips shows as a fall of 25 to 50 mmHg at the same flow: it has
// to be remarked on at that very reading.
func TestSlippedNeedleIsSeen(t *testing.T) {
	seen, at := 0, 0
	for i := range 200 {
		s := synthetic(t, i)
		first := true
		Each(s, func(b *Reading, e *Event) {
			if first && e.At.After(on(120)) {
				first = false
				copied := *b
				copied.Venous = mm(int(*b.Venous) - 25 - i%26)
				e.Body, at = &copied, i
			}
		})
		if first {
			t.Fatalf("session %d has no reading after two hours", at)
		}
		if slices.Contains(codes(s, on(160)), "venous_fall") {
			seen++
		}
	}
	t.Logf("seen in %d of 200", seen)
	if seen < 190 {
		t.Errorf("seen in only %d of 200", seen)
	}
}
