package unit

// A Urea is a concentration of urea in mmol/L, whichever way the laboratory
// stated it. It is the only way for a urea into the arithmetic: some formulas
// use only a ratio and work in any unit, others hold constants for one unit,
// and a number without its unit can be wrong by 2, 3 or 6.
type Urea float64

// The ways a laboratory states urea.
const (
	UreaMmolPerL = "mmol/L"     // urea; the same number for urea nitrogen counted as urea
	BUNMgPerDL   = "mg/dL"      // blood urea nitrogen
	UreaMgPerDL  = "mg/dL urea" // the whole molecule
)

// UreaUnits lists the units that [NewUrea] takes.
func UreaUnits() []string { return []string{UreaMmolPerL, BUNMgPerDL, UreaMgPerDL} }

// maxUrea is above any urine; the rooms that take blood hold it to 300.
const maxUrea = 1500

// NewUrea takes a value above 0 as a laboratory printed it:
//
//	1 mmol/L urea = 2.8014 mg/dL BUN = 6.0056 mg/dL urea
//
// by the molar masses 60.056 of urea and 28.014 of its nitrogen. A unit not
// listed, a value that is not above 0 or one above 1500 mmol/L, more than any
// urine holds, is an [*InputError].
func NewUrea(value float64, unit string) (Urea, error) {
	var mmol float64
	switch unit {
	case UreaMmolPerL:
		mmol = value
	case BUNMgPerDL:
		mmol = value * (10 / molarUreaN)
	case UreaMgPerDL:
		mmol = value * (10 / molarUrea)
	default:
		return 0, Refuse("", unit, "one of the units mmol/L (urea), mg/dL (urea nitrogen), mg/dL urea")
	}
	if !(mmol > 0 && mmol <= maxUrea) { // a NaN fails both
		return 0, Refuse("", value, "a concentration above 0, up to 1500 mmol/L of urea")
	}
	return Urea(mmol), nil
}

// BUN makes a urea from blood urea nitrogen in mg/dL, for figures that are
// known to be sound; what a person typed goes through [NewUrea].
func BUN(mgPerDL float64) Urea { return Urea(mgPerDL * (10 / molarUreaN)) }

// MmolPerL gives the concentration of urea in mmol/L.
func (u Urea) MmolPerL() float64 { return float64(u) }

// BUNMgPerDL gives the nitrogen of the urea in mg/dL.
func (u Urea) BUNMgPerDL() float64 { return float64(u) * (molarUreaN / 10) }

// UreaMgPerDL gives the whole urea in mg/dL.
func (u Urea) UreaMgPerDL() float64 { return float64(u) * (molarUrea / 10) }

// NitrogenMgPerML gives the nitrogen of the urea in mg/mL, the unit in which
// generation (mg/min of nitrogen) and clearance (mL/min) meet.
func (u Urea) NitrogenMgPerML() float64 { return u.BUNMgPerDL() / 100 }
