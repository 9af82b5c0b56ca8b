package calc

import (
	"math"
	"testing"
)

func TestPhosphate(t *testing.T) {
	var out struct {
		End      float64 `json:"end_mmol_l"`
		After60  float64 `json:"after60_mmol_l"`
		Removed  float64 `json:"removed_mmol"`
		Cautions []struct{ Code string }
	}
	// Worked by an independent script that integrates the equations.
	for _, tt := range []struct {
		in                   string
		end, after60, amount float64
	}{
		{`{"pre_mmol_l":1.8,"mobilisation_ml_min":99,"volume_l":11.9,"clearance_ml_min":150,"removed_l":2.5,"session_min":240}`, 0.7603, 1.1688, 35.93},
		{`{"pre_mmol_l":1.8,"volume_l":9.4,"clearance_ml_min":130,"removed_l":2.5,"session_min":240}`, 0.7677, 1.2076, 31.02},
		{`{"pre_mmol_l":1.8,"volume_l":9.4,"clearance_ml_min":100,"removed_l":1.5,"session_min":150}`, 0.9513, 1.3130, 18.27},
		{`{"pre_mmol_l":1.8,"volume_l":9.4,"clearance_ml_min":90,"removed_l":1.5,"session_min":480}`, 0.9009, 1.2840, 43.89},
	} {
		roomAnswer(t, "phosphate", tt.in, &out)
		if math.Abs(out.End-tt.end) > 0.00005 || math.Abs(out.After60-tt.after60) > 0.00005 || math.Abs(out.Removed-tt.amount) > 0.005 {
			t.Errorf("%s = %+v, want %v, %v, %v", tt.in, out, tt.end, tt.after60, tt.amount)
		}
		if len(out.Cautions) != 1 || out.Cautions[0].Code != "phosphate_model" {
			t.Errorf("%s: cautions %v, want phosphate_model", tt.in, out.Cautions)
		}
	}
}

func TestPhosphateRefuses(t *testing.T) {
	plain := `{"pre_mmol_l":1.8,"volume_l":9.4,"clearance_ml_min":130,"removed_l":2.5,"session_min":240}`
	for key, bad := range map[string]any{
		"pre_mmol_l": 0, "volume_l": 0, "clearance_ml_min": -1, "removed_l": -1, "session_min": 0, "mobilisation_ml_min": -1,
	} {
		mustRefuse(t, "phosphate", with(t, plain, map[string]any{key: bad}), key)
	}
	mustKnowItsKeys(t, "phosphate", plain)
}
