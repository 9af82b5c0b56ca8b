package stock

import (
	"slices"
	"strings"
	"testing"
)

// Identifiers are told apart from the left, so none may begin another; and those
// that need no separator are the ones that begin with the predefined numbers.
func TestIdentifiersAreApart(t *testing.T) {
	predefined := []string{"00", "01", "02", "03", "04", "11", "12", "13", "14", "15", "16", "17", "18", "19", "20", "31", "32", "33", "34", "35", "36", "41"}
	for a, spec := range identifiers {
		for b := range identifiers {
			if a != b && strings.HasPrefix(b, a) {
				t.Errorf("%s begins %s", a, b)
			}
		}
		if spec.fixed != slices.Contains(predefined, a[:2]) {
			t.Errorf("%s: without a separator %v", a, spec.fixed)
		}
		if len(a) < 2 || len(a) > 4 || !allDigits(a) || spec.length < 1 || spec.length > 90 {
			t.Errorf("%s: %+v", a, spec)
		}
	}
	if len(identifiers) < 400 {
		t.Errorf("only %d identifiers", len(identifiers))
	}
}
