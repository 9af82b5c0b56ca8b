package session

import (
	"fmt"
	"strings"
)

// says holds every sentence of the start line, by its code. The values that
// decided are put in by [worded]. Sentences are short, with the act in them: they
// are read at 05:30 without glasses.
var says = map[string]string{
	// all checks
	"blank":         "Written as %s.",
	"outside_limit": "%s %s, %s %s. Ring your unit first.",
	"at":            "At %s: %s",
	"rang":          "You rang %s at %s: %s",

	// fit
	"fit_open":    "Not answered. How are you?",
	"fit_ring":    "Ring your unit first: %s.",
	"fit_rang":    "%s. You rang: %s",
	"fit_tell":    "Tell your unit: %s.",
	"fit_told":    "%s. You rang: %s",
	"fit_nothing": "Nothing new.",

	// access
	"access_open":      "Not looked at. Look, feel, listen.",
	"access_chills":    "Chills. Ring your unit before needling.",
	"access_no_thrill": "No thrill. Do not needle; ring now.",
	"access_pus":       "Pus or discharge. Ring before needling.",
	"access_skin":      "%s. Ring before needling.",
	"access_not_felt":  "Thrill not felt for. Feel the access.",
	"access_catheter":  "Exit site looked at; no thrill to feel on a catheter.",
	"access_ready":     "Thrill felt, skin clean.",

	// weighed
	"weight_open":    "Not weighed yet.",
	"weight_was_old": "Weight was %s old. Weigh again.",
	"weight_is_old":  "Weight is %s. Weigh again.",
	"weight_scale":   "Scale “%s”, last time “%s”. Weigh on both.",
	"weight_ready":   "%s, %s.",

	// vitals
	"vitals_open":         "Not measured yet.",
	"vitals_no_sitting":   "Sitting pressure not written.",
	"vitals_no_pulse":     "Pulse not written; your unit set a limit.",
	"vitals_no_temp":      "Temperature not written; your unit set a limit.",
	"vitals_inside":       "%s.",
	"vitals_written_down": "Written down. Your unit has not set every limit for it.",

	// gap

	// disinfected
	"cleaned_waiting_unit": "Not disinfected since the last session. Disinfect before use.",
	"cleaned_not_written":  "No disinfection written after the last session.",
	"cleaned_failed":       "Last disinfection failed. Disinfect before use.",
	"cleaned_residue":      "Last cleaning was chemical. Test for residue.",
	"cleaned_running":      "Last disinfection: the end was not written.",
	"cleaned_chemical":     "Chemical, %s; residue test ticked.",
	"cleaned_passed":       "Passed, %s.",
	"idle_own":             "Stood %d hours since. Disinfect again, or ask.",
	"idle_unit":            "Stood %d hours since. Disinfect before use.",

	// chlorine
	"chlorine_open":        "Not tested. Test total chlorine.",
	"chlorine_bags":        "Does not apply: bagged fluid.",
	"chlorine_cannot_tell": "“Less than %s” cannot tell %s. Use a finer test.",
	"chlorine_over":        "%s, limit %s. Second sample; still over: ring.",
	"chlorine_reads_what":  "Not said how low the test reads. Look on its label.",
	"chlorine_coarse":      "This test reads down to %s only; limit %s. Use a finer one.",
	"chlorine_no_expiry":   "Expiry of the test not written.",
	"chlorine_expired":     "Test expired %s. Use one in date.",
	"chlorine_old":         "Tested %s. Test again.",
	"chlorine_doubted":     "%s; a notice is open. Test behind each carbon.",
	"chlorine_less":        "Less than %s, %s.",
	"chlorine_ready":       "%s, %s.",

	// self_test
	"self_test_open":   "Not passed yet.",
	"self_test_failed": "Not passed. Ring the technician.",
	"self_test_tries":  "Passed at try %d. Note it for the technician.",
	"self_test_ready":  "Passed at the first try.",

	// conductivity
	"fluid_open":     "Not compared. Machine and own meter.",
	"fluid_disagree": "Machine %s, meter %s. They disagree; ring.",
	"fluid_wrong":    "%s %s, set is %s. Wrong bath? Ring.",
	"fluid_hot":      "Fluid %s: too warm. Do not connect.",
	"fluid_ph":       "pH %s, usual 6.9 to 7.6 (from memory). Tell the technician.",
	"fluid_ready":    "Machine %s, meter %s.",

	// bath
	"bath_open":      "Label not read. Type K and Ca.",
	"bath_k":         "Label K %s, prescribed %s. Do not use it.",
	"bath_ca":        "Label Ca %s, prescribed %s. Do not use it.",
	"bath_no_expiry": "Expiry of the bath not written.",
	"bath_expired":   "Bath expired %s. Use one in date.",
	"bath_ready":     "K %s, Ca %s as prescribed.",

	// lots
	"lots_none":         "No lots written: %s.",
	"lots_missing":      "%s: lot not written.",
	"lots_expired":      "%s expired %s. Use one in date.",
	"lots_no_expiry":    "Expiry of %s not written.",
	"lots_held":         "%s: lot %s is set aside, %s. Take another.",
	"lots_perhaps_held": "%s: lot %s may be meant by the %s. Look at the box.",
	"lots_otherwise":    "%s: lot %s typed to %s, shelf has %s. Read the label.",
	"lots_none_typed":   "%s: lot %s typed without expiry, shelf has %s. Read the label.",
	"lots_ready":        "%s: in date.",
	"lots_undated":      "%s: no expiry on the label.",

	// heparin
	"heparin_open":          "Not drawn up yet.",
	"heparin_hold":          "Hold heparin: %s. Ring before you give any.",
	"heparin_none":          "None prescribed.",
	"heparin_unasked":       "None prescribed, but %s was drawn up.",
	"heparin_no_strength":   "No strength. Read it off the vial.",
	"heparin_label_again":   "%s; %s. Read the label aloud, type it again.",
	"heparin_label_differs": "Strength typed %s, then %s. Read the label again.",
	"strength_last":         "last time it was %s",
	"strength_prescribed":   "prescribed is %s",
	"heparin_bolus":         "Bolus %s, prescribed %s. Draw up again.",
	"heparin_bolus_unasked": "Bolus %s, none prescribed.",
	"heparin_pump":          "Pump %s, prescribed %s. Draw up again.",
	"heparin_volume":        "%s %s is %s mL at this strength, not %s.",
	"heparin_no_dose":       "No dose in IU is prescribed to compare with.",
	"heparin_prescribed":    "%s from %s, as prescribed.",
	"anaesthetic_over":      "%.4g mg of local anaesthetic, limit %.4g mg. Stop; ring your unit.",
	"anaesthetic_large":     "%s of local anaesthetic drawn up: is that right?",

	// night
	"night_undone": "Not yet: %s.",
	"night_nobody": "Not written who else is in the house. Write it.",
	"night_ready":  "%s. In the house: %s",

	// plan
	"plan_open":      "Not agreed yet.",
	"plan_weight":    "Planned from %s, weight now %s. Plan again.",
	"plan_rx":        "Planned from another prescription. Plan again.",
	"plan_below_dry": "Below dry weight. Ring your unit.",
	"plan_not_read":  "Not read back. Type what the machine shows.",
	"plan_goal":      "Plan %s, machine %s. Set the machine again.",
	"plan_length":    "Plan %s, machine %s. Set the time again.",
	"plan_ready":     "%s in %s, read back.",

	// prescription
	"rx_none":    "No prescription. Ring your unit.",
	"rx_not_yet": "Valid only from %s. Ring your unit.",
	"rx_phoned":  "Phoned, not read back, no paper yet.",
	"rx_paper":   "Phoned %s; the paper has not come.",
	"rx_review":  "Review was due %s. Ring your unit.",
	"rx_ready":   "Of %s, by %s.",

	// waiting
	"waiting": "%s",
}

// worded puts a code and its values into words.
func worded(code string, args ...any) string {
	return fmt.Sprintf(says[code], args...)
}

// sentence ends a person's own words with a point.
func sentence(words string) string {
	words = strings.TrimSpace(words)
	if words == "" || strings.ContainsAny(words[len(words)-1:], ".!?…") {
		return words
	}
	return words + "."
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
