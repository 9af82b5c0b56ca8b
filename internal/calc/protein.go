package calc

import (
	"fmt"

	"ebbline/kinetics"
	"ebbline/unit"
)

func init() {
	register(Topic{
		Name:    "protein",
		Summary: "nPCR, the protein broken down, from the urea before one session of the week",
		Example: `{"pre_bun_mg_dl": 60, "spktv": 1.4, "sessions_per_week": 3, "position": "middle"}`,
		Run:     runProtein,
	})
}

type proteinAnswer struct {
	NPCR float64 `json:"npcr_g_kg_day"`
}

func runProtein(in *Object) (Answer, error) {
	p := kinetics.ProteinSample{
		Pre:     unit.BUN(in.FloatAbove("pre_bun_mg_dl", 0, 840)),
		SpKtV:   in.FloatAbove("spktv", 0, 50),
		PerWeek: int(in.Int("sessions_per_week", 2, 3)),
		Position: kinetics.Position(in.Word("position",
			string(kinetics.FirstOfWeek), string(kinetics.MiddleOfWeek), string(kinetics.LastOfWeek))),
		ResidualMlMin: in.FloatOr("residual_clearance_ml_min", 0, 0, 150),
	}
	volume := in.FloatIf("urea_volume_l", 1, 250)
	if volume != nil {
		p.VolumeL = *volume
	}
	if p.ResidualMlMin > 0 && volume == nil {
		in.Refuse("urea_volume_l", "is missing; accepted with residual clearance is a number from 1 to 250")
	}
	if p.PerWeek == 2 && p.Position == kinetics.MiddleOfWeek {
		in.Refuse("position", `"middle" is not accepted at 2 sessions a week; accepted are first, last`)
	}
	if err := in.Done(); err != nil {
		return Answer{}, err
	}
	pre, err := kinetics.CorrectedPre(p)
	if err != nil {
		return Answer{}, refused(err)
	}
	npcr, err := kinetics.NPCR(p)
	if err != nil {
		return Answer{}, refused(err)
	}
	const source = "Depner and Daugirdas, J Am Soc Nephrol 1996;7:780-5 (constants from memory)"
	a := Answer{Out: proteinAnswer{npcr.Value}, Cautions: npcr.Cautions, Sources: []string{source}}
	if p.ResidualMlMin > 0 {
		a.Steps = append(a.Steps, Step{"C0', without the kidneys", sig(pre.BUNMgPerDL(), 5) + " mg/dL",
			residualFormula(p.PerWeek), source})
	}
	set, err := kinetics.NPCRConstants(p.PerWeek, p.Position)
	if err != nil {
		return Answer{}, refused(err)
	}
	a.Steps = append(a.Steps,
		Step{"nPCR", sig(npcr.Value, 4) + " g/kg/day",
			fmt.Sprintf("C0/(%s + %s·Kt/V + %s/(Kt/V)) + 0.168", num(set[0]), num(set[1]), num(set[2])), source},
		Step{"how near", "", "some 5 % high against a two-pool model; 0.1 g/kg is not a change", "computed"})
	return a, nil
}

func residualFormula(perWeek int) string {
	if perWeek == 2 {
		return "C0·(1 + (1.15 + 4.56/(Kt/V))·Kr/V)"
	}
	return "C0·(1 + (0.70 + 3.08/(Kt/V))·Kr/V)"
}
