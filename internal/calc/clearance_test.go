package calc

import (
	"math"
	"testing"
)

type clearanceOut struct {
	KoA       float64 `json:"koa_ml_min"`
	Diffusive float64 `json:"diffusive_ml_min"`
	Total     float64 `json:"total_ml_min"`
	Cautions  []struct{ Code string }
}

func TestClearance(t *testing.T) {
	var out clearanceOut
	for _, tt := range []struct {
		in                    string
		koa, diffusive, total float64
		within                float64
		source                string
	}{
		{`{"clearance_ml_min":280,"blood_flow_ml_min":400,"dialysate_flow_ml_min":500}`, 766, 280, 280, 0.5, "Yale teaching site, case 2"},
		{`{"koa_ml_min":800,"blood_flow_ml_min":300,"dialysate_flow_ml_min":500}`, 800, 247.95, 247.95, 0.005, "independent script"},
		{`{"koa_ml_min":1000,"blood_flow_ml_min":300,"dialysate_flow_ml_min":300}`, 1000, 230.76923, 230.76923, 1e-5, "N/(1+N) by hand"},
		{`{"clearance_ml_min":250,"blood_flow_ml_min":300,"dialysate_flow_ml_min":500,"removal_ml_min":10}`, 823.9592, 250, 251.6667, 0.0005, "750·ln 3 and 250·(1−10/300)+10 by hand"},
		{`{"clearance_ml_min":230.76923,"blood_flow_ml_min":300,"dialysate_flow_ml_min":300}`, 1000, 230.76923, 230.76923, 1e-4, "the other way"},
	} {
		roomAnswer(t, "clearance", tt.in, &out)
		if math.Abs(out.KoA-tt.koa) > tt.within || math.Abs(out.Diffusive-tt.diffusive) > tt.within || math.Abs(out.Total-tt.total) > tt.within {
			t.Errorf("%s = %+v, want %v %v %v ± %v (%s)", tt.in, out, tt.koa, tt.diffusive, tt.total, tt.within, tt.source)
		}
	}
	roomAnswer(t, "clearance", `{"koa_ml_min":80,"blood_flow_ml_min":300,"dialysate_flow_ml_min":500}`, &out)
	if len(out.Cautions) != 1 || out.Cautions[0].Code != "outside_dialysers" {
		t.Errorf("a KoA of 80: cautions %v, want outside_dialysers", out.Cautions)
	}
}

func TestClearanceRefuses(t *testing.T) {
	plain := `{"koa_ml_min":800,"blood_flow_ml_min":300,"dialysate_flow_ml_min":500}`
	mustRefuse(t, "clearance", with(t, plain, map[string]any{"clearance_ml_min": 250}), "clearance_ml_min")
	mustRefuse(t, "clearance", with(t, plain, map[string]any{"koa_ml_min": 0}), "koa_ml_min")
	mustRefuse(t, "clearance", with(t, plain, map[string]any{"removal_ml_min": 300}), "removal_ml_min")
	mustRefuse(t, "clearance", with(t, plain, map[string]any{"removal_ml_min": -1}), "removal_ml_min")
	byClearance := `{"clearance_ml_min":250,"blood_flow_ml_min":300,"dialysate_flow_ml_min":500}`
	for _, over := range []float64{300, 300.5, 299.9999999999} {
		mustRefuse(t, "clearance", with(t, byClearance, map[string]any{"clearance_ml_min": over}), "clearance_ml_min")
	}
	mustRefuse(t, "clearance", with(t, byClearance, map[string]any{"dialysate_flow_ml_min": 200}), "clearance_ml_min")
	mustKnowItsKeys(t, "clearance", plain)
}
