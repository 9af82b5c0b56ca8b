package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// 1 mg/dL is 0.0555 mmol/L; nearest 0.01, halves away from zero.
func TestMolarOfGlucose(t *testing.T) {
	for _, tt := range []struct {
		mg   unit.MgPerDl
		want unit.Molar
	}{
		{1000, 555}, {720, 400}, {710, 394}, {700, 389}, {950, 527}, {1800, 999}, {200, 111}, {6000, 3330}, {0, 0}, {-720, -400}, {10, 6},
	} {
		if got := MolarOfGlucose(tt.mg); got != tt.want {
			t.Errorf("%s is %s, want %s", tt.mg.Text(), got.Text(), tt.want.Text())
		}
	}
}

// While running it is said for everybody, again when a step lower, and each time that
// the meter has no number for it.
func TestLowSugarWhileRunning(t *testing.T) {
	low, hi := &Glucose{Shows: MeterLow}, &Glucose{Shows: MeterHigh}
	for _, tt := range []struct {
		name string
		log  []any
		said []int
	}{
		{"inside", []any{sugarOf(400), sugarMg(720), hi}, nil},
		{"a digit under", []any{sugarOf(399)}, []int{0}},
		{"not lower by a step", []any{sugarOf(399), sugarOf(350)}, []int{0}},
		{"lower by a step", []any{sugarOf(399), sugarOf(349)}, []int{0, 1}},
		{"in the other unit", []any{sugarMg(710), sugarMg(620)}, []int{0, 1}},
		{"Lo each time", []any{low, low, low}, []int{0, 1, 2}},
		{"Lo after a low one", []any{sugarOf(80), low}, []int{0, 1}},
		{"a low one after Lo", []any{low, sugarOf(380)}, []int{0}},
		{"inside between", []any{sugarOf(390), sugarOf(500), sugarOf(390)}, []int{0, 2}},
		{"Hi between", []any{sugarOf(390), hi, sugarOf(390)}, []int{0, 2}},
	} {
		for _, mark := range []bool{false, true} {
			s := connected(t)
			s.Rx.GlucoseMarked = mark
			for i, body := range tt.log {
				put(s, on(10*(i+1)), body)
			}
			var got []int
			for _, r := range Remarks(s, on(10*len(tt.log))) {
				if r.Code != "sugar_low" {
					continue
				}
				got = append(got, int(r.At.Sub(on(0)).Minutes())/10-1)
				if r.Level != LevelLook || r.Trouble() != TroubleConfused || !strings.Contains(r.Words, SugarSteps) {
					t.Errorf("%s: %+v", tt.name, r)
				}
			}
			if !slices.Equal(got, tt.said) {
				t.Errorf("%s, marked %t: said at %v, want %v", tt.name, mark, got, tt.said)
			}
		}
	}
}

// It stands until one is inside, and calls for the next reading as any look does.
func TestLowSugarStands(t *testing.T) {
	s := connected(t)
	put(s, on(20), &Reading{Systolic: mm(130)})
	put(s, on(30), sugarOf(350))
	put(s, on(40), &Reading{Systolic: mm(130)})
	if list := Standing(s, on(41)); len(list) != 1 || list[0].Code != "sugar_low" {
		t.Errorf("a reading of something else took it away: %+v", list)
	}
	put(s, on(45), sugarOf(450))
	if list := Standing(s, on(61)); slices.ContainsFunc(list, func(r Remark) bool { return r.Code == "sugar_low" && r.At.After(on(44)) }) {
		t.Errorf("said of one that is inside: %+v", list)
	}
	put(s, on(46), &Reading{Systolic: mm(130)})
	if list := Standing(s, on(61)); len(list) != 0 {
		t.Errorf("stands after one inside and a reading: %+v", list)
	}
	s = connected(t)
	put(s, on(30), sugarOf(350))
	if due, ok := NextCheck(s, on(31)); !ok || due.Why != DueLook {
		t.Errorf("next check %+v", due)
	}
}

// Its hours: so long after the last one in the run, not on the end or behind it, late
// after a reading's grace, and a sleep by plan moves none of it.
func TestNextSugar(t *testing.T) {
	s := connected(t)
	if _, ok := NextSugar(s, on(10)); ok {
		t.Error("due without a mark")
	}
	s.Rx.GlucoseMarked = true
	if _, ok := NextSugar(s, on(10)); ok {
		t.Error("due without hours")
	}
	s.Rx.GlucoseEvery = ref(unit.Minutes(60))
	put(s, on(-10), sugarOf(600)) // before the treatment
	due := func(at, want int, late bool) {
		t.Helper()
		got, ok := NextSugar(s, on(at))
		if !ok || !got.At.Equal(on(want)) || got.Late != late || got.Every != 60 || !strings.HasPrefix(got.Whose, "set by") {
			t.Errorf("at %d: %+v, %t; want %d, late %t", at, got, ok, want, late)
		}
	}
	due(0, 60, false)
	due(75, 60, false)
	due(76, 60, true)
	put(s, on(30), &Asleep{For: 200})
	due(76, 60, true)
	put(s, on(80), &Glucose{}).Missing = map[string]Missing{"glucose_mmol_l": NotDone}
	due(85, 60, true)
	put(s, on(90), sugarOf(700))
	due(100, 150, false)
	if late := LateSugars(s, on(166)); len(late) != 2 || !late[0].Equal(on(60)) || !late[1].Equal(on(150)) {
		t.Errorf("late: %v", late)
	}
	put(s, on(155), sugarOf(700))
	run, _ := Follow(s, on(160))
	put(s, run.PlannedEnd.Add(-time.Hour), sugarOf(700))
	if got, ok := NextSugar(s, run.PlannedEnd.Add(-time.Minute)); ok {
		t.Errorf("due on the end: %+v", got)
	}
}

