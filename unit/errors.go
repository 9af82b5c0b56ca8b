package unit

import "fmt"

// An InputError says that a value cannot be taken: which field, what was
// given, and what is accepted. It carries facts; the sentence a person reads
// is made at the edge from them.
type InputError struct {
	Field string // name with its unit, "pre_weight_kg"; may be filled in by the caller
	Got   string // as given
	Want  string // what is accepted, as the end of a sentence
}

// Refuse makes an [*InputError]; got may be any value that prints.
func Refuse(field string, got any, want string) *InputError {
	return &InputError{Field: field, Got: fmt.Sprint(got), Want: want}
}

func (e *InputError) Error() string {
	got := e.Got
	if got == "" {
		got = "an empty field"
	}
	if e.Field == "" {
		return fmt.Sprintf("%s is not accepted: needs %s", got, e.Want)
	}
	return fmt.Sprintf("%s: %s is not accepted: needs %s", e.Field, got, e.Want)
}
