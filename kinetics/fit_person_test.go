package kinetics

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"ebbline/unit"
)

// A drawnPerson has a volume, a generation and a true clearance factor that
// the estimate is to find.
type drawnPerson struct {
	pools  Pools
	factor float64
	draws  []MonthlyDraw
	bad    []int // the draws that were spoilt, by index
}

// drawPerson invents a person on a schedule of their own with some months of
// samples. All errors are those of errs; the transfer is not quite the usual.
func drawPerson(r *rand.Rand, errs SampleErrors, spoil float64) drawnPerson {
	off := func(cv float64) float64 { return math.Exp(cv * r.NormFloat64()) }
	volume := 36 * off(0.18)
	p := drawnPerson{factor: off(errs.Clearance), pools: Pools{
		VolumeL: volume, ExtracellularFraction: 1. / 3, GenerationMgMin: 0.15 * volume * off(0.2),
		TransferMlMin: 16 * volume * off(0.1),
	}}
	if r.IntN(3) == 0 {
		p.pools.ResidualMlMin = 3 * r.Float64()
	}
	schedule := invented[r.IntN(len(invented))]
	for month := range 6 + r.IntN(7) {
		c := Cycle{LengthMin: schedule.cycleMin}
		for i, start := range schedule.starts {
			before := schedule.starts[(i+len(schedule.starts)-1)%len(schedule.starts)]
			since := math.Mod(start-before+schedule.cycleMin, schedule.cycleMin)
			if since == 0 {
				since = schedule.cycleMin
			}
			c.Sessions = append(c.Sessions, CycleSession{start, schedule.length, schedule.clearance, 0.75e-3 * since * (0.7 + 0.6*r.Float64())})
		}
		d := MonthlyDraw{Cycle: c, Session: r.IntN(len(c.Sessions))}

		// The truth: the month's own generation, the person's factor, and the
		// sampled session's own clearance on top of it.
		truth := c
		truth.Sessions = slices.Clone(c.Sessions)
		for i := range truth.Sessions {
			truth.Sessions[i].ClearanceMlMin *= p.factor
		}
		pools := p.pools
		pools.GenerationMgMin *= off(errs.Month)
		s, err := pools.Steady(truth, nil)
		if err != nil {
			panic(err)
		}
		pre := s.Sessions[d.Session]
		session := truth.Sessions[d.Session]
		step := pools.stretch(session.LengthMin, session.ClearanceMlMin*off(errs.Session), pre.PreVolumeL*1000,
			(pre.PostVolumeL-pre.PreVolumeL)*1000/session.LengthMin)
		var carried poolStep
		step.solve(&carried)
		post, _ := poolMass{pre.Pre * step.outer, pre.PreInner * step.inner}.carry(&carried, pools.GenerationMgMin)
		d.Pre = pre.Pre * off(errs.Sample)
		d.Post = post.outer / (step.outer + step.outerTrend*step.length) * off(errs.Sample)
		if r.IntN(3) == 0 {
			d.NextPre = s.Sessions[(d.Session+1)%len(s.Sessions)].Pre * off(errs.Sample)
		}
		if r.Float64() < spoil {
			spoilDraw(r, &d)
			p.bad = append(p.bad, month)
		}
		p.draws = append(p.draws, d)
	}
	return p
}

// spoilDraw does to a draw what goes wrong at home.
func spoilDraw(r *rand.Rand, d *MonthlyDraw) {
	switch r.IntN(4) {
	case 0:
		d.Pre, d.Post = d.Post, d.Pre
	case 1:
		d.Post *= 0.55 // drawn after saline
	case 2:
		d.Post *= 1.6 // half the session, or long after it
	case 3:
		d.Pre, d.Post, d.NextPre = 2.8*d.Pre, 2.8*d.Post, 2.8*d.NextPre // mmol/L for mg/dL
	}
}

var invented = []struct {
	cycleMin, length, clearance float64
	starts                      []float64
}{
	{10080, 240, 230, mondayWednesdayFriday},
	{10080, 300, 200, mondayWednesdayFriday},
	{10080, 150, 170, mondayToSaturday},
	{10080, 420, 140, mondayToSaturday[:5]},
	{2880, 270, 210, []float64{480}},
	{10080, 210, 210, []float64{480, 3360, 4800, 7680}},
}

