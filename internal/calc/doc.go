// Package calc opens the computing rooms to a spreadsheet, a script or a
// check: one JSON object in, one JSON object out, no record touched.
//
// Each topic is one file. A topic reads its input through an [Object], which
// collects every problem before anything is computed, so that bad input is
// answered with one sentence a line and never with half an answer.
package calc
