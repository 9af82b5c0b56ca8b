package session

import (
	"strings"
	"time"

	"ebbline/unit"
)

// heparin is what is in the syringe against what was prescribed.
func (l startLine) heparin(v *verdict) {
	rx := l.rx
	b, e := lastBy[HeparinDrawn](l.s, l.at)
	none := rx.Heparin == "" || rx.Heparin == "none"
	if !none || b != nil {
		judged(l, v, startLine.heparinHeld)
	}
	switch {
	case none && b == nil:
		v.ready("heparin_none")
		return
	case none:
		v.stop(e, "heparin_unasked", doseText(b.Bolus+b.Line))
		return
	case b == nil:
		v.open(nil, "heparin_open")
		return
	}
	if v.blank(e, "strength_iu_ml", "bolus_iu", "line_iu") {
		return
	}
	for _, f := range heparinAgainst(rx, *b, l.h.Strength, l.length()) {
		f.state = StopHere
		f.by(e)
		v.add(f)
	}
	if rx.Heparin == "low_molecular" && rx.HepBolus == nil {
		v.look(e, "heparin_no_dose")
	}
	if rx.HepStrength != nil && *rx.HepStrength != b.Strength {
		v.look(e, "heparin_other", doseText(b.Bolus+b.Line), strengthText(b.Strength), strengthText(*rx.HepStrength))
		return
	}
	v.ready("heparin_prescribed", doseText(b.Bolus+b.Line), strengthText(b.Strength))
	judged(l, v, shelfSaysOf[HeparinDrawn])
}

// heparinHeld holds heparin back for what one answer told of.
func (l startLine) heparinHeld(v *verdict, fit *Fitness, e *Event) {
	if why := heldFor(fit); why != "" {
		v.ring(e, "heparin_hold", why).stays(looked)
	}
}

// length is the planned length at the start line: agreed, else prescribed.
func (l startLine) length() unit.Minutes {
	if b, _ := lastBy[AgreedPlan](l.s, l.at); b != nil {
		return b.Length
	}
	length, _, err := l.rx.SessionLength()
	if err != nil {
		return 0
	}
	return length
}

// HoldHeparin says that heparin waits for a word from the unit and why, by what
// the person last told of themselves; it is empty while nothing holds it.
func HoldHeparin(s *Session, at time.Time) string {
	fit, _ := lastBy[Fitness](s, at)
	if why := heldFor(fit); why != "" {
		return holdHeparin(why)
	}
	return ""
}

func holdHeparin(why string) string { return worded("heparin_hold", why) }

// heldFor says why heparin waits for a word from the unit, or nothing.
func heldFor(fit *Fitness) string {
	if fit == nil {
		return ""
	}
	var why []string
	if fit.Bleeding {
		why = append(why, "bleeding")
	}
	if fit.Fall {
		why = append(why, "fall or knock")
	}
	if fit.Thinner {
		why = append(why, "new blood thinner")
	}
	if fit.Procedure {
		why = append(why, "dentist or operation soon")
	}
	return strings.Join(why, ", ")
}
