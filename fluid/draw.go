package fluid

import (
	"fmt"
	"math/big"

	"ebbline/unit"
)

// An Amount is a dose or a strength with the unit written on the prescription
// or the vial. The unit is part of the value: a bare number is no dose.
type Amount struct {
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
}

// The units of doses and strengths, written out as the trade does to keep a U
// from being read as a 0 and a µ as an m.
const (
	IU           = "IU"
	Mg           = "mg"
	Microgram    = "microgram"
	IUPerMl      = "IU/mL"
	MgPerMl      = "mg/mL"
	Percent      = "%" // grams in 100 mL: 1 % is 10 mg/mL
	MicrogramPer = "microgram/mL"
)

// DoseUnits lists the units of a dose that are accepted.
func DoseUnits() []string { return []string{IU, Mg, Microgram} }

// StrengthUnits lists the units of a strength that are accepted.
func StrengthUnits() []string { return []string{IUPerMl, MgPerMl, Percent, MicrogramPer} }

// perMl gives how much of the dose's unit one of the strength's unit holds in
// a millilitre; 0 when the two do not belong together.
func perMl(dose, strength string) int64 {
	switch [2]string{dose, strength} {
	case [2]string{IU, IUPerMl}, [2]string{Mg, MgPerMl}, [2]string{Microgram, MicrogramPer}:
		return 1
	case [2]string{Mg, Percent}:
		return 10
	}
	return 0
}

// DrawInput is a prescribed dose and the strength read from the vial in hand.
type DrawInput struct {
	Dose     Amount
	Strength Amount
	DiluteTo *unit.ExactVolume // the volume in the syringe once made up; nil when nothing is added
}

// A Drawn dose is what to draw up.
type Drawn struct {
	DrawMl    float64  `json:"draw_ml"`
	DiluentMl *float64 `json:"diluent_ml"`
	Final     *Amount  `json:"final_strength"` // in the strength's own unit

	Cautions []unit.Caution `json:"-"`
}

// syringeMl is the largest syringe in common use, and mostMl more than anyone
// draws up for one dose: beyond it the strength cannot be the vial's.
const (
	syringeMl = 60
	mostMl    = 1000
)

// largeDraw says that the dose needs more than one syringe.
var largeDraw = unit.Caution{
	Code: "large_draw",
	Text: "This is more than the largest common syringe (60 mL) holds. Read the strength on the vial again.",
}

// Draw gives the volume that holds a dose:
//
//	draw     = dose / strength, where 1 % is 10 mg/mL
//	diluent  = dilute to − draw
//	final    = strength · draw / dilute to
//
// IU go with IU/mL, mg with mg/mL or %, microgram with microgram/mL; any other
// pair, a strength of zero or none, and a dose that does not fit the volume it
// is to be diluted to return an [*unit.InputError]. It proposes no dose.
//
// Source: common practice; 1 % is 1 g in 100 mL by definition.
func Draw(in DrawInput) (Drawn, error) {
	factor := perMl(in.Dose.Unit, in.Strength.Unit)
	strengths := DoseValue()
	if in.Strength.Unit == Percent {
		strengths = StrengthPct()
	}
	switch {
	case factor == 0:
		return Drawn{}, unit.Refuse("strength.unit", fmt.Sprintf("%q with a dose in %q", in.Strength.Unit, in.Dose.Unit),
			"IU with IU/mL, mg with mg/mL or %, or microgram with microgram/mL")
	case !DoseValue().has(in.Dose.Value):
		return Drawn{}, unit.Refuse("dose.value", in.Dose.Value, DoseValue().words(in.Dose.Unit))
	case !strengths.has(in.Strength.Value):
		return Drawn{}, unit.Refuse("strength.value", in.Strength.Value, strengths.words(in.Strength.Unit))
	}
	if err := checkIf("dilute_to_ml", in.DiluteTo, DiluteToMl()); err != nil {
		return Drawn{}, err
	}

	strength := unit.Decimal(in.Strength.Value)
	draw := quo(unit.Decimal(in.Dose.Value), mul(strength, big.NewRat(factor, 1)))
	if draw.Cmp(big.NewRat(mostMl, 1)) > 0 {
		return Drawn{}, unit.Refuse("dose.value", fmt.Sprintf("a dose of %.4g mL", float(draw)), "one that fits into 1000 mL at this strength")
	}
	d := Drawn{DrawMl: float(draw)}
	if in.DiluteTo != nil {
		to := in.DiluteTo.Rat()
		if draw.Cmp(to) > 0 {
			return Drawn{}, unit.Refuse("dilute_to_ml", in.DiluteTo, fmt.Sprintf("at least the %.4g mL that hold the dose", float(draw)))
		}
		d.DiluentMl = new(float(sub(to, draw)))
		d.Final = &Amount{Value: float(quo(mul(strength, draw), to)), Unit: in.Strength.Unit}
	}
	if draw.Cmp(big.NewRat(syringeMl, 1)) > 0 {
		d.Cautions = append(d.Cautions, largeDraw)
	}
	return d, nil
}
