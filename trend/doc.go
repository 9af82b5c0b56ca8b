// Package trend looks at months of values: where they lie, whether they move,
// when they would reach a limit, and whether the last few have left the rest.
//
// All measures are robust: a few wild values among many do not move them.
// "Too few to say" is a result like any other. Callers see to it that values
// are alike before they are compared: the same needle gauge, laboratory,
// method or scale.
package trend

// Says is what a series shows.
type Says string

const (
	TooFew  Says = "too few to say"
	Steady  Says = "no change shown" // which is not the same as none
	Rising  Says = "rising"
	Falling Says = "falling"
)
