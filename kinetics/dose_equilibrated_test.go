package kinetics

import (
	"math"
	"testing"
)

// Examples worked by an independent script: spKt/V, hours, then the rate
// equation for fistula and catheter, clearance time 36, and the HEMO form.
func TestEquilibratedExamples(t *testing.T) {
	for _, tt := range []struct{ sp, hours, av, vv, tattersall, hemo float64 }{
		{1.4, 4, 1.2200, 1.2555, 1.2174, 1.2114},
		{1.2, 3, 0.9900, 1.0320, 1.0000, 1.0068},
		{0.6, 2.5, 0.4860, 0.5072, 0.4839, 0.5156},
		{2.0, 8, 1.8800, 1.9025, 1.8605, 1.8053},
	} {
		min := 60 * tt.hours
		for _, c := range []struct {
			name string
			f    Figure
			err  error
			want float64
		}{
			caseOf("rate, fistula", tt.av)(EquilibratedRate(tt.sp, min, Arteriovenous)),
			caseOf("rate, catheter", tt.vv)(EquilibratedRate(tt.sp, min, Venovenous)),
			caseOf("clearance time", tt.tattersall)(Equilibrated(tt.sp, min, Arteriovenous)),
			caseOf("HEMO", tt.hemo)(EquilibratedHEMO(tt.sp, min)),
		} {
			if c.err != nil || math.Abs(c.f.Value-c.want) > 0.000051 {
				t.Errorf("%s of %v in %v h = %v, %v; want %v", c.name, tt.sp, tt.hours, c.f.Value, c.err, c.want)
			}
		}
	}
}

type figureCase = struct {
	name string
	f    Figure
	err  error
	want float64
}

func caseOf(name string, want float64) func(Figure, error) figureCase {
	return func(f Figure, err error) figureCase { return figureCase{name, f, err, want} }
}

// Trap: the line for a catheter ends in +0.02, not in the fistula's +0.03.
func TestVenousRateEnds(t *testing.T) {
	// At a dose near nothing the offset is bare.
	for _, tt := range []struct {
		access Access
		offset float64
	}{{Arteriovenous, 0.03}, {Venovenous, 0.02}} {
		f, err := EquilibratedRate(1e-8, 1440, tt.access)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "offset of "+string(tt.access), f.Value, tt.offset, 1e-7)
	}
}

func TestEquilibratedCautionsAndRefusals(t *testing.T) {
	for _, tt := range []struct {
		name string
		f    func() (Figure, error)
		code string
	}{
		{"60 min", func() (Figure, error) { return Equilibrated(0.4, 60, Arteriovenous) }, "ektv_short_session"},
		{"90 min", func() (Figure, error) { return Equilibrated(0.4, 90, Arteriovenous) }, ""},
		{"rate at 2 h", func() (Figure, error) { return EquilibratedRate(1.2, 120, Arteriovenous) }, "ektv_rate_outside_fit"},
		{"rate at 0.7", func() (Figure, error) { return EquilibratedRate(0.7, 240, Arteriovenous) }, "ektv_rate_outside_fit"},
		{"rate at 4 h", func() (Figure, error) { return EquilibratedRate(1.2, 240, Arteriovenous) }, ""},
		{"HEMO at 8 h", func() (Figure, error) { return EquilibratedHEMO(1.8, 480) }, "ektv_rate_outside_fit"},
	} {
		f, err := tt.f()
		if err != nil || (tt.code == "") != (len(f.Cautions) == 0) || (tt.code != "" && !hasCode(f.Cautions, tt.code)) {
			t.Errorf("%s: cautions %v, %v; want %q", tt.name, f.Cautions, err, tt.code)
		}
	}
	_, err := Equilibrated(1.2, 240, "graft")
	refusedAbout(t, "third access", err, "access")
	_, err = EquilibratedRate(1.2, 240, "")
	refusedAbout(t, "no access", err, "access")
	_, err = Equilibrated(0, 240, Arteriovenous)
	refusedAbout(t, "no dose", err, "spktv")
	_, err = EquilibratedHEMO(1.2, 0)
	refusedAbout(t, "no time", err, "session_min")
	_, err = EquilibratedWith(1.2, 240, -1)
	refusedAbout(t, "time before", err, "clearance_time_min")
}

// The clearance time decides: 36 min through a fistula or graft, 22 through a
// catheter, and what the caller says.
func TestClearanceTimes(t *testing.T) {
	for _, tt := range []struct {
		access     Access
		tp, halved float64 // the time, and the eKt/V of 1.4 in as many minutes
	}{{Arteriovenous, 36, 0.7}, {Venovenous, 22, 0.7}} {
		tp, err := tt.access.ClearanceTime()
		if err != nil || tp != tt.tp {
			t.Errorf("clearance time of %s is %v, %v; want %v", tt.access, tp, err, tt.tp)
		}
		f, err := Equilibrated(1.4, tp, tt.access)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "a session as long as the clearance time", f.Value, tt.halved, 1e-12)
	}
	catheter, err := Equilibrated(1.4, 240, Venovenous)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "1.4 in 4 h through a catheter", catheter.Value, 1.2824, 0.00005)
	hemo, err := EquilibratedWith(1.4, 240, 30.7)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "1.4 in 4 h with 30.7 min", hemo.Value, 1.2412, 0.00005)
	_, err = Access("graft").ClearanceTime()
	refusedAbout(t, "third access", err, "access")
}
