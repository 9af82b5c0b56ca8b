package session

import "fmt"

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
	"bag_on":        "Bag %s is not said to be off. Write the label of the bag in its place, and tap which one it replaces.",

	// a made batch
	"batch_none":           "Which batch is it? None is written down. Write it down, with its use-by, and name it.",
	"batch_unnamed":        "Which batch is it? Not said from which batch. Name it.",
	"bath_unordered":       "K %s, Ca %s on the label. No prescription is there to hold it against; ring your unit.",
	"batch_gone":           "The batch that was named is struck out, or of another machine. Name the one in use.",
	"batch_no_use_by":      "%s: use-by not written.",
	"batch_past":           "%s: past its use-by, %s. Do not use it.",
	"batch_runs_out":       "%s: use by %s, before the planned end, %s. Use another, or ask your unit.",
	"batch_ready":          "%s, use by %s.",
	"batch_not_tested":     "%s: not tested. Test its total chlorine.",
	"batch_chlorine":       "%s, %s.",
	"batch_chlorine_less":  "Less than %s, %s.",
	"tested_chlorine":      "total chlorine %s",
	"tested_chlorine_less": "total chlorine less than %s",
	"tested_fluid":         "conductivity: machine %s, own meter %s",
	"tested_machine":       "conductivity: machine %s",
	"tested_meter":         "conductivity: own meter %s",
	"batch_left":           "%s, limit %s, in a batch that is not used now.",
	"batch_conductivity":   "%s %s, outside the batch’s %s to %s. Do not use it; ring.",
	"batch_range_order":    "The batch’s range, %s to %s, does not hold the ordered %s. Read its label again; ask your unit.",
	"batch_range_wide":     "The batch’s range, %s to %s, is wide. Read its label again; ask your unit.",
	"batch_fluid":          "Machine %s, meter %s, %s.",

	// a catheter
	"access_exit_seen":    "Exit site of the catheter looked at.",
	"access_cuff":         "The cuff shows. Ring your unit before you start.",
	"access_longer":       "The catheter is longer outside. Ring your unit before you start.",
	"access_held_unseen":  "Cuff or length not answered. Look: does the cuff show, is it longer outside?",
	"lock_drawn_open":     "Old lock not drawn yet. Draw it out of each lumen first.",
	"lock_arterial_stuck": "Old lock of the arterial lumen could not be drawn. Push nothing in; ring.",
	"lock_venous_stuck":   "Old lock of the venous lumen could not be drawn. Push nothing in; ring.",
	"lock_arterial_was":   "Old lock of the arterial lumen could not be drawn at first; later it was.",
	"lock_venous_was":     "Old lock of the venous lumen could not be drawn at first; later it was.",
	"lock_clots":          "Clots in the old lock. Tell your unit.",
	"lock_steps":          "Not ticked: %s.",
	"lock_drawn_ready":    "Old lock drawn out of both lumens.",

	"glucose_open":    "Measure your blood sugar.",
	"glucose_missing": "Blood sugar: %s. Measure it.",
	"glucose_old":     "Blood sugar of %s, %s, is too old. Measure again.",
	"glucose_low":     "Blood sugar %s, under %s. " + SugarSteps,
	"glucose_lo":      "Blood sugar “Lo”: too low for a number. " + SugarSteps,
	"glucose_hi":      "Blood sugar “Hi”: too high for a number. " + SugarHighSteps,
	"glucose_high":    "Blood sugar %s, %s or more. " + SugarHighSteps,
	"glucose_ready":   "Blood sugar %s, %s, not under %s.",

	// what is gone from the start line stays in sight
	"undone_struck":    "%s Struck out at %s: %s",
	"undone_corrected": "%s Corrected at %s: %s",
	"undone_again":     "%s So it was until %s. Written again: %s",
	"order_changed":    "%s So it was by what was written until %s. Since then: %s",
	"batch_before":     "%s %s was named until %s; look at which is in the machine.",
	"order_line":       "%s: %s, before %s",
	"order_again":      "%s written again",
	"order_by":         "%s (ordered by %s)",

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
	"paper_rate_limit":           "%s, above your unit’s %s. Ring your unit.",
	"paper_rate_stop":            "%s, above %s. Ring your unit.",
	"paper_rate_adults":          "%s, above %s, a figure of adults; your unit %s. Ring your unit.",
	"paper_peak_adults":          "Highest rate on the paper %s, above %s, a figure of adults; your unit %s. Ring your unit.",
	"paper_beyond":               "%s off %s would end %s under the dry weight. Read paper and scale again; ask your unit.",
	"paper_rate_look":            "%s, above %s. Ask your unit for its limit.",
	"paper_most":                 "%s, above your unit’s largest removal of %s. Ring your unit.",
	"vitals_unheld":              "A child: your unit’s own figures for %s are not written, and an adult’s are not used: the values are not judged. Ask for the figures.",
	"paper_unheld":               "No limit of your unit is written to hold the paper’s rate against. Ask for one.",
	"paper_peak_limit":           "Highest rate on the paper %s, above your unit’s %s. Ring your unit.",
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

