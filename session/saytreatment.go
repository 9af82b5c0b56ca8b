package session

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
}

// treatmentRunWords are the words of the remarks on a run of such a treatment.
var treatmentRunWords = map[string]func(facts) string{
	"bag_wrong": func(f facts) string { return "This bag: " + f.value + " Your unit’s own instructions first; ring." },
	"bag_open":  func(f facts) string { return "This bag: " + f.value + " Look at it now." },
}
