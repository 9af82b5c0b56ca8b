package water

import (
	"slices"
	"testing"
	"time"

	"ebbline/unit"
)

func TestBeforeStart(t *testing.T) {
	h := func(hours float64) time.Time { return start.Add(-time.Duration(hours * float64(time.Hour))) }
	run := func(p Programme, hours float64) Cycle {
		return Cycle{Programme: p, Began: h(hours), Ended: h(hours - 0.5), Passed: true}
	}
	ended := h(24)
	for _, tt := range []struct {
		name   string
		cycles []Cycle
		tests  []ResidualTest
		codes  []string
	}{
		{"heat after the session", []Cycle{run(Heat, 23)}, nil, nil},
		{"none after it", []Cycle{run(Heat, 47)}, nil, []string{"not_disinfected"}},
		{"none ever", nil, nil, []string{"never_disinfected"}},
		{"cut short", []Cycle{run(Heat, 47), {Programme: Heat, Began: h(23)}}, nil, []string{"not_disinfected", "cycle_not_passed"}},
		{"did not pass", []Cycle{run(Heat, 23), {Programme: Citric, Began: h(3), Ended: h(2)}}, nil, []string{"cycle_not_passed"}},
		{"still running", []Cycle{run(Heat, 23), {Programme: Heat, Began: h(0.2), Ended: h(-0.3), Passed: true}}, nil, []string{"cycle_not_passed"}},
		{"chemical, no test", []Cycle{run(Chemical, 23)}, nil, []string{"residual_test"}},
		{"chemical, then heat, no test", []Cycle{run(Chemical, 23), run(Heat, 20)}, nil, []string{"residual_test"}},
		{"chemical cut short still leaves it", []Cycle{{Programme: Chemical, Began: h(23)}, run(Heat, 20)}, nil, []string{"residual_test"}},
		{"chemical, tested", []Cycle{run(Chemical, 23)}, []ResidualTest{{h(1), true}}, nil},
		{"chemical, test positive", []Cycle{run(Chemical, 23)}, []ResidualTest{{h(1), false}}, []string{"residual_test"}},
		{"tested before the cycle", []Cycle{run(Chemical, 23)}, []ResidualTest{{h(23.2), true}}, []string{"residual_test"}},
		{"in any order", []Cycle{run(Heat, 20), run(Chemical, 60)}, []ResidualTest{{h(50), true}}, nil},
		{"after the start", []Cycle{run(Heat, 23), run(Chemical, -5)}, nil, nil},
	} {
		if got := codes(DefaultDisinfectionRule().BeforeStart(tt.cycles, tt.tests, ended, start)); !slices.Equal(got, tt.codes) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.codes)
		}
	}
	r := DefaultDisinfectionRule()
	for hours, want := range map[float64][]string{48.5: nil, 49: {"idle_too_long"}} { // run takes half an hour
		if got := codes(r.BeforeStart([]Cycle{run(Heat, hours)}, nil, h(60), start)); !slices.Equal(got, want) {
			t.Errorf("idle after a cycle %v hours ago: %v, want %v", hours, got, want)
		}
	}
}

func TestDoubts(t *testing.T) {
	works := Notice{From: march(3), To: march(5), Text: "mains flushed"}
	open := Notice{From: march(9), Text: "brown water"}
	for day, want := range map[int]int{2: 0, 3: 1, 5: 1, 7: 1, 8: 0, 9: 1, 30: 1} {
		if got := Doubts([]Notice{works, open}, march(day)); len(got) != want {
			t.Errorf("%d March: %v, want %d", day, got, want)
		}
	}
}

func TestForecastLimit(t *testing.T) {
	today := unit.NewDate(2026, time.March, 31)
	var falling, seen []Measured
	for i := range 12 { // rejection, each week half a per cent less: 97.5 today, 90 in 15 weeks
		falling = append(falling, Measured{On: today.Add(-7 * (11 - i)), Op: Equal, Value: 103 - 0.5*float64(i)})
	}
	f := ForecastLimit(falling, 90, false, today)
	if !f.OnWay || f.Likely != today.Add(105) || f.Cautions != nil {
		t.Errorf("rejection: %+v, want 90 %% in 105 days", f)
	}
	f = ForecastLimit(falling, 96, false, today)
	if !f.OnWay || len(f.Cautions) != 1 || f.Cautions[0].Code != "limit_coming" {
		t.Errorf("96 %% in three weeks: %+v", f)
	}
	if f = ForecastLimit(falling, 98, false, today); !f.Already || f.OnWay || len(f.Cautions) != 1 {
		t.Errorf("98 %% is behind: %+v", f)
	}
	if f = ForecastLimit(falling, 110, true, today); f.OnWay || f.Already {
		t.Errorf("moving away: %+v", f)
	}
	for i := range 12 {
		m := Measured{On: today.Add(i - 12), Op: Less, Value: 0.1}
		if i >= 7 {
			m = Measured{On: m.On, Op: Equal, Value: 0.1 * float64(i-6)}
		}
		seen = append(seen, m)
	}
	if f = ForecastLimit(seen, 1, true, today); f.OnWay || f.Left != 7 || f.Says != "too few to say" {
		t.Errorf("seven of twelve below the method's least: %+v", f)
	}
}
