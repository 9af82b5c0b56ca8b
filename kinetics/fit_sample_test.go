package kinetics

import (
	"math"
	"testing"
)

// cleanDraws is a person's months of samples without any error.
func cleanDraws(t *testing.T, months int) (Shape, Pools, []MonthlyDraw) {
	t.Helper()
	shape := UsualShape(0)
	p := shape.Pools(35, 5.35)
	c := tableSchedules["T1"].cycle()
	s, err := p.Steady(c, nil)
	if err != nil {
		t.Fatal(err)
	}
	var draws []MonthlyDraw
	for range months {
		draws = append(draws, MonthlyDraw{Cycle: c, Session: 1, Pre: s.Sessions[1].Pre, Post: s.Sessions[1].Post, NextPre: s.Sessions[2].Pre})
	}
	return shape, p, draws
}

func TestCleanDrawsGiveTheTruth(t *testing.T) {
	shape, p, draws := cleanDraws(t, 6)
	e, err := EstimatePerson(shape, draws, UsualErrors(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if apart(e.VolumeL.Value, p.VolumeL) > 1e-6 || apart(e.GenerationMgMin.Value, p.GenerationMgMin) > 1e-6 || apart(e.ClearanceFactor.Value, 1) > 1e-6 {
		t.Errorf("%+v, made with %+v", e, p)
	}
	for i, j := range e.Judged {
		if j.Verdict != SampleFits || apart(j.GenerationMgMin, p.GenerationMgMin) > 1e-6 || apart(j.Alone.VolumeL, p.VolumeL) > 1e-8 {
			t.Errorf("draw %d: %+v", i, j)
		}
	}
	// More months narrow the generation, but not the volume beyond what the
	// clearance leaves open.
	_, _, many := cleanDraws(t, 60)
	more, err := EstimatePerson(shape, many, UsualErrors(), nil)
	if err != nil {
		t.Fatal(err)
	}
	wide := func(l Likely) float64 { return math.Log(l.High / l.Low) }
	if floor := 2 * eightyPercent * UsualErrors().Clearance; wide(more.VolumeL) < 0.9*floor || wide(more.VolumeL) >= wide(e.VolumeL) {
		t.Errorf("the volume's range is %.3f after 6 months, %.3f after 60, the clearance's own %.3f", wide(e.VolumeL), wide(more.VolumeL), floor)
	}
	// A prior from height and weight helps where samples cannot.
	with, err := EstimatePerson(shape, draws, UsualErrors(), &VolumePrior{35, 0.1})
	if err != nil || wide(with.VolumeL) >= wide(e.VolumeL) {
		t.Errorf("with a prior the range is %.3f, without %.3f, %v", wide(with.VolumeL), wide(e.VolumeL), err)
	}
}

func TestSpoiltDrawsAreNamed(t *testing.T) {
	for _, tt := range []struct {
		name string
		want Verdict
		do   func(*MonthlyDraw)
	}{
		{"tubes swapped", SampleSwapped, func(d *MonthlyDraw) { d.Pre, d.Post = d.Post, d.Pre }},
		{"no fall", SampleSwapped, func(d *MonthlyDraw) { d.Post = d.Pre }},
		{"drawn after saline", SampleLow, func(d *MonthlyDraw) { d.Post *= 0.6 }},
		{"next results paired", SamplePaired, func(d *MonthlyDraw) { d.NextPre = d.Post / 2 }},
		{"mmol/L for mg/dL", SampleUnit, func(d *MonthlyDraw) { d.Pre, d.Post, d.NextPre = d.Pre/2.801, d.Post/2.801, d.NextPre/2.801 }},
		{"urea for urea nitrogen", SampleUnit, func(d *MonthlyDraw) { d.Pre, d.Post, d.NextPre = d.Pre*2.144, d.Post*2.144, d.NextPre*2.144 }},
		{"someone else's levels", SampleOdd, func(d *MonthlyDraw) { d.Pre, d.Post, d.NextPre = d.Pre*1.6, d.Post*1.6, d.NextPre*1.6 }},
		{"no result", SampleInput, func(d *MonthlyDraw) { d.Post = 0 }},
		{"not a number", SampleInput, func(d *MonthlyDraw) { d.Pre = math.NaN() }},
		{"a session that is not there", SampleInput, func(d *MonthlyDraw) { d.Session = 7 }},
		{"hardly a session", SampleHigh, func(d *MonthlyDraw) { d.Post = 0.9 * d.Pre }},
	} {
		shape, p, draws := cleanDraws(t, 6)
		tt.do(&draws[3])
		e, err := EstimatePerson(shape, draws, UsualErrors(), nil)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if got := e.Judged[3].Verdict; got != tt.want || e.Used != 5 || e.Judged[3].GenerationMgMin != 0 {
			t.Errorf("%s: judged %s, %d used; want %s", tt.name, got, e.Used, tt.want)
		}
		if apart(e.VolumeL.Value, p.VolumeL) > 1e-6 {
			t.Errorf("%s: the volume became %v", tt.name, e.VolumeL)
		}
	}
}

// A sample an hour late is told as such, with the hour.
func TestLateSampleIsTimed(t *testing.T) {
	shape, _, draws := cleanDraws(t, 6)
	s, err := shape.Pools(35, 5.35).Steady(draws[0].Cycle, nil)
	if err != nil {
		t.Fatal(err)
	}
	draws[2].Post = s.Sessions[1].Rebound60
	exact := UsualErrors()
	exact.Sample, exact.Session = 0.02, 0.01 // or an hour is within the errors
	e, err := EstimatePerson(shape, draws, exact, nil)
	if err != nil {
		t.Fatal(err)
	}
	if j := e.Judged[2]; j.Verdict != SampleLate || math.Abs(j.LateMin-60) > 1 {
		t.Errorf("%+v, want late by 60 min", j)
	}
}

// Two draws cannot judge each other; the prior can.
func TestAPriorJudgesASingleDraw(t *testing.T) {
	shape, _, draws := cleanDraws(t, 1)
	draws[0].Post *= 0.4
	e, err := EstimatePerson(shape, draws, UsualErrors(), nil)
	if err != nil || e.Judged[0].Verdict != SampleFits {
		t.Errorf("without a prior: %+v, %v", e.Judged, err)
	}
	e, err = EstimatePerson(shape, draws, UsualErrors(), &VolumePrior{36, 0.15})
	if err == nil || e.Judged[0].Verdict != SampleLow {
		t.Errorf("with a prior: %+v, %v", e.Judged, err)
	}
}

// The draws for planning have the estimate's middle and width.
func TestDrawsAreSpreadAsTheEstimate(t *testing.T) {
	shape, _, months := cleanDraws(t, 6)
	e, err := EstimatePerson(shape, months, UsualErrors(), nil)
	if err != nil {
		t.Fatal(err)
	}
	draws := e.Draws(1000)
	if len(draws) != 1000 {
		t.Fatalf("%d draws", len(draws))
	}
	inside, product := 0, 0.0
	for _, d := range draws {
		if e.VolumeL.Low <= d.VolumeL && d.VolumeL <= e.VolumeL.High {
			inside++
		}
		product += math.Log(d.VolumeL/e.VolumeL.Value) * math.Log(d.ClearanceFactor)
		p := e.Pools(d)
		if p.VolumeL != d.VolumeL || p.TransferMlMin != 16*d.VolumeL {
			t.Fatalf("%+v of %+v", p, d)
		}
	}
	if inside < 780 || inside > 820 {
		t.Errorf("%d of 1,000 draws lie in the range of 80 %%", inside)
	}
	if product <= 0 {
		t.Error("a larger clearance does not go with a larger volume")
	}
	if e.Draws(0) == nil || len(e.Draws(-1)) != 0 {
		t.Error("no draws is an empty list")
	}
}
