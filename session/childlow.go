package session

import (
	"fmt"

	"ebbline/unit"
)

// What is low in a child of whom the unit wrote no figure: a fall from its own start, by
// so many mmHg ([fallBy]) or so many percent, whichever is the less. No figure below
// which a pressure is low is used: those of the program are of adults, and a child's
// pressure changes with age and height. The 20 % are ours; there is no agreed definition
// for children (Zhao X, Chang TI, Winkelmayer WC, Marsenic O, ASN Kidney Week 2022,
// TH-OR32, read in abstract).
const (
	childFall = 20 // percent of the start
	// childStandFall is the same standing after the treatment, where some fall is
	// common in everybody. Ours.
	childStandFall = 30
)

// childFallWords say that bound.
var childFallWords = fmt.Sprintf("a fall of %d\u00a0%% or %s", childFall, fallBy.Text())

// childFell reports whether an upper pressure of a child is low by that rule; never
// where its start is not known.
func childFell(sys unit.Pressure, start *unit.Pressure) bool {
	return start != nil && (*start-sys >= fallBy || fellBy(sys, *start, childFall))
}

// fellBy reports whether a pressure lies so many percent or more under a start.
func fellBy(sys, start unit.Pressure, percent unit.Pressure) bool {
	return 100*(start-sys) >= percent*start
}
