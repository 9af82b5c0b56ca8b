package fluid

import "math/big"

// Whole fractions, so that 3.2 L in 4 h 27 min never lands on the wrong side
// of a limit by a binary rounding. None of these changes its arguments.

var (
	sixty      = big.NewRat(60, 1)
	thousand   = big.NewRat(1000, 1)
	dayHours   = big.NewRat(24, 1)
	zero, half = new(big.Rat), big.NewRat(1, 2)
)

func sum(terms ...*big.Rat) *big.Rat {
	total := new(big.Rat)
	for _, t := range terms {
		total.Add(total, t)
	}
	return total
}

func sub(a, b *big.Rat) *big.Rat { return new(big.Rat).Sub(a, b) }
func mul(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }

// quo needs b ≠ 0; the ranges of this room see to it.
func quo(a, b *big.Rat) *big.Rat { return new(big.Rat).Quo(a, b) }

// least takes the lesser; a may be nil for none.
func least(a, b *big.Rat) *big.Rat {
	if a != nil && a.Cmp(b) <= 0 {
		return a
	}
	return b
}

func notBelowZero(a *big.Rat) *big.Rat {
	if a.Sign() < 0 {
		return zero
	}
	return a
}

// floor rounds down, towards minus infinity.
func floor(a *big.Rat) *big.Rat {
	return new(big.Rat).SetInt(new(big.Int).Div(a.Num(), a.Denom()))
}

// ceil rounds up.
func ceil(a *big.Rat) *big.Rat {
	n := floor(new(big.Rat).Neg(a))
	return n.Neg(n)
}

// roundTo rounds a volume, not below zero, to whole steps; a half goes up.
func roundTo(a, step *big.Rat) *big.Rat {
	return mul(floor(sum(quo(a, step), half)), step)
}

// float gives the float64 nearest to a.
func float(a *big.Rat) float64 {
	v, _ := a.Float64()
	return v
}
