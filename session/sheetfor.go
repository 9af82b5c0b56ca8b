package session

import (
	"slices"
	"time"
)

// SheetFor gives the steps of one part of a session at a moment, for every page and
// paper that shows or counts them. own is the household's own sheet, one without steps
// where it has none; the program's general steps are then those that access and machine
// ask for. Setting up is fitted to the treatment besides:
//
//   - the general steps to how the machine makes its fluid ([FitFluid])
//   - no step for heparin where none is ordered, unless some was written down as drawn up
//   - no step of the dialysis fluid where fluid is only removed ([WithoutFluid])
//   - the unit's paper in the place of the plan where none is made, as far as the session
//     tells; a pregnancy written of the person alone is known once the paper is typed
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
	if no := NoPlanOf(s, History{}, now); no != nil || s.Has("paper_plan") {
		sheet = sheet.byPaper()
	}
	if IsNight(s, now) {
		sheet = WithNightFor(sheet, s.Rx)
	}
	return sheet
}

// byPaper is the sheet with the unit's paper where the general step reads a plan.
func (r RunSheet) byPaper() RunSheet {
	r.Steps = slices.Clone(r.Steps)
	for i := range r.Steps {
		if one := &r.Steps[i]; one.ID == "plan" && one.Words == planStep {
			one.Words = "Your unit’s paper: type what it says"
		}
	}
	return r
}
