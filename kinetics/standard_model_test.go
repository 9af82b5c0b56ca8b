package kinetics

import (
	"math"
	"testing"

	"ebbline/unit"
)

// The algebra against the independently integrated two-pool weeks of
// testdata/week-cases.json. The formulas are fits, so these tests catch a
// wrong constant or unit, not a digit; how near each comes was measured on the
// same cases by an independent script.

// plausible reports whether every session of a week has a dose that people get.
func (c weekCase) plausible() bool {
	for _, s := range c.Out.Sessions {
		if s.SpKtV < 0.5 || s.SpKtV > 2.5 {
			return false
		}
	}
	return c.Out.StdKtV >= 1.2 && c.Out.StdKtV <= 6
}

// days is the time from the session before to session i.
func (c weekCase) days(i int) float64 {
	n := len(c.In.Session)
	since := c.In.Session[i].Start - c.In.Session[(i+n-1)%n].Start
	if since <= 0 {
		since += c.In.Cycle
	}
	return since / 1440
}

func (c weekCase) perWeek() float64 { return float64(len(c.In.Session)) * minutesAWeek / c.In.Cycle }

func (c weekCase) sampled(i int) Sampled {
	return Sampled{Pre: unit.BUN(100 * c.Out.Sessions[i].Pre), Post: unit.BUN(100 * c.Out.Sessions[i].Post),
		LengthMin: c.In.Session[i].Length, RemovedL: c.In.Session[i].UF, PostWeightKg: c.Out.Sessions[i].VPost / 0.55, PerWeek: c.perWeek()}
}

func TestSinglePoolAgainstTheModel(t *testing.T) {
	thrice, any := 0, 0
	for _, c := range readWeekCases(t) {
		if !c.plausible() {
			continue
		}
		for i, truth := range c.Out.Sessions {
			s := c.sampled(i)
			if c.perWeek() == 3 && c.In.Cycle == minutesAWeek {
				thrice++
				f, err := SinglePool(s)
				if err != nil {
					t.Fatal(err)
				}
				within := 0.03
				if s.LengthMin > 300 {
					within = 0.06
				}
				if off := f.Value/truth.SpKtV - 1; math.Abs(off) > within {
					t.Errorf("%s, session %d: single-pool %v, model %v: %.1f %% apart", c.ID, i, f.Value, truth.SpKtV, 100*off)
				}
			}
			any++
			s.DaysSincePrevious = c.days(i)
			f, err := SinglePool(s)
			if err != nil {
				t.Fatal(err)
			}
			within := 0.09
			if s.LengthMin > 300 {
				within = 0.12
			}
			if off := f.Value/truth.SpKtV - 1; math.Abs(off) > within {
				t.Errorf("%s, session %d: single-pool by days %v, model %v: %.1f %% apart", c.ID, i, f.Value, truth.SpKtV, 100*off)
			}
		}
	}
	if thrice < 15 || any < 75 {
		t.Errorf("only %d and %d sessions were compared", thrice, any)
	}
}

func TestEquilibratedAgainstTheModel(t *testing.T) {
	compared := 0
	for _, c := range readWeekCases(t) {
		if transfer := c.In.Kc / (c.In.V * 1000); !c.plausible() || transfer < 0.010 || transfer > 0.020 {
			continue
		}
		for i, truth := range c.Out.Sessions {
			compared++
			f, err := EquilibratedWith(truth.SpKtV, c.In.Session[i].Length, 35)
			if err != nil {
				t.Fatal(err)
			}
			if off := f.Value/truth.EKtVeq - 1; math.Abs(off) > 0.05 {
				t.Errorf("%s, session %d: equilibrated %v, model %v: %.1f %% apart", c.ID, i, f.Value, truth.EKtVeq, 100*off)
			}
		}
	}
	if compared < 45 {
		t.Errorf("only %d sessions were compared", compared)
	}
}

// meanSession is the mean session of a week in the model.
func (c weekCase) meanSession() (sp, e, length, removed float64) {
	n := float64(len(c.In.Session))
	for i, s := range c.Out.Sessions {
		sp += s.SpKtV / n
		e += s.EKtVeq / n
		length += c.In.Session[i].Length / n
		removed += c.In.Session[i].UF
	}
	return sp, e, length, removed * minutesAWeek / c.In.Cycle
}

func TestStandardFullAgainstTheModel(t *testing.T) {
	compared := 0
	for _, c := range readWeekCases(t) {
		if !c.plausible() {
			continue
		}
		compared++
		sp, e, length, removed := c.meanSession()
		s, err := StandardKtV(sp, e, c.perWeek(), length)
		if err != nil {
			t.Fatal(err)
		}
		full, err := StandardFull(s.Value, sp, c.perWeek(), WholeWeek{RemovedL: removed, VolumeL: c.In.V, ResidualMlMin: c.In.Kr})
		if err != nil {
			t.Fatal(err)
		}
		if off := full.Value/c.Out.StdKtV - 1; math.Abs(off) > 0.06 {
			t.Errorf("%s: standard Kt/V %v, by definition %v: %.1f %% apart", c.ID, full.Value, c.Out.StdKtV, 100*off)
		}
	}
	if compared < 15 {
		t.Errorf("only %d weeks were compared", compared)
	}
}

// Without fluid and residual clearance the plain form must do; those weeks are
// run by the model of this room, which is held to the same cases elsewhere.
func TestStandardAgainstTheModel(t *testing.T) {
	compared := 0
	for _, c := range readWeekCases(t) {
		p, cycle := c.model()
		p.ResidualMlMin = 0
		n := float64(len(cycle.Sessions))
		var sp, e, length float64
		for i := range cycle.Sessions {
			cycle.Sessions[i].RemovedL = 0
		}
		truth, err := p.Steady(cycle, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i, l := range truth.Sessions {
			sp, e, length = sp+ktvOf(l.SpKtV)/n, e+ktvOf(l.EKtV)/n, length+cycle.Sessions[i].LengthMin/n
		}
		if !(sp > 0.5 && sp < 2.5) {
			continue
		}
		compared++
		s, err := StandardKtV(sp, e, c.perWeek(), length)
		if err != nil {
			t.Fatal(err)
		}
		if off := s.Value/truth.StdKtV - 1; math.Abs(off) > 0.05 {
			t.Errorf("%s: standard Kt/V %v, by definition %v: %.1f %% apart", c.ID, s.Value, truth.StdKtV, 100*off)
		}
	}
	if compared < 15 {
		t.Errorf("only %d weeks were compared", compared)
	}
}
