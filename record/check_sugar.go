package record

import (
	"slices"

	"ebbline/session"
	"ebbline/unit"
)

// The values of a blood sugar that suit the other unit: no meter at home shows them in
// their own (about 1.1 to 33.3 mmol/L, 20 to 600 mg/dL; from memory).
const (
	mmolSuitsMg unit.Molar   = 35_00 // over it
	mgSuitsMmol unit.MgPerDl = 10_0  // under it
)

// checkGlucose takes one of the three that a meter can show. A number that only the other
// unit explains is refused in words that name that unit: typed twice, 60 mg/dL would go
// in as 60 mmol/L, and a low sugar as a high one. What both explain is asked about.
func checkGlucose(c *Checker) {
	b := c.Entry.Body.(*session.Glucose)
	given := 0
	for _, is := range []bool{b.Value != nil, b.Mg != nil, b.Shows != ""} {
		if is {
			given++
		}
	}
	c.something("glucose_mmol_l")
	switch {
	case given > 1 && b.Shows != "":
		c.Refuse("shows", "cannot stand beside a number; leave the one or the other blank")
	case given > 1:
		c.Refuse("glucose_mg_dl", "cannot stand beside mmol/L; write what your meter shows, once")
	}
	if b.Value != nil && c.asks("glucose_mmol_l") && *b.Value > 1000 {
		c.otherUnit("glucose_mmol_l", "%s is outside 1.5 to 20. Does your meter show mg/dL? Then type it there", b.Value.Text())
	}
	if b.Mg != nil && c.asks("glucose_mg_dl") && *b.Mg < 36_0 {
		c.otherUnit("glucose_mg_dl", "%s is outside 36 to 360. Does your meter show mmol/L? Then type it there", b.Mg.Text())
	}
}

// otherUnit puts a question that names the other unit in the place of the one that names
// the bounds alone.
func (c *Checker) otherUnit(field, format string, args ...any) {
	c.found = slices.DeleteFunc(c.found, func(f Finding) bool { return f.Field == field && f.Step == Ask })
	c.askRight(field, format, args...)
}

// sugarUnit says which unit a refused blood sugar suits, in the place of its bounds.
func (c *Checker) sugarUnit() {
	b, is := c.Entry.Body.(*session.Glucose)
	if !is {
		return
	}
	say := func(field, words string) {
		for i := range c.found {
			if f := &c.found[i]; f.Field == field && f.Step == Refuse {
				f.Words = words
			}
		}
	}
	if b.Value != nil && *b.Value > mmolSuitsMg {
		say("glucose_mmol_l", b.Value.Text()+" is more than a meter shows. Is it mg/dL? Then type it there, and leave this blank")
	}
	if b.Mg != nil && *b.Mg < mgSuitsMmol {
		say("glucose_mg_dl", b.Mg.Text()+" is less than a meter shows. Is it mmol/L? Then type it there, and leave this blank")
	}
}

// sugar keeps a figure and hours of the blood sugar from standing without the mark that
// they belong to.
func sugar(c *Checker, p *session.Prescription) {
	if !p.GlucoseMarked && (p.GlucoseLow != nil || p.GlucoseEvery != nil) {
		c.Refuse("glucose_marked", "is not ticked, but its figure or its hours are written")
	}
}
