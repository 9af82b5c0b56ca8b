package calc

import "ebbline/kinetics"

func init() {
	register(Topic{
		Name:    "body",
		Summary: "body water by three equations and body surface by four",
		Example: `{"sex": "male", "age_y": 60, "height_cm": 170, "weight_kg": 70, "diabetes": false}`,
		Run:     runBody,
	})
}

type bodyAnswer struct {
	WatsonL     float64 `json:"watson_l"`
	HumeWeyersL float64 `json:"hume_weyers_l"`
	ChertowL    float64 `json:"chertow_l"`
	DuBoisM2    float64 `json:"bsa_du_bois_m2"`
	GehanM2     float64 `json:"bsa_gehan_george_m2"`
	HaycockM2   float64 `json:"bsa_haycock_m2"`
	MostellerM2 float64 `json:"bsa_mosteller_m2"`
}

func runBody(in *Object) (Answer, error) {
	p := kinetics.Person{
		Sex:      kinetics.Sex(in.Word("sex", string(kinetics.Female), string(kinetics.Male))),
		AgeY:     in.Float("age_y", 0, 130),
		HeightCm: in.Float("height_cm", 30, 260),
		WeightKg: in.Float("weight_kg", 1, 500),
		Diabetes: in.Bool("diabetes", false),
	}
	if err := in.Done(); err != nil {
		return Answer{}, err
	}
	var out bodyAnswer
	var a Answer
	for _, water := range []struct {
		to      *float64
		by      func(kinetics.Person) (kinetics.Figure, error)
		term    string
		formula string
		source  string
	}{
		{&out.WatsonL, kinetics.Watson, "body water, Watson", watsonFormula(p.Sex), "Watson, Watson, Batt, Am J Clin Nutr 1980;33:27-39"},
		{&out.HumeWeyersL, kinetics.HumeWeyers, "body water, Hume and Weyers", humeFormula(p.Sex), "Hume and Weyers, J Clin Pathol 1971;24:234"},
		{&out.ChertowL, kinetics.Chertow, "body water, Chertow", "H·(0.00186104·W + 0.12703384) + W·(0.11262857·M + 0.00104135·A − 0.00067247·W − 0.04012056) − A·(0.03486146·M + 0.07493713) − 1.01767992·M + 0.57894981·D",
			"Chertow et al., Kidney Int 1997;51:1578-82 (one coefficient from memory)"},
	} {
		f, err := water.by(p)
		if err != nil {
			return Answer{}, refused(err)
		}
		*water.to = f.Value
		a.Cautions = f.Cautions // the same for all three: they speak of the person
		a.Sources = append(a.Sources, water.source)
		a.Steps = append(a.Steps, Step{water.term, sig(f.Value, 5) + " L", water.formula, water.source})
	}
	for _, surface := range []struct {
		to      *float64
		by      func(heightCm, weightKg float64) (float64, error)
		term    string
		formula string
		source  string
	}{
		{&out.DuBoisM2, kinetics.DuBois, "body surface, Du Bois", "0.007184·H^0.725·W^0.425", "Du Bois and Du Bois 1916"},
		{&out.GehanM2, kinetics.GehanGeorge, "body surface, Gehan and George", "0.0235·H^0.42246·W^0.51456", "Gehan and George 1970"},
		{&out.HaycockM2, kinetics.Haycock, "body surface, Haycock", "0.024265·H^0.3964·W^0.5378", "Haycock et al. 1978"},
		{&out.MostellerM2, kinetics.Mosteller, "body surface, Mosteller", "√(H·W/3600)", "Mosteller 1987"},
	} {
		v, err := surface.by(p.HeightCm, p.WeightKg)
		if err != nil {
			return Answer{}, refused(err)
		}
		*surface.to = v
		a.Sources = append(a.Sources, surface.source)
		a.Steps = append(a.Steps, Step{surface.term, sig(v, 5) + " m²", surface.formula, surface.source})
	}
	a.Out = out
	return a, nil
}

func watsonFormula(s kinetics.Sex) string {
	if s == kinetics.Male {
		return "2.447 − 0.09516·A + 0.1074·H + 0.3362·W"
	}
	return "−2.097 + 0.1069·H + 0.2466·W"
}

func humeFormula(s kinetics.Sex) string {
	if s == kinetics.Male {
		return "0.194786·H + 0.296785·W − 14.012934"
	}
	return "0.344547·H + 0.183809·W − 35.270121"
}
