package calc

import "ebbline/fluid"

func init() {
	register(Topic{
		Name:    "drawup",
		Summary: "the volume that holds a prescribed dose at the strength on the vial",
		Example: `{"dose": {"value": 1500, "unit": "IU"}, "strength": {"value": 1000, "unit": "IU/mL"}, "dilute_to_ml": 20}`,
		Run:     runDrawup,
	})
}

func runDrawup(o *Object) (Answer, error) {
	in := fluid.DrawInput{
		Dose:     readAmount(o, "dose", fluid.DoseUnits()),
		Strength: readAmount(o, "strength", fluid.StrengthUnits()),
	}
	readExactIf(o, "dilute_to_ml", fluid.DiluteToMl(), &in.DiluteTo)
	if err := o.Done(); err != nil {
		return Answer{}, err
	}
	d, err := fluid.Draw(in)
	if err != nil {
		return Answer{}, refused(err)
	}
	steps := []Step{
		{Term: "dose", Value: num(in.Dose.Value) + " " + in.Dose.Unit, Formula: "as prescribed"},
		{Term: "strength", Value: num(in.Strength.Value) + " " + in.Strength.Unit, Formula: "as on the vial in hand"},
		{"draw up", ml(d.DrawMl), drawFormula(in.Strength.Unit), "common practice"},
	}
	if d.DiluentMl != nil {
		steps = append(steps,
			Step{"diluent", ml(*d.DiluentMl), in.DiluteTo.String() + " mL − draw up", "common practice"},
			Step{"strength once made up", sig(d.Final.Value, 6) + " " + d.Final.Unit, "strength × draw up / " + in.DiluteTo.String() + " mL", "common practice"})
	}
	return Answer{Out: d, Cautions: d.Cautions, Sources: []string{"common practice; 1 % is 1 g in 100 mL by definition"}, Steps: steps}, nil
}

func drawFormula(strength string) string {
	if strength == fluid.Percent {
		return "dose / (strength × 10 mg/mL)"
	}
	return "dose / strength"
}

// readAmount reads {"value", "unit"}. The range is that of any dose; what a
// percentage can be the room knows.
func readAmount(o *Object, key string, units []string) fluid.Amount {
	inner := o.Object(key)
	if !o.Has(key) {
		return fluid.Amount{}
	}
	a := fluid.Amount{
		Value: inner.Float("value", fluid.DoseValue().Low, fluid.DoseValue().High),
		Unit:  inner.Word("unit", units...),
	}
	inner.Close()
	return a
}
