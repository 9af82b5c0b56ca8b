package kinetics

import "testing"

func TestWaterFlows(t *testing.T) {
	urea, err := BloodWaterFlow(300, 0.33)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "blood water", urea, 258.2, 0.05)
	plasma, err := PlasmaWaterFlow(300, 0.33)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "plasma water", plasma, 0.93*300*0.67, 1e-9)
	for _, by := range []func(qb, hct float64) (float64, error){BloodWaterFlow, PlasmaWaterFlow} {
		_, err = by(300, 33)
		refusedAbout(t, "haematocrit in percent", err, "haematocrit")
		_, err = by(0, 0.33)
		refusedAbout(t, "no flow", err, "blood_flow_ml_min")
	}
}

func TestBloodSideClearance(t *testing.T) {
	got, err := BloodSideClearance(300, 4, 1.1) // a published exercise
	if err != nil {
		t.Fatal(err)
	}
	near(t, "clearance", got, 217.5, 1e-9)
	_, err = BloodSideClearance(300, 4, 4.1)
	refusedAbout(t, "more out than in", err, "concentration_out")
}

func TestRecirculation(t *testing.T) {
	share, err := RecirculatedShare(350, 280)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "share", share, 0.2, 1e-12)
	k, err := RecirculatedClearance(230, 350, share)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "clearance left", k, 197.5, 0.05) // worked by an independent script
	none, err := RecirculatedShare(300, 900)
	if err != nil || none != 0 {
		t.Errorf("an access of 900 at 300 recirculates %v, %v", none, err)
	}
	same, err := RecirculatedClearance(230, 350, 0)
	if err != nil || same != 230 {
		t.Errorf("without recirculation %v of 230 is left, %v", same, err)
	}
	// A dialyser that clears all of its blood in one pass gets only the new
	// blood: the access flow.
	all, err := RecirculatedClearance(350, 350, share)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "clearance left of all", all, 280, 1e-9)
	_, err = RecirculatedClearance(230, 350, 1)
	refusedAbout(t, "all recirculated", err, "recirculated_share")
	_, err = RecirculatedShare(0, 280)
	refusedAbout(t, "no flow", err, "blood_flow_ml_min")
}

func TestClearanceAndDose(t *testing.T) {
	ktv, err := NominalKtV(250, 240, 42)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "Kt/V", ktv, 1.42, 0.01) // Yale teaching site, printed 1.42
	k, err := ClearanceFor(1.4, 210, 42)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "clearance for 1.4", k, 280, 1e-9) // the same site, case 2
	d, err := DialysateFor(0.6, 39, 1)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "dialysate", d, 23.4, 1e-9) // renalfellow.org
	half, err := DialysateFor(0.6, 39, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "dialysate, half full", half, 46.8, 1e-9)
	for _, err := range []error{
		second(NominalKtV(250, 240, 0)), second(ClearanceFor(1.4, 240, 0)), second(DialysateFor(1, 0, 1)),
	} {
		refusedAbout(t, "no volume", err, "urea_volume_l")
	}
	refusedAbout(t, "no saturation", second(DialysateFor(1, 39, 0)), "saturation")
}

func second(_ float64, err error) error { return err }

func TestShareDelivered(t *testing.T) {
	for _, tt := range []struct {
		delivered float64
		caution   bool
	}{{212, true}, {213, false}, {250, false}, {260, false}} {
		f, err := ShareDelivered(tt.delivered, 250)
		if err != nil || hasCode(f.Cautions, "clearance_short") != tt.caution {
			t.Errorf("%v of 250: %v, %v", tt.delivered, f, err)
		}
		near(t, "share", f.Value, tt.delivered/250, 1e-12)
	}
	_, err := ShareDelivered(200, 0)
	refusedAbout(t, "nothing expected", err, "expected_ml_min")
}
