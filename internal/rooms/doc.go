// Package rooms holds the rules of the house as tests: which room may import
// which, what a room may touch of the world outside, how long a file may be,
// and which words no page may say.
//
// The rooms stand in rows. Imports go down the rows, never sideways:
//
//	7  cmd/ebbline
//	6  internal/web · internal/calc · internal/simulate
//	5  internal/household
//	4  internal/journal · report · exchange
//	3  record
//	2  session
//	1  fluid · kinetics · access · water · stock
//	0  unit · trend
//
// Outside internal/ and cmd/ nothing reads a clock, a file, the network or a
// random number: whatever a room needs of those is passed in.
package rooms
