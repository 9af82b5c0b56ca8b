package calc

import (
	"fmt"

	"ebbline/kinetics"
	"ebbline/unit"
)

func init() {
	register(Topic{
		Name:    "dose",
		Summary: "what one session achieved: URR and each Kt/V, with the target of the schedule",
		Example: `{"pre_urea": {"value": 25, "unit": "mmol/L"}, "post_urea": {"value": 7.5, "unit": "mmol/L"},
 "session_min": 240, "removed_l": 3, "post_weight_kg": 70, "sessions_per_week": 3,
 "days_since_previous": 2, "access": "av", "urea_volume_l": 38.5,
 "residual_clearance_ml_min": 0, "weekly_removed_l": 7.5}`,
		Run: runDose,
	})
}

type doseAnswer struct {
	URR        float64    `json:"urr"`
	SpKtV      float64    `json:"spktv"`
	EKtV       float64    `json:"ektv"`
	EKtVRate   float64    `json:"ektv_rate"`
	StdKtV     float64    `json:"stdktv"`
	StdKtVFull *float64   `json:"stdktv_full"`
	Target     doseTarget `json:"target"`
}

type doseTarget struct {
	Measure string  `json:"measure"`
	Minimum float64 `json:"minimum"`
	Target  float64 `json:"target"`
	Source  string  `json:"source"`
}

type doseInput struct {
	kinetics.Sampled
	access        kinetics.Access
	volumeL       *float64
	residual      float64
	weeklyRemoved *float64
}

func runDose(in *Object) (Answer, error) {
	var d doseInput
	var preUnit, postUnit string
	d.Pre, preUnit = readUrea(in, "pre_urea")
	d.Post, postUnit = readUrea(in, "post_urea")
	if preUnit != "" && postUnit != "" && preUnit != postUnit {
		in.Refuse("post_urea.unit", "%q differs from that of pre_urea, %q; accepted is the same unit for both", postUnit, preUnit)
	}
	d.LengthMin = in.FloatAbove("session_min", 0, 1440)
	d.RemovedL = in.Float("removed_l", 0, 25)
	d.PostWeightKg = in.Float("post_weight_kg", 1, 500)
	d.PerWeek = in.Float("sessions_per_week", 1, 7)
	if in.Has("days_since_previous") {
		d.DaysSincePrevious = in.FloatAbove("days_since_previous", 0, 60)
	}
	d.access = kinetics.Access(in.Word("access", string(kinetics.Arteriovenous), string(kinetics.Venovenous)))
	d.volumeL = in.FloatIf("urea_volume_l", 1, 250)
	d.residual = in.FloatOr("residual_clearance_ml_min", 0, 0, 150)
	d.weeklyRemoved = in.FloatIf("weekly_removed_l", 0, 100)
	if err := in.Done(); err != nil {
		return Answer{}, err
	}
	a, err := d.answer()
	return a, refused(err)
}

// readUrea reads {"value", "unit"}; the unit comes back empty when it was
// refused, so that two refused units are not compared.
func readUrea(in *Object, key string) (unit.Urea, string) {
	before := len(*in.problems)
	o := in.Object(key)
	value := o.FloatAbove("value", 0, 1801)
	symbol := o.Word("unit", unit.UreaUnits()...)
	o.Close()
	if len(*in.problems) > before {
		return 0, ""
	}
	u, err := unit.NewUrea(value, symbol)
	if err != nil || u.MmolPerL() > 300 {
		in.Refuse(key, "%s %s is out of range; accepted is a concentration above 0, up to 300 mmol/L of urea", num(value), symbol)
	}
	return u, symbol
}

func (d doseInput) answer() (Answer, error) {
	urr, err := kinetics.URR(d.Pre, d.Post)
	if err != nil {
		return Answer{}, err
	}
	sp, err := kinetics.SinglePool(d.Sampled)
	if err != nil {
		return Answer{}, err
	}
	e, err := kinetics.Equilibrated(sp.Value, d.LengthMin, d.access)
	if err != nil {
		return Answer{}, err
	}
	rate, err := kinetics.EquilibratedRate(sp.Value, d.LengthMin, d.access)
	if err != nil {
		return Answer{}, err
	}
	std, err := kinetics.StandardKtV(sp.Value, e.Value, d.PerWeek, d.LengthMin)
	if err != nil {
		return Answer{}, err
	}
	full, err := d.full(std.Value, sp.Value)
	if err != nil {
		return Answer{}, err
	}
	target, err := kinetics.TargetFor(d.PerWeek, d.residual)
	if err != nil {
		return Answer{}, err
	}
	schedule, err := kinetics.ScheduleCautions(d.PerWeek, d.LengthMin, d.residual)
	if err != nil {
		return Answer{}, err
	}

	out := doseAnswer{
		URR: urr.Value, SpKtV: sp.Value, EKtV: e.Value, EKtVRate: rate.Value, StdKtV: std.Value,
		Target: doseTarget(target),
	}
	a := Answer{Sources: []string{
		"Daugirdas, J Am Soc Nephrol 1993;4:1205-13 (spKt/V)",
		"Tattersall et al., Kidney Int 1996;50:2094-102 (eKt/V by clearance time)",
		"Nephrol Dial Transplant 2002;17 Suppl 7:17-21 (eKt/V by rate)",
		"Leypoldt, Jaber, Zimmerman, Semin Dial 2004;17:142-5 (stdKt/V; from memory)",
	}}
	if d.DaysSincePrevious != 0 {
		a.Sources = append(a.Sources, "Daugirdas et al., Nephrol Dial Transplant 2013;28:2156-60 (generation by days; from memory)")
	}
	a.Cautions = append(a.Cautions, schedule...)
	for _, f := range []kinetics.Figure{urr, sp, e, rate, std} {
		a.Cautions = append(a.Cautions, f.Cautions...)
	}
	if full != nil {
		out.StdKtVFull = &full.Value
		a.Cautions = append(a.Cautions, full.Cautions...)
		a.Sources = append(a.Sources, "Daugirdas et al., Kidney Int 2010;77:637-44 (fluid and residual clearance; from memory)")
	}
	a.Cautions = append(a.Cautions, d.cautions()...)
	a.Sources = append(a.Sources, target.Source)
	a.Out = out
	a.Steps, err = d.steps(out)
	return a, err
}

