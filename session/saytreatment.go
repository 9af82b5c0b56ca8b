package session

import "fmt"

// treatmentSays holds the sentences of the start line for the treatments that are
// not the ordinary one, by code: fluid from a batch or from bags, a catheter, low
// sugar, no heparin, haemodiafiltration, removal only, a pregnancy, and what no plan
// is made for. The words of their remarks stand below it, as in sayrun.go.
var treatmentSays = map[string]string{}

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

// treatmentRunWords are the words of the remarks on a run of such a treatment.
var treatmentRunWords = map[string]func(facts) string{}
