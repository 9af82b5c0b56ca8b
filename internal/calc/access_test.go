package calc

import (
	"math"
	"strings"
	"testing"
)

func TestAccess(t *testing.T) {
	var out struct {
		MmHg     float64 `json:"intra_access_mmhg"`
		Ratio    float64 `json:"ratio"`
		Cautions []struct{ Code string }
		Sources  []string
	}
	// Worked by hand: 40 + 0.35·30 + 3.4 = 53.9; 53.9/95 = 0.567.
	roomAnswer(t, "access", `{"venous_chamber_mmhg":40,"height_cm":30,"mean_arterial_mmhg":95}`, &out)
	if math.Abs(out.MmHg-53.9) > 1e-9 || math.Abs(out.Ratio-0.56737) > 5e-6 || len(out.Cautions) != 1 || len(out.Sources) != 1 {
		t.Errorf("access = %+v", out)
	}
	roomAnswer(t, "access", `{"venous_chamber_mmhg":15,"height_cm":30,"mean_arterial_mmhg":95}`, &out)
	if len(out.Cautions) != 0 {
		t.Errorf("a low ratio carries cautions: %+v", out.Cautions)
	}
	topic, _ := Find("access")
	for _, bad := range []string{
		`{"venous_chamber_mmhg":40,"height_cm":30}`,
		`{"venous_chamber_mmhg":40,"height_cm":30,"mean_arterial_mmhg":0}`,
		`{"venous_chamber_mmhg":40,"height_cm":3000,"mean_arterial_mmhg":95}`,
		`{"venous_chamber_mmhg":"40","height_cm":30,"mean_arterial_mmhg":95}`,
		`{"venous_chamber_mmhg":40,"height_cm":30,"mean_arterial_mmhg":95,"map":95}`,
	} {
		if _, err := topic.Answer(strings.NewReader(bad)); err == nil {
			t.Errorf("%s was answered", bad)
		}
	}
}
