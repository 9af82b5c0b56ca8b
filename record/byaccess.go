package record

import (
	"slices"

	"ebbline/session"
)

// By is the field as it is shown to somebody with this access: its label, and the kinds
// of trouble it chooses from.
func (f Field) By(rx *session.Prescription) Field {
	if !rx.ByCatheter() {
		return f
	}
	if f.ofCatheter != "" {
		f.Label = f.ofCatheter
	}
	if f.Key != "trouble" {
		return f
	}
	f.Choices = slices.Clone(f.Choices)
	for i := range f.Choices {
		if t, ok := session.TroubleOf(f.Choices[i].Value); ok {
			f.Choices[i].Label = t.For(rx).Title
		}
	}
	return f
}
