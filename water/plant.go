package water

import (
	"fmt"
	"math"

	"ebbline/unit"
)

// Units of hardness, and what one of each is in mg/L as CaCO3 (arithmetic; a
// grain per US gallon is 17.1, a German degree 17.8, a French one 10, and one
// mmol/L of calcium and magnesium 100.1).
var hardnessUnits = map[string]float64{
	"mg/L as CaCO3": 1,
	"ppm as CaCO3":  1,
	"gpg":           17.1,
	"°dH":           17.8,
	"°fH":           10,
	"mmol/L":        100.1,
}

// HardnessMgPerL converts a hardness to mg/L as CaCO3. It needs a value from 0
// to 2000 mg/L and a unit of "mg/L as CaCO3", "ppm as CaCO3", "gpg", "°dH",
// "°fH" or "mmol/L"; any other is an [*unit.InputError], because a bare "mg/L"
// may count calcium.
func HardnessMgPerL(value float64, in string) (float64, error) {
	factor, ok := hardnessUnits[in]
	if !ok {
		return 0, unit.Refuse("unit", in, `"mg/L as CaCO3", "ppm as CaCO3", "gpg", "°dH", "°fH" or "mmol/L"`)
	}
	if v := value * factor; v >= 0 && v <= 2000 {
		return v, nil
	}
	return 0, unit.Refuse("hardness", value, "a hardness from 0 to 2000 mg/L as CaCO3")
}

// Units of the pressures read off a water plant, in psi (arithmetic from
// 1 psi = 6894.757 Pa).
var pressureUnits = map[string]float64{
	"psi":  1,
	"bar":  100_000 / 6894.757,
	"kPa":  1000 / 6894.757,
	"mmHg": 133.322 / 6894.757,
}

// PressureDrop gives the drop across a filter in psi, from the pressures
// before and after it in psi, bar, kPa or mmHg. Both must lie from 0 to 200
// psi and the one after may not be higher by more than the gauges' play of
// 1 psi, which would be gauges read the wrong way round.
func PressureDrop(before, after float64, in string) (float64, error) {
	factor, ok := pressureUnits[in]
	if !ok {
		return 0, unit.Refuse("unit", in, "psi, bar, kPa or mmHg")
	}
	b, a := before*factor, after*factor
	switch {
	case !(b >= 0 && b <= 200):
		return 0, unit.Refuse("pressure_before", before, "a pressure from 0 to 200 psi")
	case !(a >= 0 && a <= 200):
		return 0, unit.Refuse("pressure_after", after, "a pressure from 0 to 200 psi")
	case a > b+1:
		return 0, unit.Refuse("pressure_after", after, "a pressure not above the one before the filter")
	}
	return max(0, b-a), nil
}

// RejectionPercent gives the share of dissolved salts that the reverse osmosis
// keeps back:
//
//	rejection = (1 − product / feed) × 100
//
// from the conductivities of feed and product water in the same unit. It needs
// a feed above 0 and a product from 0 up to the feed.
func RejectionPercent(feed, product float64) (float64, error) {
	switch {
	case !(feed > 0 && feed <= 1e6):
		return 0, unit.Refuse("feed_conductivity", feed, "a conductivity above 0")
	case !(product >= 0 && product <= feed):
		return 0, unit.Refuse("product_conductivity", product, "a conductivity from 0 to that of the feed")
	}
	return (1 - product/feed) * 100, nil
}

// ProductRise compares the product water's conductivity with the plant's own
// baseline, there being no figure for all plants. From a quarter above the
// baseline it carries a caution (our own choice of 25 %).
func ProductRise(baseline, now float64) (share float64, cautions []unit.Caution, err error) {
	if !(baseline > 0) || !(now >= 0) || math.IsInf(baseline, 0) || math.IsInf(now, 0) {
		return 0, nil, unit.Refuse("product_conductivity", now, "a conductivity, with a baseline above 0")
	}
	share = now/baseline - 1
	if share >= 0.25 {
		cautions = []unit.Caution{{Code: "product_conductivity_up",
			Text: fmt.Sprintf("Product water conducts %.0f %% more than at its baseline: show this to the technician.", share*100)}}
	}
	return share, cautions, nil
}

// ContactMinutes gives the empty-bed contact time of carbon: its volume in
// litres over the flow through it in litres a minute, both above 0. Beds in
// series add up.
func ContactMinutes(bedLitres, litresPerMin float64) (float64, error) {
	if !(bedLitres > 0 && bedLitres <= 1000) || !(litresPerMin > 0 && litresPerMin <= 1000) {
		return 0, unit.Refuse("bed_l", fmt.Sprintf("%v at %v L/min", bedLitres, litresPerMin), "a volume and a flow above 0")
	}
	return bedLitres / litresPerMin, nil
}
