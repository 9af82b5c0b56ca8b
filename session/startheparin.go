package session

import (
	"strings"
	"time"

	"ebbline/unit"
)

// heparin is what is in the syringe against what was prescribed.
func (l startLine) heparin(v *verdict) {
	none := l.heparinless()
	b, _ := lastBy[HeparinDrawn](l.s, l.at)
	if !none || b != nil {
		judgedApart(l, v, startLine.heparinHeld)
	}
	switch {
	case b != nil:
		judgedApart(l, v, startLine.heparinInHand)
	case none:
		v.ready("heparin_none")
	default:
		v.open(nil, "heparin_open")
	}
}

// heparinless reports whether no heparin is prescribed.
func (l startLine) heparinless() bool { return l.rx.NoHeparin() }

// heparinInHand judges one draw. A dose that was another than prescribed stays in
// sight when the right one follows: which of the two syringes is in the hand is not
// in the record. What a draw left out, and a label that was only to be read again,
// does not: bolus and pump may be two draws.
func (l startLine) heparinInHand(v *verdict, b *HeparinDrawn, e *Event) {
	if l.heparinless() {
		v.stop(e, "heparin_unasked", doseText(b.Bolus+b.Line)).staysIf(b.Bolus+b.Line > 0)
		return
	}
	if v.blank(e, "strength_iu_ml", "bolus_iu", "line_iu") {
		return
	}
	for _, f := range heparinAgainst(l.rx, *b, l.h.Strength, l.length()) {
		f.state = StopHere
		f.by(e)
		switch f.code {
		case "heparin_bolus":
			f.staysIf(b.Bolus > 0)
		case "heparin_pump":
			f.staysIf(b.Line > 0)
		case "heparin_bolus_unasked", "heparin_volume", "heparin_label_differs":
			f.stays(looked)
		}
		v.add(f)
	}
	if l.rx.Heparin == "low_molecular" && l.rx.HepBolus == nil {
		v.look(e, "heparin_no_dose")
	}
	l.shelfSays(v, e)
	if ordered := l.rx.HepStrength; ordered != nil && *ordered != b.Strength {
		v.look(e, "heparin_other", doseText(b.Bolus+b.Line), strengthText(b.Strength), strengthText(*ordered))
		return
	}
	v.ready("heparin_prescribed", doseText(b.Bolus+b.Line), strengthText(b.Strength))
}

// heparinHeld holds heparin back for what one answer told of.
func (l startLine) heparinHeld(v *verdict, fit *Fitness, e *Event) {
	if why := heldFor(fit); why != "" {
		v.ring(e, "heparin_hold", why).stays(looked)
	}
}

// length is the planned length at the start line: agreed, else prescribed.
func (l startLine) length() unit.Minutes {
	if b, _ := planOrPaper(l.s, l.at); b != nil {
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
