package stock

import (
	"fmt"
	"math"

	"ebbline/unit"
)

// Prescribed is what of a prescription decides what a session uses up.
type Prescribed struct {
	Dialyser    string  // as it is ordered
	DialysateL  float64 // litres that a session runs through; 0: not known
	Bagged      bool    // the session is ordered by litres of ready dialysate
	Catheter    bool    // in place of a fistula or graft
	Lock        bool    // of the catheter, is ordered
	GaugeA      int     // of the arterial needle; 0: not said
	GaugeV      int     // of the venous one
	Heparin     string  // unfractionated, low_molecular or none; empty: not said
	Anaesthetic bool    // the unit has set a limit for it
}

// A Usual is an item that each session commonly uses.
type Usual struct {
	Item       string
	Also       string // other names that steps and entries have for it, with commas between
	PerSession unit.Pieces
	PerCycle   unit.Pieces // of disinfection
	Pack       unit.Pieces // commonly
	FrostFree  bool        // kept from frost and sun
	Why        string
}

// Acid concentrate is taken at one part in 35 of the dialysate, and about a litre
// more goes into preparing and rinsing. Source: common practice, from memory;
// other concentrates are made for one part in 45.
const (
	acidShare = 35.0
	acidMore  = 1.0
)

// UsualPerSession is a starting list for a session as it is prescribed, to be
// put right by the unit's own list. What the prescription says nothing of is
// taken as at a machine with its own water treatment. Source: common practice.
func UsualPerSession(p Prescribed) []Usual {
	const one = unit.Piece
	list := []Usual{
		{Item: "dialyser", PerSession: one, Pack: 12 * one, Why: orElse(p.Dialyser, "the one of your prescription")},
		{Item: "line set", Also: "lines", PerSession: one, Pack: 12 * one},
	}
	list = append(list, reach(p)...)
	list = append(list,
		Usual{Item: "on/off pack", PerSession: one, Pack: 20 * one},
		Usual{Item: "saline 1 L", Also: "saline", PerSession: 2 * one, Pack: 10 * one, FrostFree: true, Why: "prime and washback; 1 to 2"})
	list = append(list, bath(p)...)
	list = append(list, medicines(p)...)
	return append(list,
		Usual{Item: "syringe", PerSession: 4 * one, Pack: 100 * one, Why: "3 to 4"},
		Usual{Item: "antiseptic swab", PerSession: 4 * one, Pack: 100 * one},
		Usual{Item: "gauze", PerSession: 4 * one, Pack: 100 * one},
		Usual{Item: "tape, roll", PerSession: one / 5, Pack: 12 * one, Why: "a roll for five sessions"},
		Usual{Item: "gloves, pair", PerSession: one, Pack: 50 * one, Why: "more with a carer"},
		Usual{Item: "mask", PerSession: one, Pack: 50 * one, Why: "more with a carer"},
		Usual{Item: "chlorine test", Also: "chlorine strip, chlorine reagent", PerSession: 2 * one, Pack: 50 * one, Why: "1 to 2, with the second sample"},
		Usual{Item: "disinfectant, dose", PerCycle: one, Pack: 20 * one, Why: "for each disinfection; none where heat alone does it"},
		Usual{Item: "waste bag", PerSession: one, Pack: 25 * one})
}

// reach is what the access takes: needles by their gauges, or what a catheter
// wants instead.
func reach(p Prescribed) []Usual {
	const one = unit.Piece
	if p.Catheter {
		list := []Usual{
			{Item: "catheter cap", PerSession: 2 * one, Pack: 50 * one, Why: "one for each limb"},
			{Item: "catheter dressing", PerSession: one, Pack: 25 * one, Why: "as your unit has it changed"},
		}
		if p.Lock {
			list = append(list, Usual{Item: "catheter lock", PerSession: one, Pack: 20 * one, Why: "by the prescription; one vial for both lumens, or two"})
		}
		return list
	}
	switch {
	case p.GaugeA > 0 && p.GaugeV > 0 && p.GaugeA != p.GaugeV:
		return []Usual{
			{Item: fmt.Sprintf("arterial needle, %d G", p.GaugeA), Also: "arterial needle", PerSession: one, Pack: 50 * one, Why: "the gauge of your prescription"},
			{Item: fmt.Sprintf("venous needle, %d G", p.GaugeV), Also: "venous needle", PerSession: one, Pack: 50 * one, Why: "the gauge of your prescription"},
		}
	case p.GaugeA > 0 || p.GaugeV > 0:
		return []Usual{{Item: "needle", Also: "needles, arterial needle, venous needle", PerSession: 2 * one, Pack: 50 * one, Why: fmt.Sprintf("%d G by your prescription; spares come with the learned factor", max(p.GaugeA, p.GaugeV))}}
	}
	return []Usual{{Item: "needle", Also: "needles, arterial needle, venous needle", PerSession: 2 * one, Pack: 50 * one, Why: "one arterial, one venous; spares come with the learned factor"}}
}

// bath is what the dialysate is made of.
func bath(p Prescribed) []Usual {
	const one = unit.Piece
	if p.Bagged {
		return []Usual{{Item: "dialysate, L", Also: "bath, dialysate", PerSession: litres(p.DialysateL), Pack: 10 * one, FrostFree: true, Why: "the litres of your prescription"}}
	}
	acid := Usual{Item: "acid concentrate, L", Also: "bath, concentrate", PerSession: 5 * one, Pack: 10 * one, FrostFree: true, Why: "4 to 6 L"}
	if p.DialysateL > 0 {
		acid.PerSession = litres(p.DialysateL/acidShare + acidMore)
		acid.Why = fmt.Sprintf("one part in 35 of %.0f L, and a litre to prepare", p.DialysateL)
	}
	return []Usual{acid, {Item: "bicarbonate cartridge", PerSession: one, Pack: 12 * one}}
}

// litres rounds up to the half litre.
func litres(l float64) unit.Pieces {
	return unit.Pieces(math.Ceil(2*l-1e-9)) * unit.Piece / 2
}

func medicines(p Prescribed) []Usual {
	const one = unit.Piece
	var list []Usual
	switch p.Heparin {
	case "none":
	case "low_molecular":
		list = append(list, Usual{Item: "low-molecular heparin, syringe", Also: "heparin", PerSession: one, Pack: 10 * one, Why: "by the prescription"})
	default:
		list = append(list, Usual{Item: "heparin vial", Also: "heparin", PerSession: one, Pack: 10 * one, Why: "by the prescription"})
	}
	if p.Anaesthetic && !p.Catheter {
		list = append(list, Usual{Item: "local anaesthetic", PerSession: one, Pack: 10 * one, Why: "your unit has set a limit for it"})
	}
	return list
}

func orElse(s, otherwise string) string {
	if s == "" {
		return otherwise
	}
	return s
}
