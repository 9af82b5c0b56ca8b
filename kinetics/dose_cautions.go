package kinetics

import (
	"strconv"

	"ebbline/unit"
)

// Cautions of the dose. The codes are for machines and do not change; the
// texts are for people.
var (
	urrLow = unit.Caution{Code: "urr_below_40", Text: "The urea fell by less than 40 %. That is usual for a short session of a daily schedule; otherwise look at how the sample after the session was drawn, at recirculation, and at the time really treated."}

	urrHigh = unit.Caution{Code: "urr_above_90", Text: "The urea fell by more than 90 %. Check that the sample after the session was not drawn with saline in the line, and that both results are of the same session."}

	otherSchedule = unit.Caution{Code: "other_schedule", Text: "The generation term 0.008 is for three sessions a week. For six short sessions it reads 3 to 6 % low, for six long nights up to 25 % low. Give the days since the previous session."}

	daysOutside = unit.Caution{Code: "days_outside_fit", Text: "The generation term by days is known for 1 to 4 days between sessions; outside that it is a guess."}

	sessionShort = unit.Caution{Code: "session_below_2_h", Text: "The single-pool equation was fitted to sessions of 2 to 5 hours; this one is shorter."}

	sessionLong = unit.Caution{Code: "session_above_5_h", Text: "The single-pool equation was fitted to sessions of 2 to 5 hours; this one is longer, and the figure can be some 6 % off at three a week and more at five or more a week. Prefer the model of the week."}

	ratioOutside = unit.Caution{Code: "ratio_outside_fit", Text: "The urea after over the urea before lies outside 0.1 to 0.7, where the single-pool equation was fitted."}

	removalOutside = unit.Caution{Code: "removal_outside_fit", Text: "More than 6 % of the weight was removed; the fluid term of the single-pool equation was not fitted there."}

	spktvOutside = unit.Caution{Code: "spktv_outside_fit", Text: "The single-pool equation was fitted for results of 0.7 to 2.1; this one lies outside."}

	tattersallShort = unit.Caution{Code: "ektv_short_session", Text: "The session is shorter than 90 minutes; the equilibrated figure is not known to hold there."}

	rateOutside = unit.Caution{Code: "ektv_rate_outside_fit", Text: "The rate equation was fitted to sessions of 2.5 to 5 hours and doses of 0.8 to 2. For a short session or a low dose prefer the figure by clearance time; in a very short one the rate equation falls to nothing and below."}
)

// singlePoolCautions tells how far a session lies from those the equation was
// fitted to.
func singlePoolCautions(s Sampled, ktv float64) []unit.Caution {
	var c []unit.Caution
	if s.DaysSincePrevious == 0 && s.PerWeek != 3 {
		c = append(c, otherSchedule)
	}
	if d := s.DaysSincePrevious; d != 0 && (d < 1 || d > 4) {
		c = append(c, daysOutside)
	}
	switch {
	case s.LengthMin < 120:
		c = append(c, sessionShort)
	case s.LengthMin > 300:
		c = append(c, sessionLong)
	}
	if r := s.ratio(); r < 0.1 || r > 0.7 {
		c = append(c, ratioOutside)
	}
	if s.RemovedL/s.PostWeightKg > 0.06 {
		c = append(c, removalOutside)
	}
	if ktv < 0.7 || ktv > 2.1 {
		c = append(c, spktvOutside)
	}
	return c
}

func ureaText(u unit.Urea) string {
	return strconv.FormatFloat(u.MmolPerL(), 'g', 6, 64) + " mmol/L"
}
