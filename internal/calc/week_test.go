package calc

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
)

type weekOut struct {
	StdKtV       float64 `json:"stdktv"`
	MeanPre      float64 `json:"mean_pre_mg_ml"`
	TimeAveraged float64 `json:"time_averaged_mg_ml"`
	EKR          float64 `json:"ekr_ml_min"`
	RemovedG     float64 `json:"removed_g"`
	Sessions     []struct {
		Start   float64  `json:"start_min"`
		Pre     float64  `json:"pre_mg_ml"`
		Post    float64  `json:"post_mg_ml"`
		Rebound float64  `json:"rebound60_mg_ml"`
		URR     float64  `json:"urr"`
		SpKtV   *float64 `json:"spktv"`
		EKtV    *float64 `json:"ektv"`
		EKtV60  *float64 `json:"ektv60"`
	}
	Cautions []struct{ Code, Text string }
	Sources  []string
}

// Every reference case, as a person would put it in; computed independently,
// see kinetics/testdata/README.md.
func TestWeekReferenceCases(t *testing.T) {
	raw, err := os.ReadFile("../../kinetics/testdata/week-cases.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Cases []struct {
			ID string
			In struct {
				V       float64 `json:"V_L"`
				FE      float64 `json:"fe"`
				Variant string  `json:"variant"`
				G       float64 `json:"G_mg_min"`
				Kr      float64 `json:"Kr_mL_min"`
				Kc      float64 `json:"Kc_mL_min"`
				Cycle   float64 `json:"cycle_min"`
				Session []struct {
					Start  float64 `json:"start_min"`
					Length float64 `json:"length_min"`
					Kd     float64 `json:"Kd_mL_min"`
					UF     float64 `json:"UF_L"`
				} `json:"sessions"`
			}
			Out struct {
				StdKtV, TAC, MeanPre float64
				EKR                  float64 `json:"EKR_mL_min"`
				Removed              float64 `json:"weekly_removed_g"`
				Sessions             []struct {
					Pre, Post, Reb60, URR, SpKtV, EKtV60, EKtVeq float64
				}
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
		var sessions []map[string]any
		for _, s := range c.In.Session {
			sessions = append(sessions, map[string]any{"start_min": s.Start, "length_min": s.Length, "clearance_ml_min": s.Kd, "removed_l": s.UF})
		}
		slices.Reverse(sessions) // the order must not matter
		fluid := map[string]string{"A": "extracellular", "B": "both"}[c.In.Variant]
		in, err := json.Marshal(map[string]any{
			"urea_volume_l": c.In.V, "extracellular_fraction": c.In.FE, "fluid_from": fluid, "generation_mg_min": c.In.G,
			"residual_clearance_ml_min": c.In.Kr, "transfer_ml_min": c.In.Kc, "cycle_min": c.In.Cycle, "sessions": sessions,
		})
		if err != nil {
			t.Fatal(err)
		}
		var out weekOut
		roomAnswer(t, "week", string(in), &out)
		check := func(what string, got, want float64) {
			if !(math.Abs(got-want) <= 1e-8*math.Abs(want)) {
				t.Errorf("%s: %s = %.12g, want %.12g", c.ID, what, got, want)
			}
		}
		check("stdktv", out.StdKtV, c.Out.StdKtV)
		check("mean pre", out.MeanPre, c.Out.MeanPre)
		check("time-averaged", out.TimeAveraged, c.Out.TAC)
		check("ekr", out.EKR, c.Out.EKR)
		check("removed", out.RemovedG, c.Out.Removed*c.In.Cycle/10080)
		if len(out.Sessions) != len(c.Out.Sessions) {
			t.Fatalf("%s: %d sessions, want %d", c.ID, len(out.Sessions), len(c.Out.Sessions))
		}
		for i, want := range c.Out.Sessions {
			s := out.Sessions[i]
			if s.SpKtV == nil || s.EKtV == nil || s.EKtV60 == nil {
				t.Errorf("%s session %d: a Kt/V is null", c.ID, i)
				continue
			}
			check("pre", s.Pre, want.Pre)
			check("post", s.Post, want.Post)
			check("rebound", s.Rebound, want.Reb60)
			check("urr", s.URR, want.URR)
			check("spktv", *s.SpKtV, want.SpKtV)
			check("ektv", *s.EKtV, want.EKtVeq)
			check("ektv60", *s.EKtV60, want.EKtV60)
		}
	}
}

const plainWeek = `{"urea_volume_l":35,"generation_mg_min":5.35,"transfer_ml_min":560,"cycle_min":10080,"sessions":[
 {"start_min":480,"length_min":240,"clearance_ml_min":230,"removed_l":3},
 {"start_min":3360,"length_min":240,"clearance_ml_min":230,"removed_l":2},
 {"start_min":6240,"length_min":240,"clearance_ml_min":230,"removed_l":2}]}`

func session(start, length, clearance, removed float64) map[string]any {
	return map[string]any{"start_min": start, "length_min": length, "clearance_ml_min": clearance, "removed_l": removed}
}

func TestWeekTakesWhatTouchesAndWraps(t *testing.T) {
	var out weekOut
	for _, tt := range []struct {
		name     string
		sessions []any
	}{
		{"touching", []any{session(480, 120.3, 230, 1), session(600.3, 120.1, 230, 1)}},
		{"over the end of the cycle", []any{session(9900, 240, 230, 3), session(3000, 240, 230, 3)}},
		{"the whole cycle", []any{session(480, 10080, 20, 7)}},
		{"a second long", []any{session(480, 1./60, 2000, 0.001), session(5000, 240, 200, 2)}},
	} {
		roomAnswer(t, "week", with(t, plainWeek, map[string]any{"sessions": tt.sessions}), &out)
		if len(out.Sessions) != len(tt.sessions) || !(out.StdKtV > 0) {
			t.Errorf("%s: %+v", tt.name, out)
		}
	}
}

// A weak session that follows a strong one at once: the rebound lifts the
// level where a single pool of any size would let it fall.
func TestWeekSaysWhereNoSinglePoolFits(t *testing.T) {
	var out weekOut
	roomAnswer(t, "week", with(t, plainWeek, map[string]any{"sessions": []any{session(480, 240, 230, 3), session(720, 30, 20, 0)}}), &out)
	if s := out.Sessions[1]; s.SpKtV != nil || s.Post <= s.Pre {
		t.Errorf("a session of rebound: %+v; want no spktv", s)
	}
	var codes []string
	for _, c := range out.Cautions {
		codes = append(codes, c.Code)
	}
	if !slices.Contains(codes, "no_single_pool") || !slices.Contains(codes, "rebound_in_next_session") {
		t.Errorf("cautions %v", codes)
	}
}

func TestWeekRefuses(t *testing.T) {
	one := func(start, length, clearance, removed float64) []any {
		return []any{session(start, length, clearance, removed)}
	}
	for _, tt := range []struct {
		name, want string
		change     map[string]any
	}{
		{"no volume", "urea_volume_l", map[string]any{"urea_volume_l": 0}},
		{"no generation", "generation_mg_min", map[string]any{"generation_mg_min": 0}},
		{"no transfer", "transfer_ml_min", map[string]any{"transfer_ml_min": 0}},
		{"all outside the cells", "extracellular_fraction", map[string]any{"extracellular_fraction": 1}},
		{"none outside the cells", "extracellular_fraction", map[string]any{"extracellular_fraction": 0}},
		{"fluid from elsewhere", "fluid_from", map[string]any{"fluid_from": "A"}},
		{"negative kidneys", "residual_clearance_ml_min", map[string]any{"residual_clearance_ml_min": -1}},
		{"cycle of nothing", "cycle_min", map[string]any{"cycle_min": 0}},
		{"no session", "sessions", map[string]any{"sessions": []any{}}},
		{"starts after the cycle", "sessions[0].start_min", map[string]any{"sessions": one(10080, 240, 230, 2)}},
		{"no length", "sessions[0].length_min", map[string]any{"sessions": one(480, 0, 230, 2)}},
		{"longer than the cycle", "sessions[0].length_min", map[string]any{"sessions": one(480, 10081, 230, 2)}},
		{"negative removal", "sessions[0].removed_l", map[string]any{"sessions": one(480, 240, 230, -1)}},
		{"nothing cleared", "sessions", map[string]any{"sessions": one(480, 240, 0, 2)}},
		// The one that overlaps was given second and starts first.
		{"overlap", "sessions[1].length_min", map[string]any{"sessions": []any{session(600, 240, 230, 2), session(480, 240, 230, 2)}}},
		{"overlap round the end", "sessions[0].length_min", map[string]any{"sessions": []any{session(10000, 240, 230, 2), session(100, 240, 230, 2)}}},
		{"key of a session", "sessions[0].flow", map[string]any{"sessions": []any{map[string]any{"start_min": 1, "length_min": 1, "clearance_ml_min": 1, "removed_l": 1, "flow": 1}}}},
	} {
		t.Run(tt.name, func(t *testing.T) { mustRefuse(t, "week", with(t, plainWeek, tt.change), tt.want) })
	}
	mustKnowItsKeys(t, "week", plainWeek)
}

func TestWeekExplains(t *testing.T) {
	topic, _ := Find("week")
	a, err := topic.Answer(strings.NewReader(topic.Example))
	if err != nil {
		t.Fatal(err)
	}
	for _, term := range []string{"fluid gained", "standard Kt/V", "time-averaged", "EKR", "removed by the dialyser", "session at 480"} {
		if !slices.ContainsFunc(a.Steps, func(s Step) bool { return strings.Contains(s.Term, term) && s.Source != "" }) {
			t.Errorf("no step, or none with a source, explains %q", term)
		}
	}
}
