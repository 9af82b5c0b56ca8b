package session

import (
	"fmt"

	"ebbline/fluid"
	"ebbline/water"
)

// OwnLimits gives the program's own figures, which stand in for what the unit
// has not set. They are never the unit's: SetBy says so. A limit for which the
// program has nothing of its own is nil; see [OwnLimitWords] for what happens
// then.
func OwnLimits() Limits {
	chlorine, tolerance, every := ChlorineLimit, water.MeterApart, CheckEvery
	low, high, slow, fast, warm := startSystolicLow, startSystolicHigh, startPulseLow, startPulseHigh, startTempHigh
	below, by, soon, ring, across := fallBelow, fallBy, CheckAfterLow, fluid.BelowDryStop, tmpHigh
	return Limits{
		SetBy: ownDefault, Chlorine: &chlorine, ConductTol: &tolerance, SystolicLow: &low, SystolicHi: &high,
		PulseLow: &slow, PulseHigh: &fast, TempHigh: &warm, FallBelow: &below, FallBy: &by, CheckEvery: &every, AfterLow: &soon,
		DryRing: &ring, TMPAbove: &across,
	}
}

// OwnLimitWords says what the program does by itself where the unit set no
// limit, for the limits that are not one figure; by the key of the limit.
func OwnLimitWords() map[string]string {
	return map[string]string{
		"act_systolic_below_mmhg": fmt.Sprintf("uses %s, or %s when the session began at %s or over, where your unit set neither this nor a fall",
			fallBelow.Text(), fallBelowHigh.Text(), fallHighStart),
		"act_systolic_fall_mmhg":  fmt.Sprintf("uses %s, where your unit set neither this nor a pressure to act below", fallBy.Text()),
		"rate_limit_ml_h_kg":      fmt.Sprintf("asks you to look above %d and stops above %d mL/h/kg until you rang, and cuts no goal", fluid.CautionRate, fluid.HighCautionRate),
		"max_removal_ml":          "asks about a goal over " + litresText(AskAbove) + ", and cuts no goal",
		"anaesthetic_max_mg":      fmt.Sprintf("counts up to %g mg for each kg, %g mg at most", fluid.StricterLidocaine().MgPerKg, fluid.StricterLidocaine().MostMg),
		"act_tmp_above_mmhg":      "uses " + tmpHigh.Text() + ", but none of its own in haemodiafiltration",
		"start_systolic_low_mmhg": "uses " + startSystolicLow.Text() + ", and standing " + startStandingLow.Text(),
		"start_standing_low_mmhg": "uses your unit’s for the upper pressure, and " + startStandingLow.Text() + " where it set neither",
	}
}

// OwnRateWords says what the program does by itself where the unit set no limit
// of rate; it asks for less once the unit said that it sets none.
func OwnRateWords(rx *Prescription) string {
	if rx.RateNoneBy == "" {
		return OwnLimitWords()["rate_limit_ml_h_kg"]
	}
	return fmt.Sprintf("says a line above %d, stops above %d mL/h/kg until you rang, and cuts no goal", fluid.CautionRate, fluid.HighCautionRate)
}

// SetByUnit names who set the limits of a prescription and when.
func (rx *Prescription) SetByUnit() string { return setByUnit(rx) }
