package calc

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
)

type fitOut struct {
	V        float64 `json:"urea_volume_l"`
	G        float64 `json:"generation_mg_min"`
	Cautions []struct{ Code, Text string }
	Sources  []string
}

// Clean samples of known persons; computed independently, see
// kinetics/testdata/README.md.
func TestFitReferenceCases(t *testing.T) {
	raw, err := os.ReadFile("../../kinetics/testdata/fit-cases.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Cases []struct {
			ID      string
			Problem struct {
				Variant string
				FE      float64 `json:"fe"`
				Kd      float64 `json:"Kd_mL_min"`
				Kr      float64 `json:"Kr_mL_min"`
				Kc      float64 `json:"Kc_mL_min"`
				Length  float64 `json:"length_min"`
				UF      float64 `json:"UF_L"`
				Gain    float64 `json:"b_mL_min"`
				Above   float64 `json:"post_above_dry_L"`
				After   float64 `json:"next_pre_after_min"`
				Pre     float64
				Post    float64
				NextPre float64 `json:"next_pre"`
			}
			Truth struct {
				V float64 `json:"V_L"`
				G float64 `json:"G_mg_min"`
			}
		}
	}
	if err := json.Unmarshal(raw, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Cases) == 0 {
		t.Fatal("no reference case")
	}
	for _, c := range file.Cases {
		p := c.Problem
		in, err := json.Marshal(map[string]any{
			"extracellular_fraction": p.FE, "fluid_from": map[string]string{"A": "extracellular", "B": "both"}[p.Variant],
			"residual_clearance_ml_min": p.Kr, "transfer_ml_min": p.Kc, "clearance_ml_min": p.Kd, "length_min": p.Length,
			"removed_l": p.UF, "gain_ml_min": p.Gain, "post_above_lowest_l": p.Above, "next_pre_after_min": p.After,
			"pre_mg_ml": p.Pre, "post_mg_ml": p.Post, "next_pre_mg_ml": p.NextPre,
		})
		if err != nil {
			t.Fatal(err)
		}
		var out fitOut
		roomAnswer(t, "fit", string(in), &out)
		if math.Abs(out.V-c.Truth.V) > 1e-8*c.Truth.V || math.Abs(out.G-c.Truth.G) > 1e-8*c.Truth.G {
			t.Errorf("%s: %v L and %v mg/min, want %+v", c.ID, out.V, out.G, c.Truth)
		}
	}
}

const plainFit = `{"transfer_ml_min": 560, "clearance_ml_min": 230, "length_min": 240, "removed_l": 2.3, "gain_ml_min": 0.75,
 "next_pre_after_min": 2640, "pre_mg_ml": 0.606, "post_mg_ml": 0.163, "next_pre_mg_ml": 0.563}`

func TestFitCautions(t *testing.T) {
	var out fitOut
	roomAnswer(t, "fit", plainFit, &out)
	if !slices.ContainsFunc(out.Cautions, func(c struct{ Code, Text string }) bool { return c.Code == "volume_as_good_as_clearance" }) {
		t.Errorf("cautions %v", out.Cautions)
	}
	// A quarter of the clearance is a quarter of the volume, which nobody has.
	roomAnswer(t, "fit", with(t, plainFit, map[string]any{"clearance_ml_min": 57}), &out)
	if !slices.ContainsFunc(out.Cautions, func(c struct{ Code, Text string }) bool { return c.Code == "volume_unlikely" }) {
		t.Errorf("%.1f L with cautions %v", out.V, out.Cautions)
	}
}

func TestFitRefuses(t *testing.T) {
	for _, tt := range []struct {
		name, want string
		change     map[string]any
	}{
		{"tubes swapped", "post_mg_ml", map[string]any{"pre_mg_ml": 0.163, "post_mg_ml": 0.606}},
		{"no fall", "post_mg_ml", map[string]any{"post_mg_ml": 0.606}},
		{"post of saline", "post_mg_ml", map[string]any{"post_mg_ml": 0.0001, "clearance_ml_min": 30}},
		{"next below what is left", "next_pre_mg_ml", map[string]any{"next_pre_mg_ml": 0.17}},
		{"zero", "pre_mg_ml", map[string]any{"pre_mg_ml": 0}},
		{"no clearance", "clearance_ml_min", map[string]any{"clearance_ml_min": 0}},
		{"negative gain", "gain_ml_min", map[string]any{"gain_ml_min": -0.1}},
		{"mg/dL for mg/mL", "pre_mg_ml", map[string]any{"pre_mg_ml": 60.6}},
	} {
		t.Run(tt.name, func(t *testing.T) { mustRefuse(t, "fit", with(t, plainFit, tt.change), tt.want) })
	}
	mustKnowItsKeys(t, "fit", plainFit)
}

func TestFitExplains(t *testing.T) {
	topic, _ := Find("fit")
	a, err := topic.Answer(strings.NewReader(topic.Example))
	if err != nil {
		t.Fatal(err)
	}
	for _, term := range []string{"before the session", "urea volume", "generation", "clearance 1 % higher", "samples each 3 % off"} {
		if !slices.ContainsFunc(a.Steps, func(s Step) bool { return strings.Contains(s.Term, term) && s.Source != "" }) {
			t.Errorf("no step, or none with a source, explains %q", term)
		}
	}
}
