package calc

import (
	"math"
	"testing"
)

func TestProtein(t *testing.T) {
	var out struct {
		NPCR     float64 `json:"npcr_g_kg_day"`
		Cautions []struct{ Code string }
	}
	// Worked by an independent script with the five sets of Depner and
	// Daugirdas 1996.
	for _, tt := range []struct {
		in   string
		want float64
	}{
		{`{"pre_bun_mg_dl":70,"spktv":1.4,"sessions_per_week":3,"position":"first"}`, 1.0197},
		{`{"pre_bun_mg_dl":60,"spktv":1.4,"sessions_per_week":3,"position":"middle"}`, 1.0543},
		{`{"pre_bun_mg_dl":56,"spktv":1.4,"sessions_per_week":3,"position":"last"}`, 1.0605},
		{`{"pre_bun_mg_dl":90,"spktv":1.6,"sessions_per_week":2,"position":"first"}`, 1.0203},
		{`{"pre_bun_mg_dl":78,"spktv":1.6,"sessions_per_week":2,"position":"last"}`, 1.0274},
		// 74.9143 stands for 60 with a residual clearance of 3 in 35 L.
		{`{"pre_bun_mg_dl":60,"spktv":1.4,"sessions_per_week":3,"position":"middle","residual_clearance_ml_min":3,"urea_volume_l":35}`,
			74.9142857/(25.8+1.15*1.4+56.4/1.4) + 0.168},
	} {
		roomAnswer(t, "protein", tt.in, &out)
		if math.Abs(out.NPCR-tt.want) > 0.00005 || len(out.Cautions) != 0 {
			t.Errorf("%s = %v, cautions %v; want %v and none", tt.in, out.NPCR, out.Cautions, tt.want)
		}
	}
	// 20 mmol/L typed where mg/dL of nitrogen is asked for reads far too low.
	roomAnswer(t, "protein", `{"pre_bun_mg_dl":10,"spktv":1.4,"sessions_per_week":3,"position":"middle"}`, &out)
	if len(out.Cautions) != 1 || out.Cautions[0].Code != "npcr_outside_fit" {
		t.Errorf("a urea in the wrong unit: %v, cautions %v; want npcr_outside_fit", out.NPCR, out.Cautions)
	}
}

func TestProteinRefuses(t *testing.T) {
	plain := `{"pre_bun_mg_dl":60,"spktv":1.4,"sessions_per_week":3,"position":"middle"}`
	for _, tt := range []struct {
		key    string
		change map[string]any
	}{
		{"pre_bun_mg_dl", map[string]any{"pre_bun_mg_dl": 0}},
		{"spktv", map[string]any{"spktv": 0}},
		{"sessions_per_week", map[string]any{"sessions_per_week": 4}},
		{"sessions_per_week", map[string]any{"sessions_per_week": 2.5}},
		{"position", map[string]any{"position": "midweek"}},
		{"position", map[string]any{"sessions_per_week": 2}},
		{"urea_volume_l", map[string]any{"residual_clearance_ml_min": 2}},
	} {
		mustRefuse(t, "protein", with(t, plain, tt.change), tt.key)
	}
	mustKnowItsKeys(t, "protein", plain)
}
