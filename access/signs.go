package access

import (
	"ebbline/unit"
)

// Signs is what is seen and felt of the access and the person before needling.
type Signs struct {
	Thrill  *bool            `json:"thrill,omitempty"` // nil: not felt for
	Redness int              `json:"redness"`          // 0 none, 1 at the hole, 2 around it, 3 spreading
	Pus     bool             `json:"pus"`
	Warmth  bool             `json:"warmth"`
	Pain    bool             `json:"pain"`
	Chills  bool             `json:"chills"`        // now or since the last session
	Celsius unit.Temperature `json:"temperature_c"` // 0: not measured
	Hand    bool             `json:"hand_cold_or_blue"`
}

// feverC is from when a temperature is a fever here. Source: cluster of
// pyrogenic reactions, 1988, 37.8 °C or chills.
const feverC unit.Temperature = 378

// Score adds up the signs at the site: redness 0 to 3, pus 2, warmth 1, pain
// 1. Our own scale.
func (s Signs) Score() int {
	n := min(max(s.Redness, 0), 3)
	if s.Pus {
		n += 2
	}
	if s.Warmth {
		n++
	}
	if s.Pain {
		n++
	}
	return n
}

// Remarks adds the signs up, whichever page they were entered on. No thrill
// stops the needling. A score of 2 or more at the site, a fever of 37.8 °C or
// chills mean: ring now; with a buttonhole, whose infections reach the blood
// more often (Staphylococcus aureus almost seven times, Glerup 2019), the
// wording is stronger.
func (s Signs) Remarks(k Kind, t Technique) []unit.Caution {
	var list []unit.Caution
	add := func(code, text string) { list = append(list, unit.Caution{Code: code, Text: text}) }
	if k != Catheter {
		switch {
		case s.Thrill == nil:
			add("thrill_not_felt_for", "Feel the access for its thrill before needling.")
		case !*s.Thrill:
			add("no_thrill", "No thrill: do not needle; ring your unit now.")
		}
	}
	if s.Score() >= 2 || s.Chills || s.Celsius >= feverC {
		text := "These can be signs of infection: ring your unit now, before needling."
		if t == Buttonhole {
			text = "These can be signs of infection, and one in a buttonhole can reach the blood: do not needle it; ring your unit now."
		}
		add("infection_signs", text)
	}
	if s.Hand {
		add("cold_hand", "A cold, blue or painful hand below the access: tell your unit today.")
	}
	return list
}
