package report

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// A sheet says where the fluid was from: the batch with its use-by and its tests, each
// lot of bags as it was looked at; and of a blank whether the fluid explains it.
func TestFluidOnTheSheet(t *testing.T) {
	made := func(kind string, h session.History, bodies ...any) string {
		d := newDiary(t, "Europe/Oslo", "2026-03-03")
		d.s.Machine.Kind = kind
		d.add(d.at(17, 0), &session.Opened{Place: "home", Source: "live", Confirmed: true})
		for i, b := range bodies {
			d.add(d.at(17, 5+i), b)
		}
		d.add(d.at(18, 0), &session.Connected{})
		s := SheetOf(SheetInput{Head: ilsabet, Session: d.s, History: h, Now: d.at(20, 0)})
		page, print := pageOf(t, s, printing), sheetFile(t, s, printing).words()
		plain := func(text string) string {
			return strings.NewReplacer("\u00a0", " ", "&lt;", "<").Replace(strings.Join(strings.Fields(text), " "))
		}
		return plain(page) + "\n" + plain(print)
	}
	at := time.Date(2026, 3, 2, 20, 10, 0, 0, time.UTC)
	batch := session.Batch{ID: "b1", At: at, BatchMade: session.BatchMade{
		Name: "7", Within: ptr(unit.Hours(7200)), K: ptr(unit.Molar(200)), Ca: ptr(unit.Molar(150)), Lot: "A-31"}}
	batch.Log = []session.Event{
		{Kind: "chlorine", At: at.Add(20 * time.Minute), Body: &session.Chlorine{Below: true, Result: 20, ReadsDown: 20}},
		{Kind: "fluid_check", At: at.Add(30 * time.Minute), Body: &session.FluidCheck{MachineConduct: 1390, MeterConduct: 1395}},
	}
	for _, tt := range []struct {
		name, text string
		holds      []string
		never      string
	}{
		{"a batch", made("batch", session.History{Batches: []session.Batch{batch}}, &session.BatchUsed{Batch: "b1"}), []string{
			"batch “7” of Mon 20:10, use by Thu 20:10, K 2, Ca 1.5, lot A-31", "Mon 20:30: total chlorine less than 0.02 mg/L",
			"Mon 20:40: conductivity: machine 13.90 mS/cm, own meter 13.95 mS/cm", "see the batch",
		}, "ready bags"},
		{"a batch that is gone", made("batch", session.History{}, &session.BatchUsed{Batch: "b1"}), []string{"struck out, or of another machine"}, "see the batch"},
		{"no batch", made("batch", session.History{}), nil, "see the batch"},
		{"bags", made("bags", session.History{},
			&session.BathLabel{K: 200, Ca: 150, Lot: "S-1", Seal: "yes", Clear: "yes"}, &session.BathLabel{K: 200, Ca: 150, Lot: "S-2", Seal: "no", Clear: "yes"}), []string{
			"does not apply, ready bags", "lot S-1, seal whole, clear", "lot S-2, SEAL NOT WHOLE, clear",
		}, "see the batch"},
		{"tap water", made("single_pass", session.History{}), nil, "ready bags"},
	} {
		page, print, _ := strings.Cut(tt.text, "\n")
		for where, text := range map[string]string{"page": page, "print": print} {
			for _, want := range tt.holds {
				missing := !strings.Contains(text, want)
				if where == "print" { // it is broken into lines beside another column
					missing = slices.ContainsFunc(strings.Fields(want), func(word string) bool { return !strings.Contains(text, word) })
				}
				if missing {
					t.Errorf("%s: the %s does not hold %q", tt.name, where, want)
				}
			}
			if strings.Contains(text, tt.never) {
				t.Errorf("%s: the %s holds %q", tt.name, where, tt.never)
			}
		}
	}
}

// Where fluid is only removed the sheet has no line about the dialysis fluid, unless one
// was written.
func TestNoFluidOnTheSheetOfRemovalOnly(t *testing.T) {
	page := func(only bool, bodies ...any) string {
		d := newDiary(t, "Europe/Oslo", "2026-03-03")
		d.s.Machine.Kind = "batch"
		d.s.Rx = &session.Prescription{BathK: 200, BathCa: 150, BloodFlow: 300, DialFlow: ptr(unit.Flow(500))}
		d.add(d.at(17, 0), &session.Opened{Place: "home", Source: "live", Confirmed: true, RemovalOnly: only})
		for i, b := range bodies {
			d.add(d.at(17, 5+i), b)
		}
		d.add(d.at(18, 0), &session.Connected{})
		return pageOf(t, SheetOf(SheetInput{Head: ilsabet, Session: d.s, Now: d.at(20, 0)}), printing)
	}
	lines := []string{">Bath<", ">Bath label<", ">Conductivity<", ">pH<", "dialysate 500"}
	dialysis, only := page(false), page(true)
	for _, one := range lines {
		if !strings.Contains(dialysis, one) || strings.Contains(only, one) {
			t.Errorf("%s: with dialysis %v, removal only %v", one, strings.Contains(dialysis, one), strings.Contains(only, one))
		}
	}
	if !strings.Contains(page(true, &session.BathLabel{K: 200, Ca: 150, Lot: "S-1"}), "S-1") {
		t.Error("a label that was written is not on the sheet")
	}
}
