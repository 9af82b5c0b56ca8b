package session

import (
	"fmt"

	"ebbline/unit"
)

// The words of all remarks on a run, by code. Each holds the value that it was
// made for, and whose the bound is.

// facts are the values that a remark is worded from, written as they are read.
type facts struct {
	value string // that decided; empty where there is no figure
	was   string // what it is held against: the start, the running value, what was set or planned
	limit string // the bound
	whose string // who set it; of a low pressure empty for the program's own
	hard  bool   // too far out to go on with
	felt  bool   // as the person said, not by its figure

	since         string // when a pressure of the lines was at was, and left it by small steps
	catheter      bool   // the access is one: the second word of a pair is said
	flow, wasFlow string // now and at was, where a pressure fell against a change of flow; hard when it is lower
}

// by chooses the words of the access in a sentence of the program ([byAccess]).
func (f facts) by(sentence string) string { return byAccess(sentence, f.catheter) }

// against words how a pressure of the lines left what it is held against.
func (f facts) against() string {
	switch {
	case f.since != "":
		return ", was " + f.was + " at " + f.since + " at the same flow, and got there by small steps. "
	case f.flow != "" && f.hard:
		return ", was " + f.was + " at " + f.wasFlow + "; more than the lower flow, " + f.flow + ", explains. "
	case f.flow != "":
		return ", was " + f.was + " at " + f.wasFlow + "; lower though the flow is higher, " + f.flow + ". "
	}
	return ", was " + f.was + " at the same flow. "
}

// unitsPlan ends every word about a low pressure.
const unitsPlan = "Follow your unit's plan for low pressure."

// ringOdd ends every word about a pulse that is newly irregular.
const ringOdd = "Ring your unit now; with chest pain or short of breath, the ambulance."

// OneNeedleWords are what a page says where line pressures cannot be followed.
const OneNeedleWords = "One needle: line pressures rise and fall by themselves, so no fall or rise of them is remarked on. Look at the needle, the tape and the lines yourself."

// runWords are the words of every remark, by code.
var runWords = joined(ordinaryRunWords, treatmentRunWords)

var ordinaryRunWords = map[string]func(facts) string{
	"venous_fall": func(f facts) string {
		return "Venous " + f.value + f.against() + f.by("Look at both {needles and|connections and the} lines first.")
	},
	"venous_rise": func(f facts) string {
		return "Venous " + f.value + f.against() + f.by("Look at {needle|connection}, line and chamber.")
	},
	"arterial_fall": func(f facts) string {
		return "Arterial " + f.value + f.against() + f.by("Look at {needle|connection} and line.")
	},
	"arterial_rise": func(f facts) string {
		at := " at the same flow"
		if f.flow != "" {
			at = " at " + f.wasFlow
		}
		return "Arterial " + f.value + ", was " + f.was + at + f.by(". Is a {needle out|connection loose}, or a line open? Look there first, and for air.")
	},
	"low_pressure": func(f facts) string {
		began := "."
		if f.was != "" {
			began = "; you started at " + f.was + "."
		}
		switch {
		case f.value == "":
			return "Low pressure, no figure written. Measure it. " + unitsPlan
		case f.felt:
			return "You said low pressure; upper pressure " + f.value + began + " " + unitsPlan
		case f.limit != "":
			return "Upper pressure " + f.value + began + " Low by " + f.limit + ", " + ownDefault + ". " + unitsPlan
		case f.whose != "":
			return "Upper pressure " + f.value + began + " Low by the figure " + f.whose + ". " + unitsPlan
		}
		return "Upper pressure " + f.value + began + " Low by " + ownDefault + ". " + unitsPlan
	},
	"nadir": func(f facts) string {
		began := ""
		if f.was != "" {
			began = ", you started at " + f.was
		}
		return "Upper pressure " + f.value + began + ": counts as low pressure of the session. " + unitsPlan
	},
	"pulse_out": func(f facts) string {
		if f.was != "" {
			f.limit += ", up from " + f.was + " at the start"
		}
		switch {
		case f.felt && f.value == "":
			return "Pulse newly irregular, no figure written. Measure it. " + ringOdd
		case f.felt && f.limit == "":
			return "Pulse " + f.value + ", newly irregular. " + ringOdd
		case f.felt:
			return "Pulse " + f.value + ", " + f.limit + " (" + f.whose + "), and newly irregular. " + ringOdd
		}
		return "Pulse " + f.value + ", " + f.limit + " (" + f.whose + "). Measure it again; ring your unit if it stays so."
	},
	"conductivity_out": func(f facts) string {
		said := "Conductivity " + f.value + ", outside " + f.limit + " (" + ownDefault + "). "
		if f.was != "" {
			said = "Conductivity " + f.value + ", set is " + f.was + ". "
		}
		if f.hard {
			return said + "Wrong fluid? Is the machine in bypass? Your unit's steps for wrong fluid now."
		}
		return said + "Look at the concentrate and at what the machine shows."
	},
	"temperature_out": func(f facts) string {
		if f.hard {
			return "Dialysis fluid " + f.value + ", over " + f.limit + ". Is the machine in bypass? Your unit's steps for hot fluid now."
		}
		return "Dialysis fluid " + f.value + ", under " + f.limit + " (" + ownDefault + "). Is that meant?"
	},
	"tmp_high": func(f facts) string {
		return "TMP " + f.value + ", over " + f.limit + " (" + f.whose + "). Look at the dialyser and the lines."
	},
	"arterial_low": func(f facts) string {
		return "Arterial " + f.value + ", under " + f.limit + " (" + ownDefault + f.by("). Look at {needle|connection} and line, and at the blood flow.")
	},
	"chlorine_out": func(f facts) string {
		return "Total chlorine " + f.value + ", limit " + f.limit + " (" + f.whose + "). Wrong fluid: your unit's steps for it and its number now. " +
			"Pain or port-wine blood: the ambulance."
	},
	"unwell": func(f facts) string {
		if f.value == "" {
			return "Feeling unwell. Write how. Your unit's own card and its number are there."
		}
		if f.hard {
			return "Feeling unwell: “" + f.value + "”. Your unit's steps say whom to ring; without steps: the ambulance."
		}
		return "Feeling unwell: “" + f.value + "”. Your unit's own card and its number are there."
	},
	"fever": func(f facts) string {
		switch {
		case f.felt:
			return "“" + f.value + "”: chills count as fever. Take your temperature and ring your unit now."
		case f.was == "":
			return "Body temperature " + f.value + ". Ring your unit now, and say if you shiver."
		}
		return "Body temperature " + f.value + ", " + f.was + ". Ring your unit now, and say if you shiver."
	},
	"removal_behind": func(f facts) string { return "Removed " + f.value + ", planned by now " + f.was + ": behind. Why?" },
	"removal_ahead": func(f facts) string {
		return "Removed " + f.value + ", planned by now " + f.was + ": ahead. Look at rate and goal."
	},
	"goal_exceeded": func(f facts) string {
		return "Removed " + f.value + ", goal " + f.limit + ": over the goal. Look at the machine."
	},
	"blood_flow_low": func(f facts) string { return "Blood flow " + f.value + ", prescribed " + f.limit + ". Is that meant?" },
	"tmp_creeps": func(f facts) string {
		return "TMP " + f.value + ", was " + f.was + ": creeping up. Look at the dialyser."
	},
	"copied": func(f facts) string {
		return "The last " + f.value + " readings are the same in every figure. Were they read?"
	},
	"check_late": func(f facts) string { return "No reading since the one due at " + f.value + "." },
	"chlorine_again": func(f facts) string {
		if f.hard {
			return "Total chlorine is to be tested again: every " + f.limit + ", " + f.whose + "."
		}
		return "Total chlorine again at " + f.value + ", " + f.whose + "."
	},
}

