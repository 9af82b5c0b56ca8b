package report

import (
	"strings"
	"testing"

	"ebbline/session"
)

// The sheet says of both weights in which unit the scale showed them, where that
// was not kilograms; an entry from before that was kept says nothing.
func TestSheetSaysHowTheScaleWasRead(t *testing.T) {
	for _, tt := range []struct{ before, after, scale, weight string }{
		{"kg", "kg", "bath", "kg, clothes 0.2\u00a0kg"},
		{"kg", "", "bath", "kg, clothes 0.2\u00a0kg"},
		{"lb", "st", "bath, read in pounds", "kg, clothes 0.2\u00a0kg, read in stone"},
		{"st", "lb", "bath, read in stone", "kg, clothes 0.2\u00a0kg, read in pounds"},
	} {
		d := newDiary(t, "Europe/Oslo", "2026-03-10")
		d.add(d.at(17, 0), &session.Opened{Place: "home", Source: "live"})
		d.add(d.at(17, 5), &session.WeighIn{Weight: 60_300, Clothing: 200, Scale: "bath", ReadIn: tt.before})
		d.add(d.at(22, 5), &session.WeighOut{Weight: 58_700, Clothing: 200, Scale: "bath", ReadIn: tt.after})
		sheet := SheetOf(SheetInput{Head: ilsabet, Session: d.s, Now: d.at(23, 0)})
		got := map[string]Value{}
		for _, part := range []Part{sheet.Before, sheet.After} {
			for _, f := range part.Fields {
				got[f.Label] = f.Value // “Weight” is the one after
			}
		}
		if s := got["Scale"].Text; s != tt.scale {
			t.Errorf("before in %q: scale %q, want %q", tt.before, s, tt.scale)
		}
		if u := got["Weight"].Unit; !strings.HasPrefix(u, tt.weight) || strings.Contains(u, "read in") != strings.Contains(tt.weight, "read in") {
			t.Errorf("after in %q: %q, want %q", tt.after, u, tt.weight)
		}
	}
}
