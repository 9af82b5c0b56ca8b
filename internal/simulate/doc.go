// Package simulate invents a household with known truth: the demonstration,
// the tests and the benchmarks run on it. Every person, place and value is
// invented; nothing here comes from anybody's record.
//
// The entries are made by the same rules that guard the pages: each is held
// against the table of kinds before it joins, and what is asked about is typed
// again by the simulated person, or turns out to be a slip and is put right.
package simulate
