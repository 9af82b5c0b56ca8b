package session

import (
	"fmt"
	"time"

	"ebbline/unit"
)

// A Label is what to write or print on a syringe, line by line. Units are
// written out and a figure never ends in a bare zero after a point, because
// "U" has been read as 0 and "1.0" as 10 (ISMP list of error-prone
// abbreviations, from memory).
type Label struct {
	Lines []string
}

// HeparinLabels words the labels of the bolus and of the pump's syringe, each
// left out when there is none.
func HeparinLabels(person string, h HeparinDrawn, at time.Time) []Label {
	var out []Label
	for _, p := range []struct {
		what string
		dose unit.Dose
		vol  unit.Drawn
	}{{"bolus", h.Bolus, h.BolusVol}, {"for the pump", h.Line, h.LineVol}} {
		if p.dose > 0 {
			out = append(out, Label{Lines: []string{
				"Heparin, " + p.what,
				thousands(int64(p.dose)) + " international units",
				"= " + p.vol.Text() + " of " + thousands(int64(h.Strength)) + " units in each mL",
				"Lot " + h.Lot,
				foot(person, at),
			}})
		}
	}
	return out
}

// AnaestheticLabel words the label of a syringe of local anaesthetic.
func AnaestheticLabel(person string, a AnaestheticDrawn, at time.Time) Label {
	mg := unit.Milligrams(int64(a.Volume) * int64(a.Strength)) // 0.01 mL · 0.1 % = 0.01 mg
	return Label{Lines: []string{
		"Local anaesthetic " + a.Strength.Text(),
		a.Volume.Text() + " = " + mg.String() + "\u00a0milligrams",
		"Lot " + a.Lot,
		foot(person, at),
	}}
}

// FlushLabel words the label of a saline flush.
func FlushLabel(person string, f FlushDrawn, at time.Time) Label {
	return Label{Lines: []string{"Saline flush", f.Each.Text(), "Lot " + f.Lot, foot(person, at)}}
}

func foot(person string, at time.Time) string {
	return fmt.Sprintf("%s, %s", person, at.Format("2 Jan 2006 15:04"))
}

func doseText(d unit.Dose) string         { return thousands(int64(d)) + "\u00a0IU" }
func strengthText(s unit.Strength) string { return thousands(int64(s)) + "\u00a0IU/mL" }
