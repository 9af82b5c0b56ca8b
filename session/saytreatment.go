package session

// treatmentSays holds the sentences of the start line for the treatments that are
// not the ordinary one, by code: fluid from a batch or from bags, a catheter, low
// sugar, no heparin, haemodiafiltration, removal only, a pregnancy, and what no plan
// is made for. The words of their remarks stand below it, as in sayrun.go.
var treatmentSays = map[string]string{
	// no plan is made
	"no_plan":                    "Plan by your unit's paper. Everything you measure is kept here.",
	"no_plan_why":                "%s",
	"no_plan_child":              "A child: Ebbline plans for adults only. Adult? Tick it under “Who”.",
	"no_plan_removal_profile":    "Your unit ordered a removal profile: Ebbline plans one rate only.",
	"no_plan_sodium_profile":     "Your unit ordered a sodium profile: it moves water that Ebbline cannot count.",
	"no_plan_pregnant_rate":      "Pregnant: your unit's own removal rate is not written.",
	"no_plan_pregnant_pressures": "Pregnant: your unit's own pressures are not all written: low and high before the start, and when to act.",
	"no_plan_pregnant_dry":       "Pregnant: the dry weight of %s is older than %d days.",
	"no_plan_light":              "Under %s and no removal rate of your unit: the figures of adults do not fit.",
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

// treatmentRunWords are the words of the remarks on a run of such a treatment.
var treatmentRunWords = map[string]func(facts) string{}
