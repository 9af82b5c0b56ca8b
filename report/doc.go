// Package report turns the record into paper: the session sheet, filled in or
// blank, the labels of syringes and the emergency card.
//
// A document is first a model of plain words and figures, with nothing left
// to work out, and then written twice from that one model: as HTML, which is
// the accessible form, and as PDF. What the record does not hold is a ruled
// blank on both. What was corrected, struck out, typed in late or gone past
// with a written reason is on the sheet and cannot be left off.
//
// Nothing here reads a clock: the words "printed at" and the date inside a
// file are passed in, so that the same record gives the same bytes.
package report
