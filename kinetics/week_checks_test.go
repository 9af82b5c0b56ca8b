package kinetics

import (
	"math"
	"strings"
	"testing"
)

// tableSchedule is one of the reference schedules T1 to T9: V 35 L after
// dialysis, nPCR 1.0, transfer 560 mL/min, a third outside the cells and the
// fluid from there. There fluid is gained only between sessions, at a constant
// rate; here it comes during them too, so each session takes that much more.
type tableSchedule struct {
	residual, clearance, length float64
	weeklyMl, cycleMin          float64
	starts                      []float64
	change                      func(*Pools)
}

var (
	mondayWednesdayFriday = []float64{480, 3360, 6240}
	mondayToSaturday      = []float64{480, 1920, 3360, 4800, 6240, 7680}
)

var tableSchedules = map[string]tableSchedule{
	"T1": {0, 230, 240, 7500, 10080, mondayWednesdayFriday, nil},
	"T2": {3, 230, 240, 7500, 10080, mondayWednesdayFriday, nil},
	"T3": {0, 160, 150, 9000, 10080, mondayToSaturday, nil},
	"T4": {0, 120, 480, 9000, 10080, mondayToSaturday, nil},
	"T5": {0, 230, 240, 9000 * 2880 / 10080., 2880, []float64{480}, nil},
	"T6": {0, 160, 180, 9000, 10080, mondayToSaturday[:5], nil},
	"T7": {0, 230, 240, 7500, 10080, mondayWednesdayFriday, func(p *Pools) { p.TransferMlMin = 1e9 }},
	"T8": {0, 230, 240, 7500, 10080, mondayWednesdayFriday, func(p *Pools) { p.Fluid = FromBothCarrying }},
	"T9": {0, 150, 480, 7500, 10080, mondayWednesdayFriday, nil},
}

func (s tableSchedule) model() (Pools, Cycle) {
	p := Pools{VolumeL: 35, ExtracellularFraction: 1. / 3, GenerationMgMin: 5.35346, ResidualMlMin: s.residual, TransferMlMin: 560}
	if s.change != nil {
		s.change(&p)
	}
	return p, s.cycle()
}

func (s tableSchedule) cycle() Cycle {
	c := Cycle{LengthMin: s.cycleMin}
	gain := s.weeklyMl / (s.cycleMin - s.length*float64(len(s.starts)))
	for i, start := range s.starts {
		since := start - s.starts[(i+len(s.starts)-1)%len(s.starts)]
		if since <= 0 {
			since += s.cycleMin
		}
		c.Sessions = append(c.Sessions, CycleSession{start, s.length, s.clearance, gain * since / 1000})
	}
	return c
}

// TestModelChecks holds the rows of testdata/checks.json that speak of the
// model, most of them from an independent two-pool simulation (RK4 in steps of
// 0.25 to 0.5 min).
func TestModelChecks(t *testing.T) {
	held := 0
	for _, row := range readChecks(t) {
		c, _ := coverOf(t, row.ID)
		if c == nil || c.test != "TestModelChecks" {
			continue
		}
		held++
		t.Run(row.ID, func(t *testing.T) {
			got := modelCheck(t, row)
			want := row.values(t)
			if len(got) != len(want) {
				t.Fatalf("%s = %v, want %v", row.Quantity, got, want)
			}
			for i := range want {
				if !(math.Abs(got[i]-want[i]) <= row.Tolerance) {
					t.Errorf("%s [%d] = %v, want %v ± %v (%s)", row.Quantity, i, got[i], want[i], row.Tolerance, row.Source)
				}
			}
		})
	}
	if held < 40 {
		t.Errorf("only %d rows of the model were found", held)
	}
}

