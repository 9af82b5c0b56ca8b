// Package stock keeps the shelf: what lies on it, which lot goes first, how
// many sessions it still serves, what to order and by when, and whether a
// recalled lot is or was in the house.
//
// Dates are days of the calendar. A session on a day may use a lot that
// expires on that day or later; a lot without an expiry never expires and is
// used last. Counts are exact to a millionth of a piece, so parts of a piece
// per session do not drift. The package reads no clock and no record, and
// draws no random numbers: all of these are passed in.
package stock
