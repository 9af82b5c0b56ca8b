package kinetics

import (
	"encoding/json"
	"math"
	"os"
	"testing"
)

type fitCase struct {
	ID       string
	Index    int `json:"session_index"`
	State    string
	Problem  fitProblem
	Truth    fitAnswer
	Three    fitAnswer
	SteadyIn json.RawMessage     `json:"steady_problem"`
	Steady   fitAnswer           `json:"steady"`
	Rounded  fitAnswer           `json:"three_rounded_1mg_dL"`
	RoundedS fitAnswer           `json:"steady_rounded_1mg_dL"`
	Slopes   map[string]fitSlope `json:"three_log_sensitivity"`
	CV       fitSlope            `json:"three_cv_for_3pct_samples"`
	SlopesS  map[string]fitSlope `json:"steady_log_sensitivity"`
	CVS      fitSlope            `json:"steady_cv_for_3pct_samples"`
}

type fitProblem struct {
	Variant string
	FE      float64 `json:"fe"`
	Kd      float64 `json:"Kd_mL_min"`
	Kr      float64 `json:"Kr_mL_min"`
	Kc      float64 `json:"Kc_mL_min"`
	Length  float64 `json:"length_min"`
	UF      float64 `json:"UF_L"`
	Gain    float64 `json:"b_mL_min"`
	Above   float64 `json:"post_above_dry_L"`
	After   float64 `json:"next_pre_after_min"`
	Pre     float64
	Post    float64
	NextPre float64 `json:"next_pre"`
}

type fitAnswer struct {
	V float64 `json:"V_L"`
	G float64 `json:"G_mg_min"`
}

type fitSlope struct{ V, G float64 }

func (p fitProblem) model() (Shape, ThreeSamples) {
	pools := Shape{ExtracellularFraction: p.FE, ResidualMlMin: p.Kr, TransferMlMin: p.Kc}
	if p.Variant == "B" {
		pools.Fluid = FromBoth
	}
	return pools, ThreeSamples{
		ClearanceMlMin: p.Kd, LengthMin: p.Length, RemovedL: p.UF, GainMlMin: p.Gain,
		PostAboveLowestL: p.Above, NextPreAfterMin: p.After, Pre: p.Pre, Post: p.Post, NextPre: p.NextPre,
	}
}

func readFitCases(t *testing.T) []fitCase {
	t.Helper()
	raw, err := os.ReadFile("testdata/fit-cases.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Cases []fitCase }
	if err := json.Unmarshal(raw, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Cases) == 0 {
		t.Fatal("no case in testdata/fit-cases.json")
	}
	return file.Cases
}

// The reference cases were made and inverted independently; see
// testdata/README.md. The samples there have 13 digits.
func TestFitThreeAgainstReferenceCases(t *testing.T) {
	for _, c := range readFitCases(t) {
		p, s := c.Problem.model()
		got, err := FitThree(p, s)
		if err != nil {
			t.Errorf("%s: %v", c.ID, err)
			continue
		}
		if d := max(apart(got.VolumeL, c.Truth.V), apart(got.GenerationMgMin, c.Truth.G)); d > 1e-10 {
			t.Errorf("%s: %+v, want %+v (apart %.2g)", c.ID, got, c.Truth, d)
		}
		s.Pre, s.Post, s.NextPre = math.Round(s.Pre*100)/100, math.Round(s.Post*100)/100, math.Round(s.NextPre*100)/100
		got, err = FitThree(p, s)
		if err != nil || apart(got.VolumeL, c.Rounded.V) > 1e-9 || apart(got.GenerationMgMin, c.Rounded.G) > 1e-9 {
			t.Errorf("%s rounded to 1 mg/dL: %+v, %v; want %+v", c.ID, got, err, c.Rounded)
		}
	}
}

func (c fitCase) steady(t *testing.T) (Shape, SteadySamples) {
	t.Helper()
	var in struct {
		Schedule struct {
			weekIn
		}
		Session int `json:"session_index"`
		Pre     float64
		Post    float64
	}
	if err := json.Unmarshal(c.SteadyIn, &in); err != nil {
		t.Fatal(err)
	}
	var week weekCase
	week.In = in.Schedule.weekIn
	p, cycle := week.model()
	return Shape{ExtracellularFraction: p.ExtracellularFraction, Fluid: p.Fluid, ResidualMlMin: p.ResidualMlMin, TransferMlMin: p.TransferMlMin},
		SteadySamples{Cycle: cycle, Session: in.Session, Pre: in.Pre, Post: in.Post}
}

func TestFitSteadyAgainstReferenceCases(t *testing.T) {
	for _, c := range readFitCases(t) {
		shape, s := c.steady(t)
		got, err := FitSteady(shape, s)
		// Cases that were not periodic have another answer here than the truth.
		if err != nil || apart(got.VolumeL, c.Steady.V) > 1e-10 || apart(got.GenerationMgMin, c.Steady.G) > 1e-10 {
			t.Errorf("%s: %+v, %v; want %+v", c.ID, got, err, c.Steady)
		}
		if c.State == "periodic" && apart(got.VolumeL, c.Truth.V) > 1e-10 {
			t.Errorf("%s: %+v, want the truth %+v", c.ID, got, c.Truth)
		}
		s.Pre, s.Post = math.Round(s.Pre*100)/100, math.Round(s.Post*100)/100
		got, err = FitSteady(shape, s)
		if err != nil || apart(got.VolumeL, c.RoundedS.V) > 1e-9 || apart(got.GenerationMgMin, c.RoundedS.G) > 1e-9 {
			t.Errorf("%s rounded to 1 mg/dL: %+v, %v; want %+v", c.ID, got, err, c.RoundedS)
		}
	}
}

// The reference slopes are finite differences printed to three decimals, the spreads to two.
func TestFitSlopesAgainstReferenceCases(t *testing.T) {
	names := map[string]string{
		"pre": "pre", "post": "post", "next_pre": "next_pre", "clearance": "Kd_mL_min", "transfer": "Kc_mL_min",
		"residual": "Kr_mL_min", "removed": "UF_L", "length": "length_min",
	}
	check := func(id string, slopes []FitSlope, want map[string]fitSlope, cv fitSlope) {
		found := 0
		for _, s := range slopes {
			w, ok := want[names[s.Input]]
			if !ok {
				continue
			}
			found++
			if math.Abs(s.Volume-w.V) > 0.001 || math.Abs(s.Generation-w.G) > 0.001 {
				t.Errorf("%s: slopes of %s are %.4f and %.4f, want %v", id, s.Input, s.Volume, s.Generation, w)
			}
		}
		if found != len(want) {
			t.Errorf("%s: %d slopes of %d were compared: %+v, %v", id, found, len(want), slopes, want)
		}
		v, g := FitSpread(slopes, 0.03)
		if math.Abs(100*v-cv.V) > 0.006 || math.Abs(100*g-cv.G) > 0.006 {
			t.Errorf("%s: 3 %% in the samples is %.3f %% in V and %.3f %% in G, want %v", id, 100*v, 100*g, cv)
		}
	}
	for _, c := range readFitCases(t) {
		shape, three := c.Problem.model()
		slopes, err := FitThreeSlopes(shape, three)
		if err != nil {
			t.Fatalf("%s: %v", c.ID, err)
		}
		check(c.ID, slopes, c.Slopes, c.CV)
		steadyShape, s := c.steady(t)
		if slopes, err = FitSteadySlopes(steadyShape, s); err != nil {
			t.Fatalf("%s: %v", c.ID, err)
		}
		check(c.ID+" steady", slopes, c.SlopesS, c.CVS)
	}
}