// wordsOf gives the words of a remark; every code has its own.
func wordsOf(code string, f facts) string { return runWords[code](f) }

// askLowWords, askPulseWords and askPacemakerWords ask for a figure of the unit's
// own where the program's does not fit a person.
func askLowWords(low, of int) string {
	return fmt.Sprintf("You began under %s in %d of the last %d sessions. Ask your unit for its own figure for low pressure, then write it, or that it sets none.", lowStart.Text(), low, of)
}

func askPulseWords(out, of int) string {
	return fmt.Sprintf("Your pulse was out of its bounds in %d of the last %d sessions. Ask your unit for its own two figures, then write them, or that it sets none.", out, of)
}

const askPacemakerWords = "You have a pacemaker. Ask your unit for its own two figures for the pulse, then write them, or that it sets none."

// afterLowWords say which pressures after the treatment are low; both empty where
// none is.
func afterLowWords(lying, standing string, f facts) string {
	var said string
	switch {
	case lying != "" && standing != "":
		said = "lying " + lying + ", standing " + standing
	case lying != "":
		said = "lying " + lying
	case standing != "":
		said = "standing " + standing
	default:
		return ""
	}
	if f.was != "" {
		said += "; you started at " + f.was
	}
	whose := ownDefault
	if f.whose != "" {
		whose = "the figure " + f.whose
	}
	return "Upper pressure after coming off " + said + ". Low by " + whose + ". " + unitsPlan
}

// heldWords say what a low pressure, removal that was off, or a cramp keeps from
// what is to be set.
func heldWords(h *Hold, lost, saline unit.Volume) []string {
	var said []string
	switch {
	case h == nil:
	case h.Said != "" && h.Whose != "":
		said = append(said, "No more than "+h.Rate.Text()+", the limit ("+h.Whose+"), whatever your unit said at "+clock(h.SaidAt)+" (“"+h.Said+"”). Ring it again.")
	case h.Said != "":
		said = append(said, "No more than "+h.Rate.Text()+", as your unit said at "+clock(h.SaidAt)+" (“"+h.Said+"”).")
	case h.Before:
		said = append(said, "After the low pressure nothing is caught up: no more than "+h.Rate.Text()+", as it was set before. Ask your unit.")
	default:
		said = append(said, "After the low pressure nothing is caught up: no more than "+h.Rate.Text()+", the limit ("+h.Whose+"). Ask your unit.")
	}
	if lost > 0 {
		said = append(said, "Removal was off: about "+lost.Text()+" of the goal did not come off then and is not made good. Ask your unit.")
	}
	if saline > 0 {
		said = append(said, "Saline "+saline.Text()+", not in the goal: ask your unit.")
	}
	return said
}