// full counts fluid and residual clearance; nil when the volume or the week's
// fluid is not known.
func (d doseInput) full(std, sp float64) (*kinetics.Figure, error) {
	if d.volumeL == nil || d.weeklyRemoved == nil {
		return nil, nil
	}
	f, err := kinetics.StandardFull(std, sp, d.PerWeek, kinetics.WholeWeek{
		RemovedL: *d.weeklyRemoved, VolumeL: *d.volumeL, ResidualMlMin: d.residual,
	})
	return &f, err
}

func (d doseInput) cautions() []unit.Caution {
	var c []unit.Caution
	if d.residual > 0 && (d.volumeL == nil || d.weeklyRemoved == nil) {
		c = append(c, unit.Caution{Code: "residual_not_counted", Text: "Residual clearance was given but is in no figure here: that needs urea_volume_l and weekly_removed_l. The standard Kt/V shown reads low."})
	}
	if d.weeklyRemoved != nil && *d.weeklyRemoved < d.RemovedL {
		c = append(c, unit.Caution{Code: "weekly_removed_below_session", Text: "The fluid of the week is less than that of this one session; weekly_removed_l is the sum of all sessions of a week."})
	}
	return c
}

func (d doseInput) steps(out doseAnswer) ([]Step, error) {
	g, err := kinetics.GenerationTerm(d.DaysSincePrevious)
	if err != nil {
		return nil, err
	}
	tp, err := d.access.ClearanceTime()
	if err != nil {
		return nil, err
	}
	generation, generationSource := "constant for three sessions a week", "Daugirdas 1993"
	if d.DaysSincePrevious != 0 {
		generation = "0.0174 / " + num(d.DaysSincePrevious) + " days"
		generationSource = "Daugirdas et al. 2013 (from memory)"
	}
	hours := num(d.LengthMin / 60)
	steps := []Step{
		{"R, urea after over before", sig(1-out.URR, 4), sig(float64(d.Post), 4) + " / " + sig(float64(d.Pre), 4) + " mmol/L", "definition"},
		{"URR", sig(out.URR, 4), "1 − R", "definition"},
		{"generation, an hour", sig(g, 4), generation, generationSource},
		{"spKt/V, single pool", sig(out.SpKtV, 4),
			fmt.Sprintf("−ln(R − %s·%s h) + (4 − 3.5·R)·%s L/%s kg", sig(g, 4), hours, num(d.RemovedL), num(d.PostWeightKg)),
			"Daugirdas, J Am Soc Nephrol 1993;4:1205-13"},
	}
	// The sample after the session can be too far off for a logarithm; then
	// there is no range to show.
	if low, high, err := kinetics.SinglePoolRange(d.Sampled, 0.05); err == nil {
		steps = append(steps, Step{"spKt/V if the sample after is 5 % off", sig(low, 4) + " to " + sig(high, 4), "the same, with post·1.05 and post·0.95", "computed"})
	}
	steps = append(steps,
		Step{"eKt/V, equilibrated", sig(out.EKtV, 4), fmt.Sprintf("spKt/V·t/(t + %s min)", num(tp)), "Tattersall et al., Kidney Int 1996;50:2094-102"},
		Step{"eKt/V by the rate equation", sig(out.EKtVRate, 4), rateFormula(d.access), "Nephrol Dial Transplant 2002;17 Suppl 7:17-21"},
		Step{"stdKt/V a week", sig(out.StdKtV, 4),
			fmt.Sprintf("10080·(1 − e^−eKt/V)/t / [(1 − e^−eKt/V)/spKt/V + 10080/(%s·t) − 1]", num(d.PerWeek)),
			"Leypoldt et al., Semin Dial 2004;17:142-5 (from memory)"})
	if out.StdKtVFull != nil {
		steps = append(steps, Step{"stdKt/V with fluid and residual clearance", sig(*out.StdKtVFull, 4),
			fmt.Sprintf("stdKt/V/(1 − 0.74/%s·%s L/%s L) + %s mL/min·[0.974/(spKt/V + 1.62) + 0.40]·10080/V",
				num(d.PerWeek), num(*d.weeklyRemoved), num(*d.volumeL), num(d.residual)),
			"Daugirdas et al., Kidney Int 2010;77:637-44 (from memory)"})
	}
	return append(steps, Step{"target of this schedule", out.Target.Measure,
		fmt.Sprintf("at least %s; the target there is %s", num(out.Target.Minimum), num(out.Target.Target)), out.Target.Source}), nil
}

func rateFormula(a kinetics.Access) string {
	if a == kinetics.Venovenous {
		return "spKt/V − 0.47·spKt/V/t + 0.02, t in h"
	}
	return "spKt/V − 0.6·spKt/V/t + 0.03, t in h"
}
