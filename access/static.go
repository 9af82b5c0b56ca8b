package access

import (
	"fmt"

	"ebbline/unit"
)

// SourceStatic is where the static pressure test is from.
const SourceStatic = "table of static, dynamic and slow-flow venous pressure methods, J Am Soc Nephrol (article 27845): P + 0.35·H + 3.4, ratio to mean arterial pressure above 0.5 positive"

// Static is a static venous pressure test: the blood pump stopped for half a
// minute, the line clamped between dialyser and venous chamber.
type Static struct {
	ChamberMmHg float64 // P, pressure shown for the venous chamber, −200 to 600 mmHg
	HeightCm    float64 // H, blood in the chamber above the needle, −100 to 200 cm
	MeanMmHg    float64 // mean arterial pressure, above 0 up to 300 mmHg
}

// StaticRatio is the threshold of the test, set for grafts: "above 0.5 or
// steadily rising".
const StaticRatio = 0.5

// IntraAccess is what a static test says about the pressure in the access.
type IntraAccess struct {
	MmHg     float64 // at the venous needle
	Ratio    float64 // to the mean arterial pressure
	Cautions []unit.Caution
}

// Estimate gives the pressure inside the access and its ratio to the mean
// arterial pressure:
//
//	pressure = P + 0.35·H + 3.4        ratio = pressure / mean arterial
//
// in mmHg with H in cm. A ratio above 0.5 carries a caution, and so does a
// pressure at or below zero, which a working test does not show. Values
// outside the ranges of [Static] are an [*unit.InputError].
//
// Source: [SourceStatic]. The slope 0.35 was fitted with the height taken from
// the chair's arm; the weight of blood alone would give 0.76 per cm, so the
// figure is for trends on the same chair and machine.
func (s Static) Estimate() (IntraAccess, error) {
	switch {
	case !(s.ChamberMmHg >= -200 && s.ChamberMmHg <= 600):
		return IntraAccess{}, unit.Refuse("venous_chamber_mmhg", s.ChamberMmHg, "a pressure from -200 to 600 mmHg")
	case !(s.HeightCm >= -100 && s.HeightCm <= 200):
		return IntraAccess{}, unit.Refuse("height_cm", s.HeightCm, "a height from -100 to 200 cm")
	case !(s.MeanMmHg > 0 && s.MeanMmHg <= 300):
		return IntraAccess{}, unit.Refuse("mean_arterial_mmhg", s.MeanMmHg, "a pressure above 0, up to 300 mmHg")
	}
	p := s.ChamberMmHg + 0.35*s.HeightCm + 3.4
	in := IntraAccess{MmHg: p, Ratio: p / s.MeanMmHg}
	if in.Ratio > StaticRatio {
		in.Cautions = append(in.Cautions, unit.Caution{Code: "ratio_above_half",
			Text: fmt.Sprintf("The static ratio %.2f is above 0.5 (a threshold set for grafts): show this to the unit. One reading is not a trend (J Am Soc Nephrol, table of venous pressure methods).", in.Ratio)})
	}
	if p <= 0 {
		in.Cautions = append(in.Cautions, unit.Caution{Code: "pressure_not_above_zero",
			Text: fmt.Sprintf("An access pressure of %.0f mmHg is not what a working test shows: look at the clamp, the sensor line and the height.", p)})
	}
	return in, nil
}