func askChildWords(what string) string {
	return "A child: only your unit’s own figures judge " + what + ", and they are not written. Ask your unit, then write them."
}

func askChildFallWords() string {
	return "A child: without a figure of your unit, low pressure while running is " + childFallWords + " under the start (ours). Ask your unit for its own, then write it."
}

func askAfter(what string, n, of int, figure string) string {
	return fmt.Sprintf("%s in %d of the last %d sessions. Ask your unit for %s", what, n, of, figure)
}

// SugarSteps ends every word about a low blood sugar, and stands beside its form.
const SugarSteps = "Your unit’s steps for low sugar now; if it wrote none, ring it. Drowsy, confused or cannot swallow: the ambulance."

// fluidSteps end every word about a batch that should not run.
const fluidSteps = "Your unit’s own instructions first; ring it now. This fluid is not to be used until your unit agrees to it."

// SugarHighSteps ends every word about a high blood sugar.
const SugarHighSteps = "Ring your unit, by its hours; say if you are very thirsty or sick. Drowsy or confused: the ambulance."

// treatmentRunWords are the words of the remarks on a run of such a treatment.
var treatmentRunWords = map[string]func(facts) string{
	"lock_stuck": func(f facts) string {
		return "Old lock of " + f.value + " could not be drawn. Push nothing in; ring your unit."
	},
	"bag_wrong": func(f facts) string {
		return "This bag: " + f.value + " Your unit’s own instructions first. Clamp it, put it aside, and ring your unit; say whether any of it has run."
	},
	"bag_still": func(f facts) string {
		return "Bag " + f.value + ", of " + f.was + ", is not right, and nothing says that it is off. Look at it now. Your unit’s own instructions first; ring."
	},
	"bag_open": func(f facts) string { return "This bag: " + f.value + " Look at it now." },
	"batch_struck": func(f facts) string {
		return f.value + ", which this treatment runs on, was struck out at " + f.was + ": " + f.limit + " " + fluidSteps
	},
	"batch_ran_out": func(f facts) string {
		return f.value + ", which this treatment runs on: its use-by was " + f.limit + ". " + fluidSteps
	},
	"batch_failed": func(f facts) string {
		return f.was + ", which this treatment runs on: total chlorine " + f.value + ", over " + f.limit + " (" + f.whose + "). " + fluidSteps
	},
	"batch_range": func(f facts) string {
		return f.value + ", outside " + f.limit + ", the range of the " + f.was + ". " + fluidSteps
	},
	"start_heparin": func(f facts) string {
		is := "none was drawn up"
		if f.value != "" {
			is = "bolus " + f.value + ", from " + f.was
		}
		return "Heparin, by what was written since the start: " + is + ", and that is not as ordered. It may be in you: give none again before " +
			"your unit says so. Ring it now. Bleeding that does not stop, or a blow to the head: the ambulance."
	},
	"start_weight": func(f facts) string {
		side := "too little"
		if f.hard {
			side = "too much"
		}
		return "The weight before is " + f.value + " now, and the plan was made from " + f.was + ": what is set takes off " + f.limit + " " + side +
			". Your unit’s own instructions first; ring it, then set the goal."
	},
	"start_stops": func(f facts) string {
		return f.value + ", by what was written since the start: " + f.was + " Your unit’s own instructions first; ring it now."
	},
	"start_fluid_stops": func(f facts) string {
		return f.value + ", by what was written since the start: " + f.was + " " + fluidSteps + " Pain or port-wine blood: the ambulance."
	},
	"batch_wrong": func(f facts) string { return "This batch: " + f.value + " " + fluidSteps },
	"batch_open":  func(f facts) string { return "This batch: " + f.value + " Do it now." },
	"sugar_low": func(f facts) string {
		return "Blood sugar " + f.sugar() + ", under " + f.limit + " (" + f.whose + "). " + f.later(SugarSteps)
	},
	"sugar_high": func(f facts) string {
		return "Blood sugar " + f.sugar() + ", " + f.limit + " or more (" + f.whose + "). " + f.later(SugarHighSteps)
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
	"sugar_undone": func(f facts) string {
		how := "Corrected"
		if f.felt {
			how = "Struck out"
		}
		words := f.value + " " + how + " at " + f.since
		if f.was != "" {
			words += ": " + f.was
		}
		return sentence(words)
	},
	"removed_cannot": func(f facts) string {
		return "The machine shows " + f.value + " removed and " + f.was + " of substitution fluid, which is said to be in it. That cannot be, so what came off you is not known. " +
			"Read both again. If they are right, look at the answer at the machine on Unit, and ask your unit."
	},
	"substitution_over": func(f facts) string {
		return "Substitution fluid " + f.value + ", ordered " + f.limit + ". Read the machine again. If it is right: your unit’s own instructions first; ring your unit."
	},
	"removed_means": func(f facts) string {
		return "At " + f.since + " the machine's “removed” was written otherwise: " + f.value + ", before " + f.was + ". Figures typed before that stay read as they were. " +
			"Look at the machine: which of the two is it?"
	},
	"pregnant_told": func(f facts) string {
		return "Pregnant, or may be, told at " + f.value + " while the treatment runs. Ring your unit now: it says whether and how you go on."
	},
	"paper_rate_high": func(f facts) string {
		return "The machine was read at " + f.value + ", above " + f.limit + ". Set it down, and ring your unit."
	},
	"paper_goal_high": func(f facts) string {
		return f.value + " in " + f.was + " is " + f.since + " from here, above " + f.limit + ". Do not run that: set it down, and ring your unit."
	},
	"paper_goal_most": func(f facts) string {
		return f.value + " is above " + f.limit + ", the largest removal (" + f.whose + "). Do not run that: set it down, and ring your unit."
	},
	"removed_gross": func(f facts) string {
		return "The machine shows " + f.value + " removed, with the substitution fluid in it. That fluid was not typed beside it, so what came off you is not known. Type both from one look."
	},
}

// shownWords say what a machine's figure for the fluid removed means.
var shownWords = map[string]string{RemovedNet: "without the substitution fluid", RemovedGross: "with the substitution fluid", "": "not said"}

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

// AskSubstitutionWords ask once for what an order of haemodiafiltration does not say.
const AskSubstitutionWords = "Haemodiafiltration is ordered. Ask your unit how much substitution fluid a session has, and where it is added, then write both."

// AskRateWords ask once for the unit's limit of the removal rate.
const AskRateWords = "No limit for the removal rate is written. Ask your unit, then write its limit, or that it sets none."

// AskRateOnlyWords ask the same for a child and in a pregnancy: no plan is made without
// the figure, so that the unit sets none is no answer to look for.
const AskRateOnlyWords = "No limit for the removal rate is written. Ask your unit, then write its limit."

// AskRemovedWords ask once what the machine's figure for the fluid removed means.
const AskRemovedWords = "Haemodiafiltration is ordered. Does your machine's figure for the fluid removed hold the substitution fluid too? Ask your nurse, then say it at the machine."
