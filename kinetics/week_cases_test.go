package kinetics

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"testing"
)

type weekIn struct {
	V       float64 `json:"V_L"`
	FE      float64 `json:"fe"`
	Variant string  `json:"variant"`
	G       float64 `json:"G_mg_min"`
	Kr      float64 `json:"Kr_mL_min"`
	Kc      float64 `json:"Kc_mL_min"`
	Cycle   float64 `json:"cycle_min"`
	Session []struct {
		Start  float64 `json:"start_min"`
		Length float64 `json:"length_min"`
		Kd     float64 `json:"Kd_mL_min"`
		UF     float64 `json:"UF_L"`
	} `json:"sessions"`
}

// A weekCase is one case of testdata/week-cases.json.
type weekCase struct {
	ID   string
	Note string
	In   weekIn
	Out  struct {
		TAC      float64
		MeanPre  float64 `json:"meanpre"`
		StdKtV   float64
		EKR      float64 `json:"EKR_mL_min"`
		Removed  float64 `json:"weekly_removed_g"`
		Sessions []struct {
			Start   float64 `json:"start_min"`
			Pre     float64
			Post    float64
			Reb60   float64
			Ceq     float64 `json:"ceq_end"`
			CiPre   float64 `json:"ci_pre"`
			CiPost  float64 `json:"ci_post"`
			VPre    float64 `json:"Vpre_L"`
			VPost   float64 `json:"Vpost_L"`
			URR     float64
			SpKtV   float64
			EKtV60  float64
			EKtVeq  float64
			Removed float64 `json:"removed_g"`
		}
	}
}

func (c weekCase) model() (Pools, Cycle) {
	p := Pools{
		VolumeL: c.In.V, ExtracellularFraction: c.In.FE,
		GenerationMgMin: c.In.G, ResidualMlMin: c.In.Kr, TransferMlMin: c.In.Kc,
	}
	if c.In.Variant == "B" {
		p.Fluid = FromBoth
	}
	cycle := Cycle{LengthMin: c.In.Cycle}
	for _, s := range c.In.Session {
		cycle.Sessions = append(cycle.Sessions, CycleSession{
			StartMin: s.Start, LengthMin: s.Length, ClearanceMlMin: s.Kd, RemovedL: s.UF,
		})
	}
	return p, cycle
}

// readWeekCases reads the reference cases; it is a failure when there are none.
func readWeekCases(t testing.TB) []weekCase {
	t.Helper()
	raw, err := os.ReadFile("testdata/week-cases.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Cases []weekCase }
	if err := json.Unmarshal(raw, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Cases) == 0 {
		t.Fatal("no case in testdata/week-cases.json")
	}
	return file.Cases
}

// apart is the difference of two figures as a share of the second.
func apart(got, want float64) float64 {
	if got == want {
		return 0
	}
	return math.Abs(got-want) / math.Abs(want)
}

// ktvOf is the figure, or NaN when it does not exist, which is apart from all.
func ktvOf(k KtV) float64 {
	if !k.Exists {
		return math.NaN()
	}
	return k.Value
}

// The reference cases were integrated independently at rtol 1e-13; see
// testdata/README.md.
func TestSteadyAgainstReferenceCases(t *testing.T) {
	const within = 1e-10
	worst := 0.0
	for _, c := range readWeekCases(t) {
		p, cycle := c.model()
		got, err := p.Steady(cycle, nil)
		if err != nil {
			t.Errorf("%s: %v", c.ID, err)
			continue
		}
		check := func(what string, got, want float64) {
			if d := apart(got, want); !(d <= within) {
				t.Errorf("%s %s: %s = %.13g, want %.13g (apart %.2g)", c.ID, c.Note, what, got, want, d)
			} else {
				worst = max(worst, d)
			}
		}
		check("stdKt/V", got.StdKtV, c.Out.StdKtV)
		check("mean pre", got.MeanPre, c.Out.MeanPre)
		check("time-averaged", got.TimeAveraged, c.Out.TAC)
		check("EKR", got.EKRMlMin, c.Out.EKR)
		check("removed", got.RemovedG*weekMin/c.In.Cycle, c.Out.Removed)
		if math.Abs(got.Balance) > 1e-12 {
			t.Errorf("%s: balance misses by %.2g", c.ID, got.Balance)
		}
		if len(got.Sessions) != len(c.Out.Sessions) {
			t.Fatalf("%s: %d sessions, want %d", c.ID, len(got.Sessions), len(c.Out.Sessions))
		}
		for i, want := range c.Out.Sessions {
			l := got.Sessions[i]
			name := func(s string) string { return fmt.Sprintf("session %d %s", i, s) }
			check(name("pre"), l.Pre, want.Pre)
			check(name("post"), l.Post, want.Post)
			check(name("rebound"), l.Rebound60, want.Reb60)
			check(name("mixed"), l.Mixed, want.Ceq)
			check(name("inner before"), l.PreInner, want.CiPre)
			check(name("inner after"), l.PostInner, want.CiPost)
			check(name("volume before"), l.PreVolumeL, want.VPre)
			check(name("volume after"), l.PostVolumeL, want.VPost)
			check(name("URR"), l.URR, want.URR)
			check(name("spKt/V"), ktvOf(l.SpKtV), want.SpKtV)
			check(name("eKt/V"), ktvOf(l.EKtV), want.EKtVeq)
			check(name("eKt/V 60"), ktvOf(l.EKtV60), want.EKtV60)
			check(name("removed"), l.RemovedMg/1000, want.Removed)
		}
	}
	t.Logf("worst relative difference %.2g", worst)
}
