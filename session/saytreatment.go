package session

// treatmentSays holds the sentences of the start line for the treatments that are
// not the ordinary one, by code: fluid from a batch or from bags, a catheter, low
// sugar, no heparin, haemodiafiltration, removal only, a pregnancy, and what no plan
// is made for. The words of their remarks stand below it, as in sayrun.go.
var treatmentSays = map[string]string{
	"glucose_open":    "Measure your blood sugar.",
	"glucose_missing": "Blood sugar: %s. Measure it.",
	"glucose_old":     "Blood sugar of %s, %s, is too old. Measure again.",
	"glucose_low":     "Blood sugar %s, under %s. " + SugarSteps,
	"glucose_lo":      "Blood sugar “Lo”: too low for a number. " + SugarSteps,
	"glucose_hi":      "Blood sugar “Hi”: too high for a number. Ring your unit.",
	"glucose_ready":   "Blood sugar %s, %s, not under %s.",
}

// SugarSteps ends every word about a low blood sugar, and stands beside its form.
const SugarSteps = "Your unit’s steps for low sugar now. Drowsy, confused or cannot swallow: the ambulance."

// treatmentRunWords are the words of the remarks on a run of such a treatment.
var treatmentRunWords = map[string]func(facts) string{
	"sugar_low": func(f facts) string {
		return "Blood sugar " + f.value + ", under " + f.limit + " (" + f.whose + "). " + SugarSteps
	},
}
