package unit

import "math/big"

// A scale switched to pounds or stone is the commonest mix-up with weights, so
// these have measures of their own. They come in by a field that is named for
// them and leave as a [Mass]: nothing else is recorded.
type (
	pound struct{}
	stone struct{}
)

// The imperial weights, as a scale shows them.
type (
	Pounds = Quantity[pound] // lb, to 0.01
	Stone  = Quantity[stone] // st, to 0.01
)

func (pound) about() scale { return scale{symbol: "lb", decimals: 2} }
func (stone) about() scale { return scale{symbol: "st", decimals: 2} }

// KgPerPound is exact by definition: the international pound of 1959 (NIST SP 811,
// App. B, from memory; Weights and Measures Act 1985 of the United Kingdom, Sch. 1
// Part V, "pound = 0.453 592 37 kilogram", read). A stone is 14 pounds.
const (
	KgPerPound     = 0.45359237
	PoundsPerStone = 14
)

// MassOfPounds converts exactly and rounds to the gram, halves away from zero:
// 73 lb are 33.112 kg.
func MassOfPounds(lb Pounds) Mass {
	// hundredths of lb · 0.45359237 kg/lb · 1000 g/kg / 100
	return scaledMass(int64(lb))
}

// MassOfStone converts stone, or stone and pounds, exactly and rounds to the
// gram: 11 st 6 lb are 72.575 kg.
func MassOfStone(st Stone, lb Pounds) Mass {
	return scaledMass(PoundsPerStone*int64(st) + int64(lb))
}

func scaledMass(hundredthsOfPound int64) Mass {
	n := big.NewInt(hundredthsOfPound)
	n.Mul(n, big.NewInt(45_359_237))
	const half, denominator = 5_000_000, 10_000_000
	n.Add(n, big.NewInt(int64(n.Sign())*half))
	return Mass(n.Quo(n, big.NewInt(denominator)).Int64())
}
