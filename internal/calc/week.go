package calc

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"ebbline/kinetics"
	"ebbline/unit"
)

func init() {
	register(Topic{
		Name:    "week",
		Summary: "a schedule in its steady state by the two-pool urea model: standard Kt/V, levels and each session's Kt/V",
		Example: `{"urea_volume_l": 35, "generation_mg_min": 5.35, "residual_clearance_ml_min": 0, "transfer_ml_min": 560, "cycle_min": 10080,
 "sessions": [{"start_min": 480, "length_min": 240, "clearance_ml_min": 230, "removed_l": 3.4},
  {"start_min": 3360, "length_min": 240, "clearance_ml_min": 230, "removed_l": 2.3},
  {"start_min": 6240, "length_min": 240, "clearance_ml_min": 230, "removed_l": 2.3}]}`,
		Run: runWeek,
	})
}

type weekAnswer struct {
	StdKtV           float64       `json:"stdktv"`
	MeanPreMgMl      float64       `json:"mean_pre_mg_ml"`
	TimeAveragedMgMl float64       `json:"time_averaged_mg_ml"`
	EKRMlMin         float64       `json:"ekr_ml_min"`
	RemovedG         float64       `json:"removed_g"`
	Sessions         []weekSession `json:"sessions"`
}

// The Kt/V are null where no single pool goes from pre to that level.
type weekSession struct {
	StartMin      float64  `json:"start_min"`
	PreMgMl       float64  `json:"pre_mg_ml"`
	PostMgMl      float64  `json:"post_mg_ml"`
	Rebound60MgMl float64  `json:"rebound60_mg_ml"`
	URR           float64  `json:"urr"`
	SpKtV         *float64 `json:"spktv"`
	EKtV          *float64 `json:"ektv"`
	EKtV60        *float64 `json:"ektv60"`
}

// A placedSession is a session with its place in the list as given.
type placedSession struct {
	kinetics.CycleSession
	given int
}

func runWeek(in *Object) (Answer, error) {
	p := readPools(in)
	p.VolumeL = in.Float("urea_volume_l", 1, 200)
	p.GenerationMgMin = in.FloatAbove("generation_mg_min", 0, 1000)
	cycle := kinetics.Cycle{LengthMin: in.Float("cycle_min", 60, 525600)}
	var placed []placedSession
	in.Objects("sessions", 1, 200, func(i int, item *Object) {
		placed = append(placed, placedSession{kinetics.CycleSession{
			StartMin:       item.Float("start_min", 0, 525600),
			LengthMin:      item.FloatAbove("length_min", 0, 525600),
			ClearanceMlMin: item.Float("clearance_ml_min", 0, 2000),
			RemovedL:       item.Float("removed_l", 0, 100),
		}, i})
	})
	if err := in.Done(); err != nil {
		return Answer{}, err
	}
	slices.SortStableFunc(placed, func(a, b placedSession) int {
		switch {
		case a.StartMin < b.StartMin:
			return -1
		case a.StartMin > b.StartMin:
			return 1
		}
		return 0
	})
	for _, s := range placed {
		cycle.Sessions = append(cycle.Sessions, s.CycleSession)
	}
	s, err := p.Steady(cycle, nil)
	if err != nil {
		return Answer{}, refused(asGiven(err, placed))
	}
	return weekAnswerOf(p, cycle, s), nil
}

// readPools reads what the topics of the two-pool model share. The volume and
// the generation are left to the caller.
func readPools(in *Object) kinetics.Pools {
	p := kinetics.Pools{
		ExtracellularFraction: in.FloatOr("extracellular_fraction", kinetics.UsualExtracellularFraction, 0.001, 0.999),
		ResidualMlMin:         in.FloatOr("residual_clearance_ml_min", 0, 0, 200),
		TransferMlMin:         in.FloatAbove("transfer_ml_min", 0, 100000),
	}
	if in.WordOr("fluid_from", "extracellular", "extracellular", "both") == "both" {
		p.Fluid = kinetics.FromBoth
	}
	return p
}

