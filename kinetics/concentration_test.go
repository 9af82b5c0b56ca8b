package kinetics

import (
	"testing"

	"ebbline/unit"
)

func TestTimeAveraged(t *testing.T) {
	// 70 to 21 mg/dL in 4 h and to 60 in 44 h: worked by an independent script.
	cycle := []Point{{0, unit.BUN(70)}, {240, unit.BUN(21)}, {2880, unit.BUN(60)}}
	got, err := TimeAveraged(cycle)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "time-averaged", got.BUNMgPerDL(), 40.917, 0.0005)
	later := []Point{{1e6, cycle[0].Urea}, {1e6 + 240, cycle[1].Urea}, {1e6 + 2880, cycle[2].Urea}}
	same, err := TimeAveraged(later)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "counted from another hour", float64(same), float64(got), 1e-9)

	_, err = TimeAveraged(cycle[:1])
	refusedAbout(t, "one point", err, "points")
	_, err = TimeAveraged([]Point{cycle[0], cycle[0]})
	refusedAbout(t, "two at one time", err, "min")
	_, err = TimeAveraged([]Point{cycle[0], {10, 0}})
	refusedAbout(t, "no urea", err, "urea")
}

func TestEquivalentClearance(t *testing.T) {
	// The reference week T1: generation 5.35346, mean 42.36 mg/dL, EKR 12.64.
	ekr, err := EquivalentClearance(5.35346, unit.BUN(42.364))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "EKR", ekr, 12.6369, 0.002)
	scaled, err := EquivalentPer40L(ekr, 35)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "EKR per 40 L", scaled, 12.6369*40/35, 0.002)
	weekly, err := EquivalentWeekly(13.2, 40)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "weekly", weekly, 3.326, 0.0005)
	_, err = EquivalentClearance(0, unit.BUN(40))
	refusedAbout(t, "no generation", err, "generation_mg_min")
	_, err = EquivalentClearance(5, 0)
	refusedAbout(t, "no urea", err, "time_averaged_urea")
	_, err = EquivalentPer40L(12, 0)
	refusedAbout(t, "no volume", err, "urea_volume_l")
	_, err = EquivalentWeekly(-1, 40)
	refusedAbout(t, "below 0", err, "ekr_ml_min")
}
