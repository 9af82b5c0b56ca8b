package kinetics

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestDiffusiveClearanceExamples(t *testing.T) {
	// Worked by an independent script: KoA, blood flow, dialysate flow.
	for _, tt := range []struct{ koa, qb, qd, want float64 }{
		{800, 300, 500, 247.95}, {800, 400, 500, 284.36}, {800, 400, 800, 309.84}, {1000, 300, 300, 230.77},
		{900, 400, 140, 138.60}, {900, 400, 200, 188.87}, {600, 200, 500, 178.76}, {1200, 350, 600, 309.37},
	} {
		k, err := DiffusiveClearance(tt.koa, tt.qb, tt.qd)
		if err != nil || len(k.Cautions) != 0 {
			t.Fatalf("%+v: %v, %v", tt, k.Cautions, err)
		}
		near(t, "clearance", k.Value, tt.want, 0.005)
	}
}

func TestKoAPublished(t *testing.T) {
	// Yale haemodialysis kinetics teaching site, case 2.
	got, err := KoA(280, 400, 500)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "KoA", got.Value, 766, 0.5)
	near(t, "KoA, worked by hand", got.Value, 2000*math.Log(22.0/15), 1e-9)
}

// Trap: how full the dialysate gets is not a function of Qd/Qb at one KoA.
// It nearly is only where the dialysate flow is far below the blood flow.
func TestSaturationIsNotOfTheRatioAlone(t *testing.T) {
	saturation := func(koa, qb, qd float64) float64 {
		k, err := DiffusiveClearance(koa, qb, qd)
		if err != nil {
			t.Fatal(err)
		}
		s, err := Saturation(k.Value, qd)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	near(t, "250 and 500", saturation(800, 250, 500), 0.444, 0.0005)
	near(t, "400 and 800", saturation(800, 400, 800), 0.387, 0.0005)
	for qd, want := range map[float64]float64{120: 0.996, 140: 0.990, 160: 0.979, 180: 0.964, 200: 0.944} {
		near(t, "low dialysate flow", saturation(900, 400, qd), want, 0.0005)
	}
}

func TestClearanceThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		koa := rapid.Float64Range(50, 2000).Draw(t, "koa")
		qb := rapid.Float64Range(50, 500).Draw(t, "qb")
		qd := rapid.Float64Range(50, 1000).Draw(t, "qd")
		if rapid.Bool().Draw(t, "nearly equal flows") {
			qd = qb * (1 + rapid.SampledFrom([]float64{0, 1e-16, 1e-12, -1e-9, 1e-6, -1e-3}).Draw(t, "apart"))
		}
		k, err := DiffusiveClearance(koa, qb, qd)
		if err != nil {
			t.Fatal(err)
		}
		if !(k.Value > 0 && k.Value <= math.Min(qb, qd)) {
			t.Fatalf("clearance %v at flows %v and %v", k.Value, qb, qd)
		}
		if k.Value > 0.999*math.Min(qb, qd) {
			return // so near the slower flow that KoA has lost its digits
		}
		back, err := KoA(k.Value, qb, qd)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(back.Value/koa-1) > 1e-9 {
			t.Fatalf("KoA %v gives %v, which gives KoA %v", koa, k.Value, back.Value)
		}
	})
}

// More of anything never lowers the clearance.
func TestClearanceGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		koa := rapid.Float64Range(50, 2000).Draw(t, "koa")
		qb := rapid.Float64Range(50, 500).Draw(t, "qb")
		qd := rapid.Float64Range(50, 1000).Draw(t, "qd")
		more := rapid.Float64Range(1, 1.5).Draw(t, "more")
		at := func(koa, qb, qd float64) float64 {
			k, err := DiffusiveClearance(koa, qb, qd)
			if err != nil {
				t.Fatal(err)
			}
			return k.Value
		}
		least := at(koa, qb, qd) * (1 - 1e-12)
		if at(koa*more, qb, qd) < least || at(koa, qb*more, qd) < least || at(koa, qb, qd*more) < least {
			t.Fatal("a larger dialyser or flow lowered the clearance")
		}
	})
}

func TestDialyserCautionsAndRefusals(t *testing.T) {
	for _, tt := range [][3]float64{{299, 300, 500}, {2001, 300, 500}, {800, 501, 500}, {800, 300, 1001}, {800, 49, 500}} {
		k, err := DiffusiveClearance(tt[0], tt[1], tt[2])
		if err != nil || !hasCode(k.Cautions, "outside_dialysers") {
			t.Errorf("%v: %v, %v; want outside_dialysers", tt, k.Cautions, err)
		}
	}
	for _, k := range []float64{0, -1, 300, 301, math.NaN(), 299.99999999999994} {
		_, err := KoA(k, 300, 500)
		refusedAbout(t, "a clearance past the flow", err, "clearance_ml_min")
	}
	_, err := KoA(499.99999999999994, 800, 500)
	refusedAbout(t, "a clearance past the dialysate flow", err, "clearance_ml_min")
	_, err = DiffusiveClearance(0, 300, 500)
	refusedAbout(t, "no dialyser", err, "koa_ml_min")
	_, err = DiffusiveClearance(800, 0, 500)
	refusedAbout(t, "no blood", err, "blood_flow_ml_min")
	_, err = DiffusiveClearance(800, 300, 0)
	refusedAbout(t, "no dialysate", err, "dialysate_flow_ml_min")
}

func TestTotalClearance(t *testing.T) {
	got, err := TotalClearance(250, 300, 10)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "with fluid removal", got, 251.67, 0.005)
	for _, same := range []float64{0, 250} {
		got, err := TotalClearance(same, 300, 0)
		if err != nil || got != same {
			t.Errorf("nothing removed: %v, %v; want %v", got, err, same)
		}
	}
	_, err = TotalClearance(250, 300, 300)
	refusedAbout(t, "all of the blood removed", err, "removal_ml_min")
	_, err = TotalClearance(301, 300, 10)
	refusedAbout(t, "clearance past the flow", err, "clearance_ml_min")
}

func TestInVivoKoA(t *testing.T) {
	// KoA 1000 at 350 and 500: 286.6 in the laboratory, 268.3 at a share of 0.8.
	for share, want := range map[float64]float64{1: 286.6, 0.8: 268.3} {
		koa, err := InVivoKoA(1000, share)
		if err != nil {
			t.Fatal(err)
		}
		k, err := DiffusiveClearance(koa, 350, 500)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "clearance", k.Value, want, 0.05)
	}
	if InVivoShare < 0.8 || InVivoShare > 0.85 {
		t.Errorf("the usual share is %v, want 0.80 to 0.85", InVivoShare)
	}
	_, err := InVivoKoA(1000, 0.4)
	refusedAbout(t, "share", err, "in_vivo_share")
}
