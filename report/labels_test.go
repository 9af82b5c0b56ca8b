package report

import (
	"bytes"
	"strings"
	"testing"

	"ebbline/report/internal/golden"
	"ebbline/session"
)

func drawnUp(t testing.TB) []session.Label {
	var out []session.Label
	s := evening(t)
	session.Each(s, func(h *session.HeparinDrawn, e *session.Event) {
		out = append(out, session.HeparinLabels(ilsabet.Name, *h, e.At)...)
	})
	session.Each(s, func(a *session.AnaestheticDrawn, e *session.Event) {
		out = append(out, session.AnaestheticLabel(ilsabet.Name, *a, e.At))
	})
	session.Each(s, func(f *session.FlushDrawn, e *session.Event) {
		for range f.Count {
			out = append(out, session.FlushLabel(ilsabet.Name, *f, e.At))
		}
	})
	return out
}

func labelsFile(t testing.TB, ls []session.Label, p Printing) pdfFile {
	t.Helper()
	return written(t, func(b *bytes.Buffer) error { return LabelsPDF(b, ls, p, made) })
}

func TestLabelsLookAsSeen(t *testing.T) {
	ls := drawnUp(t)
	if len(ls) != 5 {
		t.Fatalf("%d labels", len(ls))
	}
	f := labelsFile(t, ls, printing)
	f.sound()
	golden.Check(t, "labels.txt", f.columns())
	h, err := LabelsHTML(ls, printing)
	if err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "labels.html", string(h))
}

// Each label has its own words, and one in twenty-five begins a second sheet.
func TestLabelsAreNeverCutOff(t *testing.T) {
	long := session.Label{Lines: []string{"Heparin, " + strings.Repeat("for the pump ", 5), "2 800 international units", strings.Repeat("a long line about the vial ", 8), "Lot H3321-" + strings.Repeat("0123456789", 8), "Somebody with a very long name indeed, 3 Mar 2026 18:22"}}
	var ls []session.Label
	for range 25 {
		ls = append(ls, long)
	}
	f := labelsFile(t, ls, Printing{Demo: true})
	f.sound()
	if f.pages() != 2 {
		t.Errorf("25 labels take %d sheets", f.pages())
	}
	all := strings.Join(strings.Fields(f.words()), "")
	if got := strings.Count(all, "18:22"); got != 25 {
		t.Errorf("%d of 25 labels have their last line", got)
	}
	if got := strings.Count(all, "DEMONSTRATION"); got != 25 {
		t.Errorf("%d of 25 labels of invented data say so", got)
	}
}

func TestNothingDrawnUp(t *testing.T) {
	f := labelsFile(t, nil, printing)
	f.sound()
	has(t, "the sheet", f.words(), "Nothing was drawn up.")
	h, err := LabelsHTML(nil, printing)
	if err != nil {
		t.Fatal(err)
	}
	has(t, "the page", string(h), "Nothing was drawn up.")
}
