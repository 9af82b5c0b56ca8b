package report

import (
	"strings"
	"testing"

	"ebbline/session"
	"ebbline/unit"
)

// The lock of a catheter has a row of its own beside the heparin, on page and print:
// a blank to write in while it was not read, none where there is no catheter.
func TestLockOnTheSheet(t *testing.T) {
	row := func(s Sheet) (Value, bool) {
		for _, f := range s.Opened.Fields {
			if f.Label == "Catheter lock" {
				return f.Value, true
			}
		}
		return Value{}, false
	}
	one := evening(t)
	if v, there := row(SheetOf(SheetInput{Head: ilsabet, Session: one, Now: made})); there {
		t.Errorf("on a fistula: %+v", v)
	}
	rx := *one.Rx
	rx.Access = "catheter"
	one.Rx = &rx
	if v, there := row(SheetOf(SheetInput{Head: ilsabet, Session: one, Now: made})); !there || !v.Blank() {
		t.Errorf("not read: %+v %v", v, there)
	}
	d := newDiary(t, "Europe/Oslo", "2026-03-03")
	for _, e := range one.Log {
		d.s.Add(e)
	}
	d.n, d.s.Rx = 700, &rx
	percent, iu := unit.Content(135), unit.Strength(500)
	d.add(d.at(17, 50), &session.CatheterLock{Name: "taurolidine", Content: &percent, Strength: &iu, Arterial: 160, Venous: 170, Lot: "K-5", Expiry: unit.NewDate(2027, 1, 31)})
	s := SheetOf(SheetInput{Head: ilsabet, Session: d.s, Now: made})
	for where, text := range map[string]string{"the page": pageOf(t, s, printing), "the print": sheetFile(t, s, printing).words()} {
		text = strings.ReplaceAll(strings.Join(strings.Fields(text), " "), "\u00a0", " ")
		for _, want := range []string{"Catheter lock", "taurolidine 1.35 % with 500 IU/mL", "arterial 1.6 mL, venous 1.7 mL", "K-5"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s does not hold %q", where, want)
			}
		}
	}
}