// asGiven puts the place that a session had in the input into a refusal that
// names its place in order of start.
func asGiven(err error, placed []placedSession) error {
	ie := (*unit.InputError)(nil)
	if !errors.As(err, &ie) {
		return err
	}
	rest, ok := strings.CutPrefix(ie.Field, "sessions[")
	var i int
	if _, scanErr := fmt.Sscanf(rest, "%d]", &i); !ok || scanErr != nil || i >= len(placed) {
		return err
	}
	_, key, _ := strings.Cut(rest, "].")
	return &unit.InputError{Field: fmt.Sprintf("sessions[%d].%s", placed[i].given, key), Got: ie.Got, Want: ie.Want}
}

const weekSource = "Gotch, Sargent, Kidney Int 1985;28:526-34; Schneditz, Daugirdas, ASAIO J 1994;40:M667-73 (from memory)"

func weekAnswerOf(p kinetics.Pools, cycle kinetics.Cycle, s kinetics.Steady) Answer {
	out := weekAnswer{
		StdKtV: s.StdKtV, MeanPreMgMl: s.MeanPre, TimeAveragedMgMl: s.TimeAveraged,
		EKRMlMin: s.EKRMlMin, RemovedG: s.RemovedG, Sessions: []weekSession{},
	}
	for _, l := range s.Sessions {
		out.Sessions = append(out.Sessions, weekSession{
			StartMin: l.StartMin, PreMgMl: l.Pre, PostMgMl: l.Post, Rebound60MgMl: l.Rebound60, URR: l.URR,
			SpKtV: ktvOrNull(l.SpKtV), EKtV: ktvOrNull(l.EKtV), EKtV60: ktvOrNull(l.EKtV60),
		})
	}
	return Answer{
		Out:      out,
		Cautions: kinetics.CycleCautions(cycle, s),
		Sources:  []string{weekSource, "Gotch, Nephrol Dial Transplant 1998;13 Suppl 6:10-4 (standard Kt/V by definition; from memory)"},
		Steps:    weekSteps(p, cycle, s),
	}
}

func ktvOrNull(k kinetics.KtV) *float64 {
	if !k.Exists {
		return nil
	}
	return &k.Value
}

func weekSteps(p kinetics.Pools, cycle kinetics.Cycle, s kinetics.Steady) []Step {
	const gotch = "Gotch, Nephrol Dial Transplant 1998;13 Suppl 6:10-4 (from memory)"
	steps := []Step{
		{"fluid gained", sig(cycle.GainMlMin(), 4) + " mL/min", "all that is removed in the cycle, evenly over " + num(cycle.LengthMin) + " min", "definition"},
		{"the model", "two pools", "d(Vo·Co)/dt = G − (K + Kr)·Co + Kc·(Ci − Co), d(Vi·Ci)/dt = −Kc·(Ci − Co)", weekSource},
		{"mean pre", sig(s.MeanPre, 4) + " mg/mL", "mean of the sessions' pre, urea nitrogen of the extracellular pool", "definition"},
		{"standard Kt/V", sig(s.StdKtV, 4) + " a week", fmt.Sprintf("(%s mg/min / mean pre) / %s L × 10080 min", sig(p.GenerationMgMin, 4), num(p.VolumeL)), gotch},
		{"time-averaged", sig(s.TimeAveraged, 4) + " mg/mL", "∫ Co dt / cycle", "definition"},
		{"EKR, equivalent clearance", sig(s.EKRMlMin, 4) + " mL/min", "G / time-averaged", "definition"},
		{"removed by the dialyser", sig(s.RemovedG, 4) + " g", "Σ ∫ K·Co dt over the sessions", "definition"},
		{"removed by the kidneys", sig(s.ResidualG, 4) + " g", "∫ Kr·Co dt", "definition"},
	}
	for _, l := range s.Sessions {
		value := fmt.Sprintf("%s to %s mg/mL", sig(l.Pre, 4), sig(l.Post, 4))
		if l.SpKtV.Exists {
			value += ", spKt/V " + sig(l.SpKtV.Value, 4)
		}
		if l.EKtV.Exists {
			value += ", eKt/V " + sig(l.EKtV.Value, 4)
		}
		steps = append(steps, Step{"session at " + num(l.StartMin) + " min", value,
			"Kt/V = K·t/V′, V′ the one pool that goes from pre to post (sp) or to the mixed level at the end (e)", "definition"})
	}
	return steps
}
