package session

import (
	"fmt"
	"maps"
	"strings"
	"unicode"
	"unicode/utf8"
)

// says holds every sentence of the start line, by its code. The values that
// decided are put in by [worded]. Sentences are short, with the act in them: they
// are read at 05:30 without glasses.
var says = joined(startSays, treatmentSays)

// joined is two tables of words in one.
func joined[T any](one, other map[string]T) map[string]T {
	all := maps.Clone(one)
	maps.Copy(all, other)
	return all
}

// startSays are the sentences of the ordinary treatment.
var startSays = map[string]string{
	// all checks
	"blank":      "Written as %s.",
	"at":         "At %s: %s",
	"rang":       "You rang %s at %s: %s",
	"rang_told":  "You rang: %s",
	"rung_for":   "%s.",
	"redo":       "Done before the disinfection at %s: do it again.",
	"redo_since": "%s at %s, after this was done: do it again.",

	// a number that can hurt, in the checks of heparin, lock, bath and chlorine
	"shelf_says": "Lot %s: %s typed %s, shelf has %s. Read the label.",
	"shelf_said": "Lot %s: %s typed %s, shelf had %s until %s. Read the label.",

	// fit
	"fit_open":     "Not answered. How are you?",
	"fit_first":    "%s. Ring the ambulance first, then your unit.",
	"fit_ring":     "Ring your unit first: %s.",
	"fit_ring_too": "Tell ambulance and unit: %s.",
	"fit_rang":     "%s. You rang: %s",
	"fit_tell":     "Tell your unit: %s.",
	"fit_told":     "%s. You rang: %s",
	"fit_note":     "You wrote: “%s”. Ebbline cannot read it: tick it, or ring.",
	"fit_nothing":  "Nothing new.",

	// access
	"access_fever_at":      "Temperature %s at %s",
	"access_open":          "Not looked at. Look, feel, listen.",
	"access_exit_open":     "Not looked at. Look at the exit site.",
	"access_no_flow":       "No thrill, no bruit. Do not needle; ring now.",
	"access_no_thrill":     "No thrill; not listened. Do not needle; ring now.",
	"access_thrill_lost":   "No thrill; bruit heard. Do not needle; ring now.",
	"access_unheard":       "Heard, not felt; not listened. Listen. Nothing heard: ring.",
	"access_heard_only":    "Not felt, as your unit wrote; bruit heard, skin clean.",
	"access_not_felt":      "Thrill not felt for. Feel the access.",
	"access_silent":        "Bruit not heard, thrill not felt for. Feel it; no thrill: ring.",
	"access_bruit_lost":    "Thrill felt, bruit not heard. Listen again; tell your unit.",
	"access_listen":        "Not listened. Your unit asks for it each time.",
	"access_weaker":        "Thrill weaker than before. Tell your unit.",
	"access_beating":       "Thrill beats like a pulse. Tell your unit.",
	"access_chills":        "Chills. Ring your unit before you start.",
	"access_pus":           "Pus or discharge. Ring your unit before you start.",
	"access_fever":         "%s. Ring your unit before you start.",
	"access_fever_rang":    "Fever told. You rang: %s",
	"access_bulge":         "Bulge grew, or its skin is thin. Do not needle; ring now.",
	"access_hand":          "Hand newly white, cold, numb or painful. Ring your unit now.",
	"access_arm":           "Whole arm newly swollen. Ring your unit before you start.",
	"access_two_signs":     "%s: two signs in 7 days. Ring your unit before you start.",
	"access_one_sign":      "%s: one sign. Look again next time; a second one: ring.",
	"access_two_before":    "Clean now; before, %s. Look closely.",
	"access_pus_before":    "Pus on %s, none now. Look closely; tell your unit.",
	"access_buttonhole":    "Infection in a buttonhole can reach the blood. Do not needle it; ring.",
	"access_not_looked":    "Skin not looked at. Look at the whole access.",
	"access_catheter":      "Exit site looked at, cuff not showing, length as before.",
	"access_ready":         "Thrill felt, bruit heard, skin clean.",
	"access_ready_unheard": "Thrill felt, skin clean; not listened.",

	// weighed
	"weight_open":    "Not weighed yet.",
	"weight_was_old": "Weight was %s old. Weigh again.",
	"weight_is_old":  "Weight is %s. Weigh again.",
	"weight_scale":   "Scale “%s”, last time “%s”. Weigh on both.",
	"weight_apart":   "%s at %s, %s at %s: %s apart without clothes. Weigh again.",
	"weight_ready":   "%s, %s.",

	// vitals
	"vitals_open":            "Not measured yet.",
	"vitals_no_sitting":      "Sitting pressure %s. Measure it.",
	"vitals_no_lower":        "Lower pressure %s: %s. Measure it.",
	"vitals_no_standing":     "Standing pressure %s. Measure it, or tick “I cannot stand”.",
	"vitals_no_lying":        "You cannot stand; lying pressure %s. Measure it.",
	"vitals_no_pulse":        "Pulse %s. Count it.",
	"vitals_no_temperature":  "Temperature %s. Take it, or tick “I have no thermometer”.",
	"vitals_ask_thermometer": "You had no thermometer on %s. Take a temperature, or say it again.",
	"vitals_sitting_out":     "Sitting %s, %s %s. Ring your unit first.",
	"vitals_standing_out":    "Standing %s, %s %s. Ring your unit first.",
	"vitals_lying_out":       "Lying %s, %s %s. Ring your unit first.",
	"vitals_lower_out":       "Lower pressure %s, %s %s. Ring your unit first.",
	"vitals_pulse_out":       "Pulse %s, %s %s. Ring your unit first.",
	"vitals_temperature_out": "Temperature %s, %s %s. Ring your unit first.",
	"vitals_drop_felt":       "%s %s, %s %s: a drop, and you felt faint or fell. Ring your unit first.",
	"vitals_drop_new":        "%s %s, %s %s: a new drop. Stand up slowly; tell your unit.",
	"vitals_inside":          "%s.",
	"vitals_written_down":    "Written down. Your unit has not set every limit for it.",
	"vitals_values":          "%s.",
	"vitals_lying":           "Measured lying: you wrote on %s that you cannot stand.",
	"vitals_no_thermometer":  "No temperature: you had no thermometer on %s. Asked again on %s.",

	// gap
	"gap_none":        "no session before this one is written down",
	"gap_since":       "%s since the last session ended, %s",
	"gap_since_began": "%s since the last session began, its end not written, %s",
	"gap_first":       "No session before this one is written down.",
	"gap_so":          "%s.",
	"gap_beside":      "%s.",
	"gap_long":        "%s. Weak, or an odd pulse: ring the ambulance.",
	"gap_short":       "The last session ran %s of %s. Tell your unit.",
	"gap_potassium":   "%s. Ring about potassium before you start. Weak, or an odd pulse: the ambulance.",
	"gap_signs":       "%s. Ring the ambulance first, then your unit; do not wait for the session.",
	"gap_pulse":       "%s. Ring the ambulance first, then your unit; do not wait for the session.",
	"gap_rang":        "%s. You rang: %s",
	"gain_unknown":    "Gain not known: no weight after the last session.",
	"gain_so":         "Gain %s.",
	"gain_large":      "Gain %s of dry weight. Tell your unit.",

	// disinfected
	"cleaned_waiting_unit": "Not disinfected since the last session. Disinfect before use.",
	"cleaned_not_written":  "No disinfection written after the last session.",
	"cleaned_in_use":       "The machine is in use by %s since %s. Look: is that treatment over, and its end not written?",
	"cleaned_failed":       "Disinfection failed, %s. Disinfect before use.",
	"cleaned_runs":         "Disinfection runs since %s. Write how it ended.",
	"cleaned_running":      "Last disinfection: the end was not written.",
	"cleaned_ticked":       "Disinfection ticked at %s. Write which, and how it ended.",
	"cleaned_chemical":     "Chemical, %s.",
	"cleaned_passed":       "Passed, %s.",
	"cleaned_elsewhere":    "Held elsewhere: not this household's machine.",
	"residue_new":          "New here: no session was treated on it. Rinse; residue test.",
	"residue_new_rinsed":   "New here: no session was treated on it. Rinsed; test for residue.",
	"residue_chemical":     "Chemical disinfection, %s. Test for residue; write the result.",
	"residue_unsure":       "%s %s, not said with what. If chemical, test for residue.",
	"residue_upset":        "%s, %s. Rinse, then test for residue.",
	"residue_upset_rinsed": "%s, %s. Rinsed since; test for residue.",
	"residue_ticked":       "The tick is not enough: write result and lot.",
	"residue_left":         "Residue test %s: %s, limit %s. Rinse; test again.",
	"residue_expired":      "Residue test %s: strip out of date. Test again.",
	"residue_was":          "Residue test %s: %s, limit %s.",
	"residue_done":         "%s, rinsed and tested, %s: %s.",
	"residue_gone":         "Residue test %s: %s.",
	"residue_no_rinse":     "No rinse is written since. Rinse; write when.",
	"idle_own":             "Stood %d hours since. Disinfect again, or ask.",
	"idle_unit":            "Stood %d hours since. Disinfect before use.",

	// chlorine
	"chlorine_open":        "Not tested. Test total chlorine.",
	"chlorine_cannot_tell": "“Less than %s” cannot tell %s. Use a finer test.",
	"chlorine_over":        "%s, limit %s, %s. Ring; then two good samples there.",
	"chlorine_first_over":  "%s, limit %s, after the first carbon. Test after the second.",
	"chlorine_one_good":    "%s, limit %s, %s; one good since. Draw another there.",
	"chlorine_was_over":    "%s, limit %s, %s. Ring your unit first.",
	"chlorine_first":       "First carbon: %s, limit %s. Have it changed.",
	"chlorine_reads_what":  "Not said how low the test reads. Look on its label.",
	"chlorine_coarse":      "This test reads down to %s only; limit %s. Use a finer one.",
	"chlorine_no_expiry":   "Expiry of the test not written.",
	"chlorine_expired":     "Test expired %s. Use one in date.",
	"chlorine_old":         "Tested %s; less than 1 h is wanted. Test again.",
	"chlorine_doubted":     "%s; a notice is open. Test behind each carbon.",
	"chlorine_carbon_open": "%s; the task of the first carbon, %s, is open. Test after the second.",
	"chlorine_less":        "Less than %s, %s.",
	"chlorine_ready":       "%s, %s.",

	// self_test
	"self_test_open":   "Not passed yet.",
	"self_test_failed": "Not passed. Ring the technician.",
	"self_test_tries":  "Passed at try %d. Note it for the technician.",
	"self_test_ready":  "Passed at the first try.",

	// conductivity
	"fluid_open":     "Not compared. Machine and own meter.",
	"fluid_one":      "Only one of the two is written. Machine and own meter.",
	"fluid_disagree": "Machine %s, meter %s. They disagree; ring.",
	"fluid_wrong":    "%s %s, set is %s. Wrong bath? Ring.",
	"fluid_off":      "%s %s, set is %s. Look at the bath and the setting.",
	"fluid_far":      "%s %s, outside %s to %s. Wrong bath? Ring.",
	"fluid_unusual":  "%s %s, usual is %s. Look at the bath and the setting.",
	"fluid_at_first": "%s %s, outside %s to %s. Look at the bath and the setting.",
	"fluid_hot":      "Fluid %s: too warm. Do not connect.",
	"fluid_ph":       "pH %s, outside 6.9 to 7.6. Do not connect; ring.",
	"fluid_ready":    "Machine %s, meter %s.",

	// bath
	"bath_open":      "Label not read. Type K and Ca.",
	"bath_k":         "Label K %s, prescribed %s. Do not use it.",
	"bath_ca":        "Label Ca %s, prescribed %s. Do not use it.",
	"bath_no_expiry": "Expiry of the bath not written.",
	"bath_expired":   "Bath expired %s. Use one in date.",
	"bath_ready":     "K %s, Ca %s as prescribed.",

	// lots
	"lots_none":           "No lots written: %s.",
	"lots_missing":        "%s: lot not written.",
	"lots_expired_before": "%s lot %s expired %s; at %s lot %s was written. Which was opened?",
	"lots_expired":        "%s expired %s. Use one in date.",
	"lots_no_expiry":      "Expiry of %s not written.",
	"lots_held":           "%s: lot %s is set aside, %s. Take another.",
	"lots_perhaps_held":   "%s: lot %s may be meant by the %s. Look at the box.",
	"lots_otherwise":      "%s: lot %s typed to %s, shelf has %s. Read the label.",
	"lots_none_typed":     "%s: lot %s typed without expiry, shelf has %s. Read the label.",
	"lots_ready":          "%s: in date.",
	"lots_undated":        "%s: no expiry on the label.",

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
	"heparin_other":         "%s from %s, prescribed is %s. Read the label; tell your unit.",
	"anaesthetic_over":      "%.4g mg of local anaesthetic, limit %.4g mg. Stop; ring your unit.",
	"anaesthetic_large":     "%s of local anaesthetic drawn up: is that right?",

	// lock
	"lock_open":        "Not read yet. Type what vial and lumens say.",
	"lock_not_ordered": "No lock is ordered here. Ask your unit which.",
	"lock_unordered":   "%s: no lock is ordered here. Ask your unit.",
	"lock_part":        "Not ordered of the lock: %s. Ask your unit.",
	"lock_name":        "Lock is %s, ordered %s. Do not use it; ring.",
	"lock_strength":    "Lock of %s, ordered %s. Do not use it; ring.",
	"lock_arterial":    "Arterial lumen %s, ordered %s. Do not lock; ring.",
	"lock_venous":      "Venous lumen %s, ordered %s. Do not lock; ring.",
	"lock_heparin":     "Heparin in the lock, and %s told: ask your unit.",
	"lock_expired":     "Lock expired %s. Use one in date.",
	"lock_ready":       "%s, as ordered.",

	// night
	"night_undone": "Not yet: %s.",
	"night_nobody": "Not written who else is in the house. Write it.",
	"night_ready":  "%s. In the house: %s",

	// plan
	"plan_open":        "Not agreed yet.",
	"plan_weight":      "Planned from %s, weight now %s. Plan again.",
	"plan_rx":          "Planned from another prescription. Plan again.",
	"under_dry_look":   "%s below your dry weight. Look again: scale, clothes, how you feel.",
	"under_dry_ring":   "%s below your dry weight. Ring your unit before you start.",
	"under_dry_unwell": "%s below your dry weight, with %s. Ring your unit before you start.",
	"plan_rate_look":   "%s, above %s. Ask your unit for its limit.",
	"plan_rate_stop":   "%s, above %s. Ring your unit: longer, or less? %s brings it to %s. In %s %s fits; %s stays on.",
	"plan_rate_limit":  "%s, above your unit’s %s. Ring your unit: longer, or less? %s brings it to %s. In %s %s fits; %s stays on.",
	"plan_most":        "%s, above your unit’s largest removal of %s. Ring your unit. %s fits; %s stays on.",
	"plan_not_read":    "Not read back. Type what the machine shows.",
	"plan_goal":        "Plan %s, machine %s. Set the machine again.",
	"plan_length":      "Plan %s, machine %s. Set the time again.",
	"plan_ready":       "%s in %s, read back.",
	"plan_left":        "%s stays on.",

	// prescription
	"rx_newer":      "A newer prescription, of %s, written at %s. Strike the plan; plan again by it.",
	"rx_none":       "No prescription. Ring your unit.",
	"rx_not_yet":    "Valid only from %s. Ring your unit.",
	"rx_phoned":     "Phoned, not read back, no paper yet.",
	"rx_paper":      "Phoned %s; the paper has not come.",
	"rx_review":     "Review was due %s. Ring your unit.",
	"rx_dry_review": "Dry weight %s kg was due for review on %s. Ring your unit.",
	"rx_dry_stay":   "Dry weight %s kg is older than the hospital stay that ended on %s. Ring your unit.",
	"rx_ready":      "Of %s, by %s.",

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
	if last, _ := utf8.DecodeLastRuneInString(words); words == "" || strings.ContainsRune(".!?…", last) {
		return words
	}
	return words + "."
}

func capital(s string) string {
	if s == "" {
		return s
	}
	first, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[n:]
}
