package session

import (
	"fmt"
	"strings"
)

// treatmentSays holds the sentences of the start line for the treatments that are
// not the ordinary one, by code: fluid from a batch or from bags, a catheter, low
// sugar, no heparin, haemodiafiltration, removal only, a pregnancy, and what no plan
// is made for. The words of their remarks stand below it, as in sayrun.go.
var treatmentSays = map[string]string{
	// ready bags
	"chlorine_bags": "Does not apply: ready bags.",
	"fluid_bags":    "Does not apply: ready bags.",
	"bag_seal":      "The seal of a bag is not whole. Do not use it.",
	"bag_cloudy":    "The fluid of a bag is not clear. Do not use it.",
	"bag_no_lot":    "Lot of the bag not written.",
	"bag_not_seen":  "Seal whole, fluid clear: not said of each bag.",

	// a made batch
	"batch_unnamed":       "Not said from which batch. Name it.",
	"batch_gone":          "The batch that was named is struck out, or of another machine. Name the one in use.",
	"batch_no_use_by":     "%s: use-by not written.",
	"batch_past":          "%s: past its use-by, %s. Do not use it.",
	"batch_ready":         "%s, use by %s.",
	"batch_not_tested":    "%s: not tested. Test its total chlorine.",
	"batch_chlorine":      "%s, %s.",
	"batch_chlorine_less": "Less than %s, %s.",
	"batch_left":          "%s, limit %s, in a batch that is not used now.",
	"batch_conductivity":  "%s %s, outside the batch’s %s to %s. Do not use it; ring.",
	"batch_fluid":         "Machine %s, meter %s, %s.",

	// a catheter
	"access_exit_seen":    "Exit site of the catheter looked at.",
	"access_cuff":         "The cuff shows. Ring your unit before you start.",
	"access_longer":       "The catheter is longer outside. Ring your unit before you start.",
	"access_held_unseen":  "Cuff or length not answered. Look: does the cuff show, is it longer outside?",
	"lock_drawn_open":     "Old lock not drawn yet. Draw it out of each lumen first.",
	"lock_arterial_stuck": "Old lock of the arterial lumen could not be drawn. Push nothing in; ring.",
	"lock_venous_stuck":   "Old lock of the venous lumen could not be drawn. Push nothing in; ring.",
	"lock_clots":          "Clots in the old lock. Tell your unit.",
	"lock_drawn_ready":    "Old lock drawn out of both lumens.",

	"glucose_open":    "Measure your blood sugar.",
	"glucose_missing": "Blood sugar: %s. Measure it.",
	"glucose_old":     "Blood sugar of %s, %s, is too old. Measure again.",
	"glucose_low":     "Blood sugar %s, under %s. " + SugarSteps,
	"glucose_lo":      "Blood sugar “Lo”: too low for a number. " + SugarSteps,
	"glucose_hi":      "Blood sugar “Hi”: too high for a number. " + SugarHighSteps,
	"glucose_high":    "Blood sugar %s, %s or more. " + SugarHighSteps,
	"glucose_ready":   "Blood sugar %s, %s, not under %s.",

	// plan, in haemodiafiltration
	"plan_shows": "Not said: does the machine's “removed” hold the substitution fluid? Say it once, at the machine.",

	// no plan is made
	"no_plan":                    "Plan by your unit's paper. Everything you measure is kept here.",
	"no_plan_why":                "%s",
	"no_plan_child":              "A child: Ebbline plans for adults only. If the unit’s prescription is one of an adult, that is ticked under “Who”.",
	"no_plan_removal_profile":    "Your unit ordered a removal profile: Ebbline plans one rate only.",
	"no_plan_sodium_profile":     "Your unit ordered a sodium profile: it moves water that Ebbline cannot count.",
	"no_plan_pregnant_rate":      "Pregnant: your unit's own removal rate is not written.",
	"no_plan_pregnant_pressures": "Pregnant: your unit's own pressures are not all written: low and high before the start, and when to act.",
	"no_plan_pregnant_dry":       "Pregnant: the dry weight of %s is older than %d days.",
	"no_plan_light":              "Under %s kg and no removal rate of your unit: the figures of adults do not fit.",
	"paper_beside":               "A plan made here was agreed at %s. Strike it out.",
	"paper_open":                 "Type what the paper says.",
	"paper_peak":                 "Highest rate on the paper %s, above %s. Ring your unit.",
	"paper_peak_look":            "Highest rate on the paper %s, above %s. Ask your unit for its limit.",
	"paper_goal":                 "Paper %s, machine %s. Set the machine again.",
	"paper_length":               "Paper %s, machine %s. Set the time again.",
	"paper_ready":                "Paper: %s %s in %s, read back.",

	// removal only
	"removal_only_chlorine":    "Removal only, water not tested. Test it before any dialysis.",
	"gap_since_dialysis":       "%s since the last dialysis ended, %s",
	"gap_since_dialysis_began": "%s since the last dialysis began, its end not written, %s",
	"gap_removed":              "Fluid alone was removed until %s: that is no dialysis.",
}

// What the unit is asked for, where figures of the program's own spoke in so many of
// the last sessions.
func askFallWords(n, of int) string {
	return askAfter("While running your pressure was low by the program’s own figure", n, of, "its own figure for low pressure, then write it, or that it sets none.")
}

