// Package water judges the water and the dialysis fluid that a home session
// needs, from tap to dialyser, and says what of it falls due.
//
// It holds the published limits as data, each with its edition, setter, date,
// kind and how well it is known; judges laboratory results against them,
// censored ones too; judges the chlorine test and the other checks before a
// session; follows a sample from planned to judged; and computes what recurs:
// disinfection, filters, services, samples, by date, sessions, hours or
// litres, whichever comes first.
//
// Everything is computed from what is passed in: no clock, no record. A limit
// belongs to the person's prescription: the tables here are defaults that the
// kidney unit replaces, and a judgement keeps the limit it was made with.
package water