// Missing before or after is an open item where it is marked, and a low one after the
// end is said until a better one is measured.
func TestSugarAfter(t *testing.T) {
	s := connected(t)
	open := func() (list []string) {
		for _, o := range OpenItems(s) {
			if o.Kind == "glucose" && o.IsOpen() {
				list = append(list, o.What)
			}
		}
		return list
	}
	if got := open(); got != nil {
		t.Errorf("asked of somebody unmarked: %v", got)
	}
	s.Rx.GlucoseMarked = true
	if got := open(); !slices.Equal(got, []string{"Blood sugar before"}) {
		t.Errorf("running: %v", got)
	}
	put(s, on(-5), sugarOf(600))
	put(s, on(100), sugarOf(300))
	if got := open(); got != nil {
		t.Errorf("running, measured before: %v", got)
	}
	if r, ok := AfterSugar(s, on(400)); ok {
		t.Errorf("said after a treatment that runs: %+v", r)
	}
	put(s, on(240), &CameOff{Returned: "all"})
	if got := open(); !slices.Equal(got, []string{"Blood sugar after"}) {
		t.Errorf("ended: %v", got)
	}
	if r, ok := AfterSugar(s, on(400)); ok {
		t.Errorf("of one in the run: %+v", r)
	}
	put(s, on(250), sugarMg(650))
	if _, ok := AfterSugar(s, on(249)); ok {
		t.Error("said before it was measured")
	}
	if r, ok := AfterSugar(s, on(250)); !ok || r.Code != "sugar_low" || r.Level != LevelLook || r.Entry == "" || !r.At.Equal(on(250)) || !strings.Contains(strings.ReplaceAll(r.Words, "\u00a0", " "), "65 mg/dL (3.61 mmol/L), under 4 mmol/L (the program's own default") || !strings.Contains(r.Words, SugarSteps) {
		t.Errorf("low after: %+v", r)
	}
	if got := open(); got != nil {
		t.Errorf("measured after: %v", got)
	}
	if slices.ContainsFunc(Remarks(s, on(300)), func(r Remark) bool { return r.At.After(on(240)) }) {
		t.Error("a remark after the end")
	}
	put(s, on(265), sugarOf(510))
	if r, ok := AfterSugar(s, on(400)); ok {
		t.Errorf("better afterwards: %+v", r)
	}
	put(s, on(270), &Glucose{Shows: MeterHigh})
	if r, ok := AfterSugar(s, on(400)); !ok || r.Code != "sugar_high" || !strings.Contains(r.Words, SugarHighSteps) {
		t.Errorf("high after: %+v", r)
	}
}

// Each hour of a gap is named, but one that the next reading still belongs to.
func TestEachLateSugar(t *testing.T) {
	for _, tt := range []struct {
		read []int
		at   int
		want []int
	}{
		{nil, 75, nil}, {nil, 76, []int{60}}, {nil, 200, []int{60, 120, 180}},
		{[]int{190}, 200, []int{60, 120}},      // 10 minutes after the third
		{[]int{196}, 200, []int{60, 120, 180}}, // 16 minutes after it
		{[]int{60}, 200, []int{120, 180}}, {[]int{50, 130}, 200, []int{110}},
	} {
		s := connected(t)
		s.Rx.GlucoseMarked, s.Rx.GlucoseEvery = true, ref(unit.Minutes(60))
		for _, min := range tt.read {
			put(s, on(min), sugarOf(600))
		}
		var got []int
		for _, at := range LateSugars(s, on(tt.at)) {
			got = append(got, int(at.Sub(on(0)).Minutes()))
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("read at %v, at %d: %v, want %v", tt.read, tt.at, got, tt.want)
		}
	}
}

// High is from 25.0 mmol/L on, and "Hi" each time.
func TestHighSugarWhileRunning(t *testing.T) {
	hi := &Glucose{Shows: MeterHigh}
	for _, tt := range []struct {
		name string
		log  []any
		said []int
	}{
		{"a digit under", []any{sugarOf(2499)}, nil},
		{"at the figure", []any{sugarOf(2500)}, []int{0}},
		{"in the other unit", []any{sugarMg(4500), sugarMg(4510)}, []int{1}}, // 450 mg/dL are 24.98, 451 are 25.03
		{"not higher by a step", []any{sugarOf(2500), sugarOf(2799)}, []int{0}},
		{"Hi each time", []any{hi, hi}, []int{0, 1}},
		{"inside between", []any{hi, sugarOf(900), sugarOf(2600)}, []int{0, 2}},
		{"Lo between", []any{hi, &Glucose{Shows: MeterLow}, sugarOf(2600)}, []int{0, 2}},
		{"Hi, then a number that is lower", []any{hi, sugarOf(2700)}, []int{0}},
		{"Hi, a number, Hi", []any{hi, sugarOf(2700), hi}, []int{0, 2}},
		{"low is not high", []any{sugarOf(300)}, nil},
	} {
		s := connected(t)
		for i, body := range tt.log {
			put(s, on(10*(i+1)), body)
		}
		var got []int
		for _, r := range Remarks(s, on(10*len(tt.log))) {
			if r.Code == "sugar_high" {
				got = append(got, int(r.At.Sub(on(0)).Minutes())/10-1)
				if r.Level != LevelLook || !strings.Contains(r.Words, SugarHighSteps) {
					t.Errorf("%s: %+v", tt.name, r)
				}
			}
		}
		if !slices.Equal(got, tt.said) {
			t.Errorf("%s: said at %v, want %v", tt.name, got, tt.said)
		}
	}
}
