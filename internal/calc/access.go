package calc

import (
	"fmt"

	"ebbline/access"
)

func init() {
	register(Topic{
		Name:    "access",
		Summary: "pressure inside the access by the static test, and its ratio",
		Example: `{"venous_chamber_mmhg": 22, "height_cm": 30, "mean_arterial_mmhg": 95}`,
		Run:     runAccess,
	})
}

type accessAnswer struct {
	IntraAccess float64 `json:"intra_access_mmhg"`
	Ratio       float64 `json:"ratio"`
}

func runAccess(in *Object) (Answer, error) {
	test := access.Static{
		ChamberMmHg: in.Float("venous_chamber_mmhg", -200, 600),
		HeightCm:    in.Float("height_cm", -100, 200),
		MeanMmHg:    in.FloatAbove("mean_arterial_mmhg", 0, 300),
	}
	if err := in.Done(); err != nil {
		return Answer{}, err
	}
	got, err := test.Estimate()
	if err != nil {
		return Answer{}, refused(err)
	}
	return Answer{
		Out:      accessAnswer{IntraAccess: got.MmHg, Ratio: got.Ratio},
		Cautions: got.Cautions,
		Sources:  []string{access.SourceStatic},
		Steps: []Step{
			{Term: "venous chamber, pump stopped", Value: num(test.ChamberMmHg) + " mmHg"},
			{Term: "height of the chamber above the needle", Value: num(test.HeightCm) + " cm"},
			{Term: "pressure in the access", Value: fmt.Sprintf("%.1f mmHg", got.MmHg), Formula: "chamber + 0.35 × height + 3.4", Source: access.SourceStatic},
			{Term: "ratio", Value: fmt.Sprintf("%.3f", got.Ratio), Formula: "pressure in the access / mean arterial pressure (" + num(test.MeanMmHg) + " mmHg); caution above 0.5", Source: access.SourceStatic},
		},
	}, nil
}