func askStartWords(n, of int) string {
	return askAfter("Before the start your pressure was out of the program’s own bounds", n, of, "its own two figures, then write them.")
}

func askStandWords(n, of int) string {
	return askAfter("Before the start your pressure was low standing", n, of, "its own figure for standing, then write it.")
}

func askDryWords(n, of int) string {
	return askAfter("You began below your dry weight", n, of, "its own weight to ring under, then write it. Ask too whether the dry weight still fits.")
}

func askAfter(what string, n, of int, figure string) string {
	return fmt.Sprintf("%s in %d of the last %d sessions. Ask your unit for %s", what, n, of, figure)
}

// SugarSteps ends every word about a low blood sugar, and stands beside its form.
const SugarSteps = "Your unit’s steps for low sugar now. Drowsy, confused or cannot swallow: the ambulance."

// SugarHighSteps ends every word about a high blood sugar.
const SugarHighSteps = "Ring your unit, by its hours; say if you are very thirsty or sick. Drowsy or confused: the ambulance."

// treatmentRunWords are the words of the remarks on a run of such a treatment.
var treatmentRunWords = map[string]func(facts) string{
	"lock_stuck": func(f facts) string {
		return "Old lock of " + f.value + " could not be drawn. Push nothing in; ring your unit."
	},
	"bag_wrong": func(f facts) string { return "This bag: " + f.value + " Your unit’s own instructions first; ring." },
	"bag_open":  func(f facts) string { return "This bag: " + f.value + " Look at it now." },
	"sugar_low": func(f facts) string {
		return "Blood sugar " + f.value + ", under " + f.limit + " (" + f.whose + "). " + SugarSteps
	},
	"sugar_high": func(f facts) string {
		return "Blood sugar " + f.value + ", " + f.limit + " or more (" + f.whose + "). " + SugarHighSteps
	},
	"flush_late": func(f facts) string {
		said := "Flush " + f.value + " was due at " + f.was + " and is not written down. "
		if f.hard {
			return said + "It is off the goal now. Look at lines and dialyser for clots, then write whether it was given."
		}
		return said + "Give it, or write that it was left out."
	},
	"removed_unsaid": func(f facts) string {
		return "The machine shows " + f.value + " removed. Nobody has said whether the substitution fluid is in that figure, so nothing is worked out from it. " +
			"Say it once, at the machine on Unit."
	},
	"removed_gross": func(f facts) string {
		return "The machine shows " + f.value + " removed, with the substitution fluid in it. That fluid was not typed beside it, so what came off you is not known. Type both from one look."
	},
}

// OneLumenWords are what a page says where both lines run to one lumen.
const OneLumenWords = "One lumen: line pressures rise and fall by themselves, so no fall or rise of them is remarked on. Look at the connections and the lines yourself."

// AskIdleWords ask for the unit's figure of how long the machine may stand, where the
// program's own was passed before so many of the last sessions.
func AskIdleWords(stood, of, hours int) string {
	return fmt.Sprintf("The machine stood longer than %d h, the program’s own figure, before %d of your last %d sessions. Ask your unit how long it may stand, then write it, or that it sets none.", hours, stood, of)
}

// AskGapWords ask the same where the days that are ordered leave more than that.
func AskGapWords(hours int) string {
	return fmt.Sprintf("By your days the machine stands longer than %d h, the program’s own figure, each week. Ask your unit how long it may stand, then write it, or that it sets none.", hours)
}

// catheterWords turn what the program says of needles into what it says of a catheter,
// phrase by phrase.
var catheterWords = strings.NewReplacer(
	OneNeedleWords, OneLumenWords,
	"Look at both needles and lines first.", "Look at both connections and the lines first.",
	"Look at both needles and the lines first, then at the machine.", "Look at both connections and the lines first, then at the machine.",
	"look at both needles.", "look at both connections.",
	"Look at needle, line and chamber.", "Look at connection, line and chamber.",
	"Look at needle and line", "Look at connection and line",
	"Is a needle out, or a line open?", "Is a connection loose, or a line open?",
	"Needle out, blood, line apart", "Line off the catheter, blood",
	"Press on the hole.", "Clamp the catheter.",
	"Look at needles and lines before anything is reset.", "Look at connections and lines before anything is reset.",
	"Press with fingers on the hole itself.", "Press on the exit site with gauze.",
	"needle, blood", "line off, blood",
	"Needles and lines looked at before the reset", "Connections and lines looked at before the reset",
	"needles and lines not looked at first", "connections and lines not looked at first",
	"looked at needles and lines first", "looked at connections and lines first",
	"Needles and tape, lines, chamber", "Connections, clamps, lines, chamber",
	"Leak sensors at the needles and on the floor", "Leak sensors at the connections and on the floor",
	"Needles: tape doubled, lines looped. Catheter: connections locked", "Connections locked, lines looped",
)

// AskSubstitutionWords ask once for what an order of haemodiafiltration does not say.
const AskSubstitutionWords = "Haemodiafiltration is ordered. Ask your unit how much substitution fluid a session has, and where it is added, then write both."

// AskRemovedWords ask once what the machine's figure for the fluid removed means.
const AskRemovedWords = "Haemodiafiltration is ordered. Does your machine's figure for the fluid removed hold the substitution fluid too? Ask your nurse, then say it at the machine."
