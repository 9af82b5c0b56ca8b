// Package fluid works out how much to take off in a session and how fast: the
// goal with each of its terms, the rate against the limits the kidney unit
// set, the plan again when a session under way changes, whether a weight typed
// in can be what the scale showed, what may be drunk until the next session,
// and what to draw up from a vial.
//
// One litre weighs one kilogram throughout. Everything that decides on which
// side of a limit a value lies is computed in whole fractions, never in binary
// floating point. The room works from what was prescribed: it proposes no
// dose, no limit and no dry weight.
package fluid
