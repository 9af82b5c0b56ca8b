package session

import "time"

// SheetFor gives the steps of one part of a session at a moment, for every page and
// paper that shows or counts them. own is the household's own sheet, one without steps
// where it has none; the program's general steps are then those that access and machine
// ask for. Setting up is fitted to the treatment besides:
//
//   - the general steps to how the machine makes its fluid ([FitFluid])
//   - no step for heparin where none is ordered, unless some was written down as drawn up
//   - no step of the dialysis fluid where fluid is only removed ([WithoutFluid])
//   - the steps of a night in a night ([IsNight])
func SheetFor(phase string, own RunSheet, s *Session, now time.Time) RunSheet {
	sheet := own
	if len(own.Steps) == 0 || own.IsGeneral() {
		sheet = DefaultSheet(phase, s.Rx, s.Machine)
	}
	if phase == TakeOff {
		return sheet
	}
	sheet = FitFluid(sheet, s.Machine)
	if s.Rx.NoHeparin() && !s.Has("heparin_drawn") {
		sheet = sheet.WithoutHeparin()
	}
	if s.RemovalOnly() {
		sheet = WithoutFluid(sheet, s.Machine)
	}
	if IsNight(s, now) {
		sheet = WithNightFor(sheet, s.Rx)
	}
	return sheet
}
