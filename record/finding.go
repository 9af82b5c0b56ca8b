package record

import (
	"cmp"
	"strings"
)

// A Step is how far a bound goes.
type Step string

// The two steps of a bound.
const (
	Refuse Step = "refuse" // cannot be taken
	Ask    Step = "ask"    // is taken when it is typed a second time
)

// A Finding is what is wrong, or strange, about one value of an entry.
type Finding struct {
	Field string `json:"field"` // JSON key of the value, or of the entry's own field
	Step  Step   `json:"step"`
	Words string `json:"words"` // completes a sentence that begins with the field's label

	// What the words are made of, for a page that has others.
	Twice  bool         `json:"-"` // the second typing differs from the first
	Why    string       `json:"-"` // without the request to type it again; empty where that is not at the end
	Weight *WeightDoubt `json:"-"` // of a weight before a session
}

// Reason gives why, without the request to type it again.
func (f Finding) Reason() string { return cmp.Or(f.Why, f.Words) }

// Findings are all that was found about one entry.
type Findings []Finding

func (f Findings) Error() string {
	var lines []string
	for _, one := range f {
		lines = append(lines, one.Field+": "+one.Words)
	}
	return strings.Join(lines, "\n")
}

// Refused reports whether any finding refuses.
func (f Findings) Refused() bool {
	for _, one := range f {
		if one.Step == Refuse {
			return true
		}
	}
	return false
}

// On returns the words about one field, or nothing.
func (f Findings) On(field string) string {
	var words []string
	for _, one := range f {
		if one.Field == field {
			words = append(words, one.Words)
		}
	}
	return strings.Join(words, " ")
}
