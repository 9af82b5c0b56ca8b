package session

// OwnFor says whose prescription is read: what the program does by itself where the
// unit set no limit is another for some. The zero value is an adult of whom no
// pregnancy is known.
type OwnFor struct {
	Child    bool // as of [Session.Child]
	Pregnant bool // or may be
}

// Words are what the program does by itself for the limits of which that differs from
// [OwnLimitWords], by the key of the limit. The prescription may be nil.
func (o OwnFor) Words(rx *Prescription) map[string]string {
	words := map[string]string{}
	const paper = "makes no plan; you go by your unit’s paper"
	light := rx != nil && rx.DryWeight > 0 && rx.DryWeight < LightWeight
	switch {
	case o.Child || light:
		words["rate_limit_ml_h_kg"] = paper + ", held against no figure of its own, which are of adults"
		words["max_removal_ml"] = "has none of its own, and asks about a goal over " + litresText(AskAbove)
	case o.Pregnant:
		words["rate_limit_ml_h_kg"] = paper
	}
	if !o.Child {
		return words
	}
	const none = "has none of its own for a child, and says so before the start"
	for _, key := range []string{"start_systolic_low_mmhg", "start_systolic_high_mmhg", "start_pulse_high_per_min"} {
		words[key] = none
	}
	words["start_standing_low_mmhg"] = "uses your unit’s for the upper pressure, and none of its own"
	words["start_pulse_low_per_min"] = "uses " + startPulseLow.Text() + " as a sign of potassium, and while running"
	for _, key := range []string{"act_systolic_below_mmhg", "act_systolic_fall_mmhg"} {
		words[key] = "uses " + childFallWords + ", where your unit set neither this nor the other"
	}
	return words
}
