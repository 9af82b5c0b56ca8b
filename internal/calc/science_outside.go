package calc

import "slices"

// An OutsideValue is a value from outside the project, from the literature or
// worked by an independent script, that a test holds a formula to.
type OutsideValue struct {
	ID         string
	Room       string
	Quantity   string
	Expected   string // as JSON
	Source     string
	Provenance string // "read", "memory" or "computed"
	Test       string
}

// OutsideValues lists them; the list is made from the tests' own data, so that
// it cannot claim more than is held.
func OutsideValues() []OutsideValue { return slices.Clone(outsideValues) }
