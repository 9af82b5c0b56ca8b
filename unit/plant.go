package unit

import (
	"math/big"
	"strings"
)

type (
	kilopascal  struct{}
	microSiem   struct{}
	asCarbonate struct{}
)

// Measures read off a water plant.
type (
	Gauge    = Quantity[kilopascal]  // pressure in the plant, kPa, to 0.1
	Trace    = Quantity[microSiem]   // conductivity of feed and product water, µS/cm, to 0.1
	Hardness = Quantity[asCarbonate] // mg/L counted as CaCO3, to 0.1
	Hours    = Quantity[hour]        // running hours of a counter, to 0.01
)

func (kilopascal) about() scale  { return scale{symbol: "kPa", decimals: 1} }
func (microSiem) about() scale   { return scale{symbol: "µS/cm", decimals: 1} }
func (asCarbonate) about() scale { return scale{symbol: "mg/L as CaCO3", decimals: 1} }

// GaugeUnits are the units of gauges that [ParseGauge] reads.
func GaugeUnits() []string { return []string{"bar", "psi", "kPa"} }

// In kPa (1 psi is 6.894757 kPa).
var gaugeFactors = map[string]*big.Rat{
	"bar": big.NewRat(100, 1),
	"psi": big.NewRat(6_894_757, 1_000_000),
	"kPa": big.NewRat(1, 1),
}

// ParseGauge reads what a gauge of the plant shows in bar, psi or kPa and
// gives it to the tenth of a kilopascal, the nearest one. The number is read as
// [Parse] reads a quantity with two decimals; any other unit is refused.
func ParseGauge(typed, in string) (Gauge, error) {
	factor, ok := gaugeFactors[in]
	if !ok {
		return 0, Refuse("", in, "bar, psi or kPa")
	}
	hundredths, err := parseFixed(strings.TrimSpace(typed), 2, false)
	if err != nil {
		return 0, err
	}
	return Gauge(nearestTenth(hundredths, factor)), nil
}

// HardnessUnits are the units of hardness tests that [ParseHardness] reads. A
// bare "mg/L" is not among them, since it may count calcium.
func HardnessUnits() []string { return []string{"mg/L as CaCO3", "gpg", "°dH", "°fH"} }

// In mg/L as CaCO3 (arithmetic; a grain per US gallon, a German and a French
// degree).
var hardnessFactors = map[string]*big.Rat{
	"mg/L as CaCO3": big.NewRat(1, 1),
	"gpg":           big.NewRat(171, 10),
	"°dH":           big.NewRat(178, 10),
	"°fH":           big.NewRat(10, 1),
}

// ParseHardness reads a hardness in one of [HardnessUnits] and gives it to the
// tenth of a mg/L as CaCO3, the nearest one.
func ParseHardness(typed, in string) (Hardness, error) {
	factor, ok := hardnessFactors[in]
	if !ok {
		return 0, Refuse("", in, "mg/L as CaCO3, gpg, °dH or °fH")
	}
	hundredths, err := parseFixed(strings.TrimSpace(typed), 2, false)
	if err != nil {
		return 0, err
	}
	return Hardness(nearestTenth(hundredths, factor)), nil
}

// nearestTenth takes hundredths times a factor to the nearest tenth, halves up.
func nearestTenth(hundredths int64, factor *big.Rat) int64 {
	v := new(big.Rat).Mul(big.NewRat(hundredths, 10), factor)
	v.Add(v, big.NewRat(1, 2))
	return new(big.Int).Div(v.Num(), v.Denom()).Int64()
}