// A thousand persons of known volume and generation: the ranges of 80 % hold
// the truth in 75 to 85 of 100, and the middle is off by less than 2 %.
func TestEstimateCoversTheTruth(t *testing.T) {
	const persons = 1000
	r := rand.New(rand.NewPCG(1976, 4))
	var held [3]int
	var off [3]float64
	for range persons {
		p := drawPerson(r, UsualErrors(), 0)
		shape := UsualShape(p.pools.ResidualMlMin)
		e, err := EstimatePerson(shape, p.draws, UsualErrors(), nil)
		if err != nil {
			t.Fatalf("%v: %+v", err, p)
		}
		for k, pair := range []struct {
			got   Likely
			truth float64
		}{{e.VolumeL, p.pools.VolumeL}, {e.GenerationMgMin, p.pools.GenerationMgMin}, {e.ClearanceFactor, p.factor}} {
			if pair.got.Low <= pair.truth && pair.truth <= pair.got.High {
				held[k]++
			}
			off[k] += math.Log(pair.got.Value/pair.truth) / persons
		}
	}
	for k, name := range []string{"volume", "generation", "clearance factor"} {
		share := 100 * float64(held[k]) / persons
		t.Logf("%s: held in %.1f of 100, bias %+.2f %%", name, share, 100*off[k])
		if share < 75 || share > 85 {
			t.Errorf("the range of the %s holds the truth in %.1f of 100 persons, want 75 to 85", name, share)
		}
		if math.Abs(off[k]) > 0.02 {
			t.Errorf("the %s is off by %+.2f %% on average, want less than 2 %%", name, 100*off[k])
		}
	}
}

// One draw in twelve is spoilt: most are named, few good ones are, and the
// ranges still hold.
func TestEstimateNamesSpoiltDraws(t *testing.T) {
	const persons = 300
	r := rand.New(rand.NewPCG(1976, 5))
	held, spoilt, named, good, wronged := 0, 0, 0, 0, 0
	off := 0.0
	for range persons {
		p := drawPerson(r, UsualErrors(), 1./12)
		e, err := EstimatePerson(UsualShape(p.pools.ResidualMlMin), p.draws, UsualErrors(), nil)
		if err != nil {
			t.Fatalf("%v: %+v", err, p)
		}
		if e.VolumeL.Low <= p.pools.VolumeL && p.pools.VolumeL <= e.VolumeL.High {
			held++
		}
		off += math.Log(e.VolumeL.Value/p.pools.VolumeL) / persons
		for i, j := range e.Judged {
			bad := slices.Contains(p.bad, i)
			switch {
			case bad && j.Verdict != SampleFits:
				spoilt++
				named++
			case bad:
				spoilt++
			case j.Verdict != SampleFits:
				good++
				wronged++
			default:
				good++
			}
			if j.Text() == "" {
				t.Errorf("the verdict %s has no words", j.Verdict)
			}
		}
	}
	t.Logf("named %d of %d spoilt draws, and %d of %d good ones; held in %.1f of 100, bias %+.2f %%",
		named, spoilt, wronged, good, 100*float64(held)/persons, 100*off)
	if spoilt < 100 || float64(named) < 0.9*float64(spoilt) {
		t.Errorf("named %d of %d spoilt draws, want 9 of 10", named, spoilt)
	}
	if float64(wronged) > 0.02*float64(good) {
		t.Errorf("named %d of %d good draws, want fewer than 1 in 50", wronged, good)
	}
	if share := 100 * float64(held) / persons; share < 73 || share > 87 || math.Abs(off) > 0.02 {
		t.Errorf("the volume is held in %.1f of 100, bias %+.2f %%", share, 100*off)
	}
}

func TestEstimateRefuses(t *testing.T) {
	p := drawPerson(rand.New(rand.NewPCG(7, 7)), UsualErrors(), 0)
	shape := UsualShape(p.pools.ResidualMlMin)
	swapped := p.draws[0]
	swapped.Pre, swapped.Post = swapped.Post, swapped.Pre
	e, err := EstimatePerson(shape, []MonthlyDraw{swapped}, UsualErrors(), nil)
	if !errors.As(err, new(*unit.InputError)) || len(e.Judged) != 1 || e.Judged[0].Verdict != SampleSwapped {
		t.Errorf("swapped tubes alone: %+v, %v", e, err)
	}
	for _, tt := range []struct {
		name  string
		shape Shape
		errs  SampleErrors
		prior *VolumePrior
	}{
		{"no error of samples", shape, SampleErrors{0, 0.1, 0.03, 0.1}, nil},
		{"an error of all", shape, SampleErrors{0.04, 1, 0.03, 0.1}, nil},
		{"no shape", Shape{}, UsualErrors(), nil},
		{"no prior volume", shape, UsualErrors(), &VolumePrior{0, 0.1}},
	} {
		if _, err := EstimatePerson(tt.shape, p.draws, tt.errs, tt.prior); !errors.As(err, new(*unit.InputError)) {
			t.Errorf("%s: %v, want a refusal", tt.name, err)
		}
	}
	if _, err := EstimatePerson(shape, nil, UsualErrors(), nil); !errors.As(err, new(*unit.InputError)) {
		t.Errorf("no draws: %v", err)
	}
}
