package session

import (
	"maps"
	"slices"
	"testing"

	"ebbline/unit"
)

// Every code that a run can say, with the step at which it is said again: inside,
// out (said), a hair short of the step (not said), at the step (said), inside, and
// out again (said). What is said each time, or once, has its own row.
func TestEveryCodeHasItsStep(t *testing.T) {
	venous := func(v int) any { return &Reading{Venous: mm(v), BloodFlow: flow(300)} }
	arterial := func(v int) any { return &Reading{Arterial: mm(v), BloodFlow: flow(300)} }
	chlorine := func(v int) any { return &Chlorine{Result: unit.Concentration(v), ReadsDown: 20} }
	flowAt := func(v int) any { return &Reading{BloodFlow: flow(v)} }
	row := func(v int) any {
		return &Reading{Systolic: mm(130), Diastolic: mm(70), Pulse: ref(unit.Pulse(v)), Arterial: mm(-150), Venous: mm(140)}
	}
	unwell := func(w string) any { return &Unwell{Words: w} }
	off := func(ml int) any { return removedAt(ml) }
	steps := map[string]struct {
		level string
		log   []any // every 30 minutes; 650 mL/h are planned
		said  []int // places that are said
	}{
		"low_pressure":      {LevelLook, []any{bp(130), bp(99), bp(90), bp(89), bp(130), bp(99)}, []int{1, 3, 5}},
		"pulse_out":         {LevelLook, []any{pulse(120), pulse(121), pulse(135), pulse(136), pulse(120), pulse(121)}, []int{1, 3, 5}},
		"conductivity_out":  {LevelLook, []any{mScm(14.40), mScm(14.41), mScm(14.70), mScm(14.71), mScm(14.40), mScm(14.41)}, []int{1, 3, 5}},
		"temperature_out":   {LevelLook, []any{fluidC(38.5), fluidC(38.6), fluidC(39.0), fluidC(39.1), fluidC(38.5), fluidC(38.6)}, []int{1, 3, 5}},
		"tmp_high":          {LevelLook, []any{tmp(300), tmp(301), tmp(350), tmp(351), tmp(300), tmp(301)}, []int{1, 3, 5}},
		"arterial_low":      {LevelLook, []any{arterialOf(-250), arterialOf(-251), arterialOf(-280), arterialOf(-281), arterialOf(-250), arterialOf(-251)}, []int{1, 3, 5}},
		"fever":             {LevelLook, []any{bodyC(37.0), bodyC(37.1), bodyC(37.5), bodyC(37.6), bodyC(37.0), bodyC(37.1)}, []int{1, 3, 5}},
		"chlorine_out":      {LevelLook, []any{chlorine(100), chlorine(101), chlorine(101), chlorine(102), chlorine(100), chlorine(101)}, []int{1, 3, 5}},
		"sugar_low":         {LevelLook, []any{sugarOf(400), sugarOf(399), sugarOf(350), sugarOf(349), sugarOf(400), sugarOf(399)}, []int{1, 3, 5}},
		"sugar_high":        {LevelLook, []any{sugarOf(2499), sugarOf(2500), sugarOf(2799), sugarOf(2800), sugarOf(2499), sugarOf(2500)}, []int{1, 3, 5}},
		"unwell":            {LevelLook, []any{unwell("sick"), unwell("sick"), unwell("sick")}, []int{0, 1, 2}},
		"nadir":             {LevelLook, []any{&LowPressure{Systolic: mm(95)}, bp(89), bp(88), bp(130), &LowPressure{Systolic: mm(95)}, bp(89)}, []int{1, 5}},
		"venous_fall":       {LevelLook, []any{venous(140), venous(140), venous(121), venous(120), venous(119)}, []int{3}},
		"venous_rise":       {LevelLook, []any{venous(140), venous(140), venous(169), venous(170), venous(171)}, []int{3}},
		"arterial_fall":     {LevelLook, []any{arterial(-150), arterial(-150), arterial(-189), arterial(-190), arterial(-191)}, []int{3}},
		"arterial_rise":     {LevelLook, []any{arterial(-150), arterial(-150), arterial(-50), arterial(-150), arterial(-49), arterial(-150)}, []int{4}},
		"goal_exceeded":     {LevelLook, []any{off(325), off(2650), off(2651), off(2700)}, []int{2}},
		"removal_behind":    {LevelNote, []any{off(225), off(400), off(500)}, []int{0}},
		"removal_ahead":     {LevelNote, []any{off(425), off(900), off(1300)}, []int{0}},
		"blood_flow_low":    {LevelNote, []any{flowAt(270), flowAt(269), flowAt(200)}, []int{1}},
		"tmp_creeps":        {LevelNote, []any{tmp(60), tmp(80), tmp(100), tmp(110), tmp(120)}, []int{3}},
		"copied":            {LevelNote, []any{row(70), row(70), row(70), row(70)}, []int{2}},
		"lock_stuck":        {LevelLook, []any{&LockDrawn{Arterial: Drawn, Venous: CouldNot}, &LockDrawn{Arterial: Drawn, Venous: Drawn}, &LockDrawn{Arterial: CouldNot, Venous: Drawn}}, []int{0, 2}},
		"removed_unsaid":    {LevelNote, nil, []int{}}, // both of haemodiafiltration; see removedunknown_test.go
		"removed_gross":     {LevelNote, nil, []int{}},
		"removed_cannot":    {LevelLook, nil, []int{}}, // likewise
		"substitution_over": {LevelLook, nil, []int{}}, // likewise; see substitutionover_test.go
		"sugar_undone":      {LevelNote, nil, []int{}}, // of what was taken back; see undonerun_test.go
		"removed_means":     {LevelLook, nil, []int{}}, // said of no entry of the session; see removedunknown_test.go
		"check_late":        {LevelNote, nil, []int{}}, // said of no entry; see TestLateByTheSameRule
		"bag_wrong":         {LevelLook, nil, []int{}}, // of each bag that is hung; see session/bags_test.go
		"batch_struck":      {LevelLook, nil, []int{}}, // of a batch; see session/fluidrun_test.go
		"batch_ran_out":     {LevelLook, nil, []int{}}, // likewise
		"batch_failed":      {LevelLook, nil, []int{}}, // likewise
		"batch_range":       {LevelLook, nil, []int{}}, // likewise
		"batch_wrong":       {LevelLook, nil, []int{}}, // likewise
		"start_heparin":     {LevelLook, nil, []int{}}, // likewise
		"start_weight":      {LevelLook, nil, []int{}}, // likewise
		"start_stops":       {LevelLook, nil, []int{}}, // of the start line, which needs the history
		"start_fluid_stops": {LevelLook, nil, []int{}}, // likewise
		"batch_open":        {LevelNote, nil, []int{}}, // likewise
		"bag_still":         {LevelLook, nil, []int{}}, // likewise
		"bag_open":          {LevelNote, nil, []int{}}, // likewise
		"flush_late":        {LevelLook, nil, []int{}}, // said of no entry; see flushlate_test.go
		"chlorine_again":    {LevelNote, nil, []int{}}, // of the hours; see session/chlorinerepeat_test.go
		"pregnant_told":     {LevelLook, []any{&Fitness{Fever: true}, &Fitness{Pregnant: true}, &Fitness{Pregnant: true}}, []int{1}},
		"paper_rate_high":   {LevelLook, nil, []int{}}, // by the unit's paper; see paperrun_test.go
		"paper_goal_high":   {LevelLook, nil, []int{}}, // likewise
		"paper_goal_most":   {LevelLook, nil, []int{}}, // likewise
	}
	for code, tt := range steps {
		if tt.log == nil {
			continue
		}
		s := fallen(t)
		s.Rx.CheckEvery, s.Rx.AfterLow = ref(unit.Minutes(240)), ref(unit.Minutes(240))
		for i, body := range tt.log {
			put(s, on(30*(i+1)), body)
		}
		var got []int
		for _, r := range Remarks(s, on(30*len(tt.log))) {
			if r.Code != code {
				continue
			}
			got = append(got, int(r.At.Sub(on(0)).Minutes())/30-1)
			if r.Level != tt.level || r.Entry == "" || r.Words == "" {
				t.Errorf("%s: %+v", code, r)
			}
		}
		if !slices.Equal(got, tt.said) {
			t.Errorf("%s: said at %v, want %v", code, got, tt.said)
		}
	}
	for code := range runWords {
		if _, has := steps[code]; !has {
			t.Errorf("%s can be said and has no row here: %v", code, slices.Sorted(maps.Keys(steps)))
		}
	}
}
