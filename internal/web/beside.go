package web

import (
	"fmt"

	"ebbline/record"
	"ebbline/session"
)

// besideForm is what a page says next to a form: the order of looking, the
// unit's own rule, never a dose.
func besideForm(v visit, kind *record.Kind) (notes, asks []string) {
	rx := v.session.Rx
	switch kind.Name {
	case "fitness":
		if said := session.SinceLast(v.session, v.member.History(v.session), v.now).Said(); said.State != session.Ready {
			asks = append(asks, said.Words)
		}
	case "vitals_before":
		notes = append(notes, vitalsNotes(unableAt(v), momentOf(v))...)
		if rx != nil {
			notes = append(notes, notThisArm(rx.AccessSide)...)
		}
	case "vitals_after":
		notes = append(notes, "Lying, then standing after five minutes, somebody near if you feel faint.")
		if rx != nil {
			notes = append(notes, notThisArm(rx.AccessSide)...)
		}
	case "glucose":
		notes = append(notes, "Wash your hands first. One of the three: the number in the meter’s own unit, or that it shows none.")
		asks = append(asks, session.SugarSteps)
	case "chlorine":
		notes = append(notes, "Total chlorine, after five to fifteen minutes of running (common practice). Read the strip in its own time.")
	case "self_test":
		notes = append(notes, "Count every try. A test that passes at the third try is worth a call to the technician.")
	case "bath_label":
		notes = append(notes, "Type what the label in your hand says, not what it ought to say.")
		if v.session.Machine.Fluid() == session.FluidBags {
			notes = append(notes, "One entry for each lot. Look at every bag: seal whole, no leak, fluid clear.")
		}
	case "catheter_lock":
		words := "Type what the vial and the lumens say, not what they ought to say."
		if rx != nil && rx.LockName != "" {
			words = "Your unit ordered " + rx.LockName + ". " + words
		}
		notes = append(notes, words)
	case "fluid_check":
		notes = append(notes, "Two instruments, two values. Never copy the one from the other.")
	case "alarm", "needle_adjusted":
		asks = append(asks, rx.InWords("Look at both {needles|connections} and the lines first, then at the machine."))
	case "low_pressure":
		asks = append(asks, "Your unit’s plan for low pressure comes first.")
		if rx != nil && (rx.FallBelow != nil || rx.FallBy != nil) {
			notes = append(notes, "Your unit’s figures for acting: "+fallRule(rx)+".")
		}
	case "saline":
		notes = append(notes, "By your unit’s own plan. Given for low pressure or cramp it is not added to what is still to come off: ask your unit.")
	case "anaesthetic_drawn":
		if sum, err := session.SumAnaesthetic(v.session); err == nil {
			notes = append(notes, fmt.Sprintf("Drawn up so far %.4g mg of at most %.4g mg: %s.", sum.TotalMg, sum.LimitMg, sum.Whose))
		}
	case "holding":
		notes = append(notes, "Press without peeking, and not so hard that the thrill stops (common practice: ten minutes).")
	case "came_off":
		notes = append(notes, "Type the machine’s own total of what it removed.")
	case "goal_changed":
		notes = append(notes, "Type what the machine shows now. The heparin stop moves with the end.")
	}
	return notes, asks
}

func notThisArm(side string) []string {
	switch side {
	case "left_arm":
		return []string{"Not on the left arm: that is the access arm."}
	case "right_arm":
		return []string{"Not on the right arm: that is the access arm."}
	}
	return nil
}

func fallRule(rx *session.Prescription) string {
	switch {
	case rx.FallBelow != nil && rx.FallBy != nil:
		return "below " + rx.FallBelow.Text() + ", or down by " + rx.FallBy.Text()
	case rx.FallBelow != nil:
		return "below " + rx.FallBelow.Text()
	}
	return "down by " + rx.FallBy.Text()
}