func modelCheck(t *testing.T, row checkRow) []float64 {
	t.Helper()
	in := checkInputs{t, row.Inputs}
	switch {
	case row.ID == "C-sp1-hd":
		v, err := OnePool{
			VolumeL: in.num("V0_mL") / 1000, TrendMlMin: -in.num("Qf"), ClearanceMlMin: in.num("K"),
			GenerationMgMin: in.num("G_mg_min"), LengthMin: in.num("t_min"),
		}.After(in.num("C0") / 100)
		if err != nil {
			t.Fatal(err)
		}
		return []float64{100 * v}
	case strings.HasPrefix(row.ID, "C-T") || row.ID == "R-tac-02":
		p, c := tableSchedules[in.text("case")].model()
		s, err := p.Steady(c, nil)
		if err != nil {
			t.Fatal(err)
		}
		var pre, post, rebound []float64
		for _, l := range s.Sessions {
			pre, post, rebound = append(pre, 100*l.Pre), append(post, 100*l.Post), append(rebound, 100*l.Rebound60)
		}
		kind := row.ID[strings.LastIndexByte(row.ID, '-')+1:]
		switch kind {
		case "pre":
			return pre
		case "post":
			return post
		case "reb":
			return rebound
		case "tac":
			return []float64{100 * s.TimeAveraged}
		case "std":
			return []float64{s.StdKtV}
		case "ekr":
			return []float64{s.EKRMlMin}
		case "02":
			return []float64{s.MeanPre / s.TimeAveraged}
		}
	}
	if got := inverseCheck(t, row.ID); got != nil {
		return got
	}
	if got := meanCheck(t, row.ID); got != nil {
		return got
	}
	t.Fatalf("nothing here answers %s", row.Quantity)
	return nil
}

// inverseCheck answers the rows of the inverse; their inputs are in words, so
// they are written out here.
func inverseCheck(t *testing.T, id string) []float64 {
	t.Helper()
	switch id {
	case "C-inv-T7", "C-inv-T7-G":
		// One pool; the gain of the gap runs during the session too, so the
		// session removes that much more.
		const gain = 2115.38 / 2640
		fit, err := FitThree(Shape{ExtracellularFraction: 0.5, Fluid: FromBoth, TransferMlMin: OnePoolTransfer}, ThreeSamples{
			ClearanceMlMin: 230, LengthMin: 240, RemovedL: 2.11538 + gain*0.240, GainMlMin: gain, NextPreAfterMin: 2640,
			Pre: 0.557506, Post: 0.146501, NextPre: 0.51894,
		})
		if err != nil {
			t.Fatal(err)
		}
		if id == "C-inv-T7" {
			return []float64{fit.VolumeL * 1000}
		}
		return []float64{fit.GenerationMgMin}
	case "C-inv2-T1", "C-inv2-T1-G", "C-inv2-T1-next", "C-inv2-X-G":
		shape := Shape{ExtracellularFraction: 1. / 3, TransferMlMinPerL: 16}
		s := SteadySamples{Cycle: tableSchedules["T1"].cycle(), Session: 1, Pre: 0.606049, Post: 0.163064}
		if id == "C-inv2-X-G" {
			s.Pre, s.Post = 0.58, 0.19
		}
		fit, err := FitSteady(shape, s)
		if err != nil {
			t.Fatal(err)
		}
		steady, err := shape.Pools(fit.VolumeL, fit.GenerationMgMin).Steady(s.Cycle, nil)
		if err != nil {
			t.Fatal(err)
		}
		switch id {
		case "C-inv2-T1":
			return []float64{fit.VolumeL * 1000}
		case "C-inv2-T1-next":
			return []float64{100 * steady.Sessions[2].Pre}
		}
		return []float64{fit.GenerationMgMin}
	}
	return nil
}

// meanCheck answers the rows about the mean level between two sessions of T2.
func meanCheck(t *testing.T, id string) []float64 {
	t.Helper()
	p, c := tableSchedules["T2"].model()
	s, err := p.Steady(c, nil)
	if err != nil {
		t.Fatal(err)
	}
	course, err := p.Course(c, s)
	if err != nil {
		t.Fatal(err)
	}
	mean := func(from, to float64) float64 {
		v, err := p.MeanLevel(course, from, to)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	next := func(i int) (end, start, pre float64) {
		end = course.Sessions[i].StartMin + course.Sessions[i].LengthMin
		if i == 2 {
			return end, course.LengthMin, s.Sessions[0].Pre
		}
		return end, course.Sessions[i+1].StartMin, s.Sessions[i+1].Pre
	}
	switch id {
	case "C-krf-44":
		end, start, pre := next(1)
		return []float64{mean(end, start) / pre, mean(start-1440, start) / pre}
	case "C-krf-bias":
		var bias []float64
		for i, l := range s.Sessions {
			end, start, pre := next(i)
			bias = append(bias, (l.Post+pre)/2/mean(end, start))
		}
		return bias
	}
	return nil
}
