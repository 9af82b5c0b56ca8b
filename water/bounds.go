package water

import (
	"fmt"
	"sync"

	"ebbline/unit"
)

// A Reading names something that is read off the water plant or the machine
// before a session.
type Reading string

const (
	Hardness         Reading = "hardness_mg_l_caco3"
	Rejection        Reading = "ro_rejection_percent"
	FilterDrop       Reading = "pressure_drop_psi" // across sediment filter, softener or carbon
	PrefilterDrop    Reading = "prefilter_drop_psi"
	FeedTemperature  Reading = "feed_temperature_c"
	ContactTime      Reading = "carbon_contact_min"
	Resistivity      Reading = "resistivity_mohm_cm"
	UVDose           Reading = "uv_mws_cm2"
	ResidualChlorine Reading = "residual_chlorine_mg_l"
	ResidualPeracid  Reading = "residual_peracetic_mg_l"
	ResidualAldehyde Reading = "residual_formaldehyde_mg_l"
	FluidTemperature Reading = "fluid_temperature_c"
	FluidPH          Reading = "fluid_ph"
	FluidConductance Reading = "fluid_conductivity_ms_cm"
)

// A Weight says what the program does with a reading outside its bound.
type Weight string

const (
	Stop Weight = "stop" // the step is not marked done without a reason in writing
	Warn Weight = "warn"
	Show Weight = "show"
)

// A Bound is the range that a reading should lie in, as a default that the
// unit replaces.
type Bound struct {
	Reading Reading
	Label   string
	Unit    string
	Low     *float64 // nil: none
	High    *float64
	Strict  bool // a reading on the bound is outside
	Weight  Weight
	Kind    Kind
	Status  Status
	Source  string
	Setter  string // "program default", or who set it
	Date    string
}

// Holds reports whether a reading lies inside, and gives the caution to show
// when it does not. The caution names who set the bound.
func (b Bound) Holds(value float64) (bool, []unit.Caution) {
	outside := func(side string, bound float64) (bool, []unit.Caution) {
		by := b.Setter
		if b.Date != "" {
			by += " on " + b.Date
		}
		return false, []unit.Caution{{Code: string(b.Reading) + "_" + side,
			Text: fmt.Sprintf("%s of %s %s is %s the limit of %s (%s; %s).", b.Label, number(value), b.Unit, side, number(bound), by, b.Source)}}
	}
	switch {
	case b.Low != nil && (value < *b.Low || b.Strict && value == *b.Low):
		return outside("below", *b.Low)
	case b.High != nil && (value > *b.High || b.Strict && value == *b.High):
		return outside("above", *b.High)
	}
	return true, nil
}

// Set gives the bound as a unit sets it.
func (b Bound) Set(setter, date string, low, high *float64) (Bound, error) {
	if setter == "" || date == "" {
		return b, unit.Refuse("setter", setter+" "+date, "who set the bound, and when")
	}
	if low != nil && high != nil && *low > *high {
		return b, unit.Refuse("low", *low, "a low bound up to the high one")
	}
	b.Low, b.High, b.Setter, b.Date, b.Kind, b.Status, b.Source = low, high, setter, date, IsUnitSet, Given, "the unit"
	return b, nil
}

// DefaultBounds lists the bounds that hold until the unit sets its own.
func DefaultBounds() []Bound {
	v := func(x float64) *float64 { return &x }
	clinics := "Clin J Am Soc Nephrol 2015, clinics' list of water checks"
	teaching := "a teaching text on dialysis water"
	list := []Bound{
		{Reading: Hardness, Label: "Hardness after the softener", Unit: "mg/L as CaCO3", High: v(17), Strict: true, Weight: Warn, Kind: IsPractice, Status: Read, Source: teaching + ": under 1 grain per US gallon, 17 mg/L"},
		{Reading: Rejection, Label: "Rejection", Unit: "%", Low: v(90), Weight: Warn, Kind: IsStandard, Status: Read, Source: clinics},
		{Reading: FilterDrop, Label: "Pressure drop", Unit: "psi", High: v(15), Weight: Warn, Kind: IsPractice, Status: Read, Source: clinics},
		{Reading: PrefilterDrop, Label: "Pressure drop at the pre-filter", Unit: "psi", High: v(20), Weight: Warn, Kind: IsPractice, Status: Read, Source: clinics},
		{Reading: FeedTemperature, Label: "Feed temperature", Unit: "°C", Low: v(18), High: v(29), Weight: Show, Kind: IsPractice, Status: Read, Source: clinics + ": 65 to 85 °F"},
		{Reading: ContactTime, Label: "Contact time of the carbon", Unit: "min", Low: v(10), Strict: true, Weight: Warn, Kind: IsStandard, Status: Read, Source: teaching},
		{Reading: Resistivity, Label: "Resistivity after the de-ioniser", Unit: "MΩ·cm", Low: v(1), Strict: true, Weight: Stop, Kind: IsStandard, Status: Read, Source: teaching},
		{Reading: UVDose, Label: "UV dose", Unit: "mW·s/cm²", Low: v(30), Strict: true, Weight: Warn, Kind: IsStandard, Status: Read, Source: teaching},
		{Reading: ResidualChlorine, Label: "Residual chlorine after disinfection", Unit: "mg/L", High: v(0.1), Weight: Stop, Kind: IsPractice, Status: FromMemory, Source: "common practice; the machine's own text goes first"},
		{Reading: ResidualPeracid, Label: "Residual peracetic acid or peroxide", Unit: "mg/L", High: v(1), Strict: true, Weight: Stop, Kind: IsStandard, Status: FromMemory, Source: "AAMI RD47; the maker's text goes first"},
		{Reading: ResidualAldehyde, Label: "Residual formaldehyde", Unit: "mg/L", High: v(3), Strict: true, Weight: Stop, Kind: IsStandard, Status: FromMemory, Source: "AAMI RD47; the maker's text goes first"},
		{Reading: FluidTemperature, Label: "Dialysis fluid temperature", Unit: "°C", Low: v(34.5), High: v(38), Weight: Warn, Kind: IsPractice, Status: FromMemory, Source: "common practice, 35 to 37 °C usual"},
		{Reading: FluidTemperature, Label: "Dialysis fluid temperature", Unit: "°C", High: v(38.5), Weight: Stop, Kind: IsPractice, Status: FromMemory, Source: "common practice; blood is harmed from about 42 °C"},
		{Reading: FluidPH, Label: "pH of the dialysis fluid", Unit: "", Low: v(6.9), High: v(7.6), Weight: Warn, Kind: IsPractice, Status: Read, Source: "common practice, of low grade"},
		{Reading: FluidConductance, Label: "Conductivity of the dialysis fluid", Unit: "mS/cm", Low: v(12.5), High: v(15.5), Weight: Warn, Kind: IsPractice, Status: FromMemory, Source: "common practice, 13.5 to 14.5 usual"},
	}
	for i := range list {
		list[i].Setter = "program default"
	}
	return list
}

// defaultBounds are made once; each reading of the plant is held against them.
var defaultBounds = sync.OnceValue(DefaultBounds)

// BoundsOf gives the default bounds of one reading; where there are two, the
// wider one stops and the narrower one warns.
func BoundsOf(r Reading) []Bound {
	var list []Bound
	for _, b := range defaultBounds() {
		if b.Reading == r {
			list = append(list, b)
		}
	}
	return list
}
