package session

import (
	"strconv"

	"ebbline/fluid"
	"ebbline/unit"
)

// A PlanForm is the plan as the page showed it and sent it back: every term,
// the limits and the machine's step.
type PlanForm struct {
	AgreedPlan
	GoalShown  string          // as it stood on the page in large type
	Step       unit.Volume     // of the machine's goal field
	RateLimit  *unit.RatePerKg // the unit's; nil when none was set
	MaxRemoval *unit.Volume
}

// Form gives what the page of a plan must carry.
func (p Plan) Form(rx *Prescription) PlanForm {
	f := PlanForm{AgreedPlan: p.AgreedPlan, GoalShown: p.GoalShown, Step: p.Step}
	if !p.Afterwards { // else no limit cuts what was dialled in
		f.RateLimit, f.MaxRemoval = rx.Rate, rx.MaxRemoval
	}
	return f
}

// Agree compares the plan made again from the record with the plan on the page,
// and computes the page's plan a second time in a way of its own: whole grams
// and millilitres, added up from the far end, rounded by halves in integers. A
// difference anywhere is a [*fluid.Disagreement] with both values, and then
// neither may be used.
func Agree(fromRecord Plan, form PlanForm) error {
	r, f := fromRecord.AgreedPlan, form.AgreedPlan
	for _, c := range []struct{ field, record, page string }{
		{"prescription_id", r.PrescriptionID, f.PrescriptionID},
		{"weigh_in_id", r.WeighInID, f.WeighInID},
		{"pre_weight_kg", r.PreWeight.Text(), f.PreWeight.Text()},
		{"clothing_kg", r.Clothing.Text(), f.Clothing.Text()},
		{"dry_weight_kg", r.DryWeight.Text(), f.DryWeight.Text()},
		{"intake_ml", r.Intake.Text(), f.Intake.Text()},
		{"washback_ml", r.Washback.Text(), f.Washback.Text()},
		{"saline_ml", r.Saline.Text(), f.Saline.Text()},
		{"flushes_ml", r.Flushes.Text(), f.Flushes.Text()},
		{"length_min", r.Length.Text(), f.Length.Text()},
		{"above_dry_ml", r.AboveDry.Text(), f.AboveDry.Text()},
		{"below_dry", strconv.FormatBool(r.BelowDry), strconv.FormatBool(f.BelowDry)},
		{"goal_ml", r.Goal.Text(), f.Goal.Text()},
		{"set_goal_ml", r.SetGoal.Text(), f.SetGoal.Text()},
		{"left_over_ml", r.LeftOver.Text(), f.LeftOver.Text()},
		{"rate_ml_h", r.Rate.Text(), f.Rate.Text()},
		{"rate_ml_h_kg", r.RatePerKg.Text(), f.RatePerKg.Text()},
		{"goal_shown", fromRecord.GoalShown, form.GoalShown},
	} {
		if c.record != c.page {
			return &fluid.Disagreement{Field: c.field, Planned: c.record, Rechecked: c.page}
		}
	}
	again := form.compute()
	for _, c := range []struct{ field, record, page string }{
		{"above_dry_ml", r.AboveDry.Text(), again.AboveDry.Text()},
		{"below_dry", strconv.FormatBool(r.BelowDry), strconv.FormatBool(again.BelowDry)},
		{"goal_ml", r.Goal.Text(), again.Goal.Text()},
		{"rate_ml_h", r.Rate.Text(), again.Rate.Text()},
		{"rate_ml_h_kg", r.RatePerKg.Text(), again.RatePerKg.Text()},
		{"left_over_ml", r.LeftOver.Text(), again.LeftOver.Text()},
	} {
		if c.record != c.page {
			return &fluid.Disagreement{Field: c.field, Planned: c.record, Rechecked: c.page}
		}
	}
	if f.SetGoal > again.SetGoal { // less than the largest may be chosen, more may not
		return &fluid.Disagreement{Field: "set_goal_ml", Planned: f.SetGoal.Text(), Rechecked: again.SetGoal.Text()}
	}
	return nil
}

// compute works the form's terms through in integers. SetGoal of the answer is
// the largest that the limits and the step allow.
func (f PlanForm) compute() AgreedPlan {
	step := max(int64(f.Step), 1)
	end := int64(f.DryWeight) + int64(f.Clothing) // what the scale shows when dry and dressed, g
	a := AgreedPlan{BelowDry: int64(f.PreWeight) < end}
	if !a.BelowDry {
		a.AboveDry = unit.Volume(int64(f.PreWeight) - end)
	}
	// What is on the scale or still to come, as far as it goes beyond that end.
	if all := int64(f.Flushes) + int64(f.Saline) + int64(f.Washback) + int64(f.Intake) + int64(f.PreWeight); all > end {
		a.Goal = unit.Volume((2*(all-end) + step) / (2 * step) * step)
	}
	largest := int64(a.Goal)
	if f.RateLimit != nil { // hundredths of mL/h/kg · g · min
		largest = min(largest, int64(*f.RateLimit)*int64(f.DryWeight)*int64(f.Length)/(100*1000*60))
	}
	if f.MaxRemoval != nil {
		largest = min(largest, int64(*f.MaxRemoval))
	}
	a.SetGoal = unit.Volume(largest / step * step)
	a.LeftOver = a.Goal - f.SetGoal
	if f.Length > 0 && f.DryWeight > 0 {
		// Rounded by comparing twice the remainder with the divisor, not by
		// adding half as the record's route does.
		a.Rate = unit.Rate(halfUp(int64(f.SetGoal)*60, int64(f.Length)))
		a.RatePerKg = unit.RatePerKg(halfUp(int64(f.SetGoal)*6_000_000, int64(f.Length)*int64(f.DryWeight)))
	}
	return a
}

func halfUp(a, b int64) int64 {
	q, r := a/b, a%b
	if 2*r >= b {
		q++
	}
	return q
}
