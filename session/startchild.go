package session

import "strings"

// The vitals of a child before the start. What an adult's pressure and pulse should be
// says nothing of a child, whose change with age and height: only the unit's own figures
// judge them. A fever, a drop on standing up and a pulse as slow as potassium makes it
// ([startLine.slowPulse]) are judged as ever.

// unheld says once that figures of the unit are not written, where a child is judged by
// nothing else. They are asked for on Unit too; see [AskedOfUnit].
func (l startLine) unheld(v *verdict) {
	if !l.s.Child {
		return
	}
	var list []string
	for _, a := range childAsks(&l.rx.Limits) {
		list = append(list, a.what)
	}
	if len(list) > 0 {
		v.look(nil, "vitals_unheld", strings.Join(list, ", "))
	}
}

// A childAsk is what the unit is asked for where nothing else judges a child.
type childAsk struct {
	code, what string
	keys       []string
}

// childAsks lists what the unit has written no figures for, of what only its own judge
// in a child. What it was said to set none of is not asked for.
func childAsks(l *Limits) (list []childAsk) {
	if l.SystolicLow == nil || l.SystolicHi == nil {
		list = append(list, childAsk{AskStart, "blood pressure before the start", startKeys})
	}
	if !l.PulseKnown() {
		list = append(list, childAsk{AskPulse, "pulse", pulseKeys})
	}
	if !l.FallKnown() {
		list = append(list, childAsk{AskFall, "low pressure while running", actKeys})
	}
	return list
}

// systolicBounds are the bounds of the upper pressure where the unit did not set
// both, each with whose it is; of a child only the unit's.
func (l startLine) systolicBounds() string {
	rx := l.rx
	low, high := startSystolicLow.String(), startSystolicHigh.Text()
	switch {
	case l.s.Child && rx.SystolicLow != nil:
		return "from " + rx.SystolicLow.Text() + ", " + setByUnit(rx)
	case l.s.Child && rx.SystolicHi != nil:
		return "to " + rx.SystolicHi.Text() + ", " + setByUnit(rx)
	case l.s.Child:
		return ""
	case rx.SystolicLow != nil:
		return rx.SystolicLow.Text() + ", " + setByUnit(rx) + "; to " + high + ", " + ownDefault
	case rx.SystolicHi != nil:
		return startSystolicLow.Text() + ", " + ownDefault + "; to " + rx.SystolicHi.Text() + ", " + setByUnit(rx)
	}
	return low + " to " + high + ", " + ownDefault
}
