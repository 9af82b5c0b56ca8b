package session

// treatmentSays holds the sentences of the start line for the treatments that are
// not the ordinary one, by code: fluid from a batch or from bags, a catheter, low
// sugar, no heparin, haemodiafiltration, removal only, a pregnancy, and what no plan
// is made for. The words of their remarks stand below it, as in sayrun.go.
var treatmentSays = map[string]string{
	// plan, in haemodiafiltration
	"plan_shows": "Not said: does the machine's “removed” hold the substitution fluid? Say it once, at the machine.",
}

// treatmentRunWords are the words of the remarks on a run of such a treatment.
var treatmentRunWords = map[string]func(facts) string{
	"removed_unsaid": func(f facts) string {
		return "The machine shows " + f.value + " removed. Nobody has said whether the substitution fluid is in that figure, so nothing is worked out from it. " +
			"Say it once, at the machine on Unit."
	},
	"removed_gross": func(f facts) string {
		return "The machine shows " + f.value + " removed, with the substitution fluid in it. That fluid was not typed beside it, so what came off you is not known. Type both from one look."
	},
}

// AskSubstitutionWords ask once for what an order of haemodiafiltration does not say.
const AskSubstitutionWords = "Haemodiafiltration is ordered. Ask your unit how much substitution fluid a session has, and where it is added, then write both."

// AskRemovedWords ask once what the machine's figure for the fluid removed means.
const AskRemovedWords = "Haemodiafiltration is ordered. Does your machine's figure for the fluid removed hold the substitution fluid too? Ask your nurse, then say it at the machine."
