// Package unit holds the quantities of the trade: how a weight, a volume or a
// pressure is recorded, read from what a person typed, printed, and converted.
//
// Recorded quantities are whole numbers of their finest recorded step, each a
// type of its own, so that a weight cannot be passed where a volume is meant.
// Derived figures (rates per kilogram, clearances) are float64 with their unit
// in the name. Nothing else of Ebbline is imported here.
package unit
