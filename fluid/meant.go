package fluid

import (
	"math"
	"strconv"
	"strings"

	"ebbline/unit"
)

// A guess is a weight that may have been meant by what was typed.
type guess struct {
	kind Reason
	kg   float64
	cost float64 // how much rarer than a swap of these two digits, as a logarithm
}

// The costs of the slips, our own: a digit can be mistaken for nine others,
// a swap happens in one way; whoever types stone or pounds does so rarely.
const (
	swapCost, digitCost, pointCost, unitCost, backwardsCost = 0, 2.2, 1, 1, 2
)

// guesses lists what may have been meant by a weight typed as kg: digits with
// at most one point. Slips that would begin with a 0 are left out.
func guesses(typed string) []guess {
	if !strings.Contains(typed, ".") {
		typed += ".0" // 72 stands for 72.0, which a swap can have come from
	}
	list := append(swapped(typed), oneDigitOff(typed)...)

	kg, err := strconv.ParseFloat(typed, 64)
	if err != nil {
		return list
	}
	for _, places := range []int{-1, -2, -3, 1, 2} {
		// Moved in the decimal digits: 746 × 0.1 would be 74.60000000000001.
		moved, err := strconv.ParseFloat(typed+"e"+strconv.Itoa(places), 64)
		if err == nil {
			list = append(list, guess{PointLost, moved, pointCost})
		}
	}
	list = append(list,
		guess{Pounds, tenth(kg * unit.KgPerPound), unitCost},
		guess{Pounds, tenth(kg / unit.KgPerPound), backwardsCost}, // kg read as lb and converted
		guess{Stone, tenth(kg * unit.PoundsPerStone * unit.KgPerPound), unitCost})
	for _, mass := range stoneAndPounds(typed) {
		list = append(list, guess{Stone, mass, unitCost})
	}
	return list
}

// stoneAndPounds reads 11.6 as 11 stone 6, and 11.1 also as 11 stone 10, which
// loses its 0 on the way through a number.
func stoneAndPounds(typed string) []float64 {
	whole, rest, _ := strings.Cut(typed, ".")
	st, errSt := strconv.Atoi(whole)
	lb, errLb := strconv.Atoi(rest)
	if errSt != nil || errLb != nil || len(rest) > 2 || lb >= unit.PoundsPerStone {
		return nil
	}
	read := func(lb int) float64 { return tenth(float64(unit.PoundsPerStone*st+lb) * unit.KgPerPound) }
	if rest == "1" {
		return []float64{read(1), read(10)}
	}
	return []float64{read(lb)}
}

// tenth rounds to what a scale shows.
func tenth(kg float64) float64 { return math.Round(kg*10) / 10 }

// swapped exchanges each two digits that stand side by side, also across the
// point, which keeps its place.
func swapped(typed string) []guess {
	var list []guess
	before := -1
	for i := range len(typed) {
		if typed[i] == '.' {
			continue
		}
		if before >= 0 && typed[before] != typed[i] {
			b := []byte(typed)
			b[before], b[i] = b[i], b[before]
			list = appendGuess(list, DigitsSwapped, b, swapCost)
		}
		before = i
	}
	return list
}

// oneDigitOff changes each digit into each other one.
func oneDigitOff(typed string) []guess {
	var list []guess
	for i := range len(typed) {
		if typed[i] == '.' {
			continue
		}
		for d := byte('0'); d <= '9'; d++ {
			if d == typed[i] {
				continue
			}
			b := []byte(typed)
			b[i] = d
			list = appendGuess(list, OneDigitOff, b, digitCost)
		}
	}
	return list
}

func appendGuess(list []guess, kind Reason, digits []byte, cost float64) []guess {
	if digits[0] == '0' {
		return list
	}
	kg, err := strconv.ParseFloat(string(digits), 64)
	if err != nil {
		return list
	}
	return append(list, guess{kind, kg, cost})
}
