package report

import (
	"strings"
	"testing"

	"ebbline/session"
	"ebbline/unit"
)

// What went wrong, what was switched off and what was looked at stands on the sheet
// in plain words, with who of the unit said what.
func TestTroubleOnTheSheet(t *testing.T) {
	d := newDiary(t, "Europe/Oslo", "2026-03-03")
	d.add(d.at(17, 0), &session.Opened{Place: "home", Source: "live", Confirmed: true})
	d.add(d.at(18, 0), &session.Connected{})
	d.add(d.at(19, 0), &session.Trouble{Trouble: session.TroubleFluid, State: session.TroubleOpen, Words: "39 on the display"})
	d.add(d.at(19, 1), &session.RemovalOff{Why: "the nurse said so"})
	d.add(d.at(19, 5), &session.Trouble{Trouble: session.TroubleFluid, State: session.TroubleOver, Said: "Sister Berg: it has cooled"})
	d.add(d.at(19, 6), &session.RemovalOn{})
	d.add(d.at(19, 7), &session.GoalChanged{Goal: 2000, Why: "less time", Unit: "Sister Berg"})
	d.add(d.at(19, 30), &session.Reading{Pulse: ptr(unit.Pulse(88)), Removed: ptr(unit.Volume(900)), Irregular: true})
	d.add(d.at(20, 0), &session.Reading{Pulse: ptr(unit.Pulse(80)), Removed: ptr(unit.Volume(100)), Again: true, Note: "power was off"})
	d.add(d.at(20, 58), &session.WashbackChecked{Saline: true, Clamp: true, Venous: true})
	d.add(d.at(21, 0), &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(1100))})
	s := SheetOf(SheetInput{Head: ilsabet, Session: d.s, Now: d.at(22, 0)})
	has(t, "the page", pageOf(t, s, printing), "Something is wrong", "“Fluid too hot or wrong” it is happening, 39 on the display",
		"“Fluid too hot or wrong” it is over, your unit said: Sister Berg: it has cooled",
		"Removal off", "the nurse said so", "Removal on again", "less time, your unit said so: Sister Berg",
		"saline hangs on the arterial line, its clamp is open, the venous line still runs to me", "pulse newly irregular",
		"count began again: what it showed before is added to it; power was off", "2000 mL in all, 1100 mL since the count began again")
	// A line of the paper may break between two words.
	has(t, "the PDF", sheetFile(t, s, printing).words(), "happening", "39", "cooled", "Removal off", "Removal on again", "less", "Berg", "saline",
		"irregular", "power", "2000 mL", "1100 mL")
}

// Blood given back while it was to stay out is said in words, on the page and on
// paper, and so is what was never over; neither is said where it is not so (H-138).
func TestBloodGivenBackPastATroubleOnTheSheet(t *testing.T) {
	for name, tt := range map[string]struct {
		returned     string
		open, closed bool
	}{"given back": {"all", true, true}, "out": {"none", true, true}, "nothing wrong": {"all", false, true}, "not closed": {"all", true, false}} {
		d := newDiary(t, "Europe/Oslo", "2026-03-03")
		d.add(d.at(17, 0), &session.Opened{Place: "home", Source: "live", Confirmed: true})
		d.add(d.at(18, 0), &session.Connected{})
		if tt.open {
			d.add(d.at(19, 0), &session.Trouble{Trouble: session.TroubleAir, State: session.TroubleOpen})
		}
		d.add(d.at(21, 0), &session.CameOff{Returned: tt.returned, Removed: ptr(unit.Volume(1100))})
		if tt.closed {
			d.add(d.at(22, 0), &session.Closed{})
		}
		s := SheetOf(SheetInput{Head: ilsabet, Session: d.s, Now: d.at(23, 0)})
		page, paper := pageOf(t, s, printing), flow(sheetFile(t, s, printing).words())
		for words, want := range map[string]bool{
			"Blood was given back while “Air or foam” was open since 19:00.": tt.open && tt.returned == "all",
			"“Air or foam”, since 19:00, was never over":                     tt.open && tt.closed,
		} {
			if strings.Contains(flow(page), words) != want || strings.Contains(paper, words) != want {
				t.Errorf("%s: %q on the page %t, on paper %t, want %t", name, words, strings.Contains(flow(page), words), strings.Contains(paper, words), want)
			}
		}
	}
}

// A low pressure after which two readings were inside does not stand there as never
// over.
func TestLowPressureOverByItselfOnTheSheet(t *testing.T) {
	for _, after := range []int{124, 80} {
		d := newDiary(t, "Europe/Oslo", "2026-03-03")
		d.add(d.at(17, 0), &session.Opened{Place: "home", Source: "live", Confirmed: true})
		d.add(d.at(18, 0), &session.Connected{})
		d.add(d.at(18, 30), &session.Reading{Systolic: ptr(unit.Pressure(128))})
		d.add(d.at(19, 0), &session.Trouble{Trouble: session.TroubleLow, State: session.TroubleOpen})
		d.add(d.at(19, 5), &session.Reading{Systolic: ptr(unit.Pressure(121))})
		d.add(d.at(19, 20), &session.Reading{Systolic: ptr(unit.Pressure(after))})
		d.add(d.at(21, 0), &session.CameOff{Returned: "all", Removed: ptr(unit.Volume(1100))})
		d.add(d.at(22, 0), &session.Closed{})
		page := flow(pageOf(t, SheetOf(SheetInput{Head: ilsabet, Session: d.s, Now: d.at(23, 0)}), printing))
		if got := strings.Contains(page, "was never over"); got != (after < 100) {
			t.Errorf("then %d: said to be open is %v", after, got)
		}
	}
}

// A low pressure after the treatment is said beside its figure.
func TestLowAfterOnTheSheet(t *testing.T) {
	for _, standing := range []int{74, 118} {
		d := newDiary(t, "Europe/Oslo", "2026-03-03")
		d.add(d.at(17, 0), &session.Opened{Place: "home", Source: "live", Confirmed: true})
		d.add(d.at(17, 10), &session.VitalsBefore{SitSystolic: ptr(unit.Pressure(130)), SitDiastolic: ptr(unit.Pressure(76))})
		d.add(d.at(18, 0), &session.Connected{})
		d.add(d.at(21, 0), &session.CameOff{Returned: "all", Removed: ptr(unit.Volume(1100))})
		d.add(d.at(21, 20), &session.VitalsAfter{LieSystolic: ptr(unit.Pressure(121)), LieDiastolic: ptr(unit.Pressure(70)), StandSystolic: ptr(unit.Pressure(standing)), StandDiastolic: ptr(unit.Pressure(50))})
		s := SheetOf(SheetInput{Head: ilsabet, Session: d.s, Now: d.at(23, 0)})
		for where, text := range map[string]string{"page": flow(pageOf(t, s, printing)), "paper": flow(sheetFile(t, s, printing).words())} {
			if got := strings.Contains(text, "Upper pressure after coming off standing 74; you started at 130."); got != (standing < 100) {
				t.Errorf("standing %d, on the %s: %v", standing, where, got)
			}
		}
	}
}
