package session

import (
	"strings"
	"time"

	"ebbline/unit"
)

// A lotSeen is one lot of the session with its expiry.
type lotSeen struct {
	what   string
	lot    string
	expiry unit.Date
	event  *Event
}

// lotsOf lists every lot written in a session, in order of time. The chlorine
// test and the bath have checks of their own.
func lotsOf(s *Session) []lotSeen {
	var out []lotSeen
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil {
			continue
		}
		switch b := e.Body.(type) {
		case *Supply:
			out = append(out, lotSeen{b.Item, b.Lot, b.Expiry, e})
		case *HeparinDrawn:
			out = append(out, lotSeen{"heparin", b.Lot, b.Expiry, e})
		case *AnaestheticDrawn:
			out = append(out, lotSeen{"local anaesthetic", b.Lot, b.Expiry, e})
		case *FlushDrawn:
			out = append(out, lotSeen{"saline flush", b.Lot, b.Expiry, e})
		}
	}
	return out
}

func (l startLine) lots(v *verdict) {
	supplies, seen := 0, 0
	today := unit.DateOf(l.at)
	for _, lot := range lotsOf(l.s) {
		if lot.event.At.After(l.at) {
			continue
		}
		v.from(lot.event)
		seen++
		if _, ok := lot.event.Body.(*Supply); ok {
			supplies++
		}
		switch {
		case !lot.expiry.IsZero() && lot.expiry.Before(today):
			v.find(StopHere, "%s expired %s. Use one in date.", capital(lot.what), lot.expiry.Long())
		case lot.expiry.IsZero() && lot.event.Missing["expiry"] != DoesNotApply:
			v.find(OpenYet, "Expiry of %s not written.", lot.what)
		}
	}
	if supplies == 0 {
		v.find(OpenYet, "No lots written: dialyser, lines, needles.")
	}
	v.find(Green, "%d lots, all in date.", seen)
}

func (l startLine) heparin(v *verdict) {
	rx := l.rx
	fit, told := lastBy[Fitness](l.s, l.at)
	b, e := lastBy[HeparinDrawn](l.s, l.at)
	v.from(told)
	v.from(e)
	none := rx.Heparin == "" || rx.Heparin == "none"
	if why := heldFor(fit); why != "" && !(none && b == nil) {
		v.find(StopHere, "%s", holdHeparin(why))
	}
	switch {
	case none && b == nil:
		v.find(Green, "None prescribed.")
		return
	case none:
		v.find(StopHere, "None prescribed, but %s was drawn up.", doseText(b.Bolus+b.Line))
		return
	case b == nil:
		v.find(OpenYet, "Not drawn up yet.")
		return
	}
	if v.blank(e, "strength_iu_ml", "bolus_iu", "line_iu") {
		return
	}
	for _, d := range HeparinAgainst(rx, *b, l.h.Strength, l.length()) {
		v.find(StopHere, "%s", d)
	}
	if rx.Heparin == "low_molecular" && rx.HepBolus == nil {
		v.find(Amber, "No dose in IU is prescribed to compare with.")
	}
	v.find(Green, "%s from %s, as prescribed.", doseText(b.Bolus+b.Line), strengthText(b.Strength))
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

func holdHeparin(why string) string {
	return "Hold heparin: " + why + ". Ring before you give any."
}

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
	if fit.Procedure {
		why = append(why, "dentist or operation soon")
	}
	return strings.Join(why, ", ")
}
