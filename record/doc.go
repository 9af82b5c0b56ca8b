// Package record is what the household keeps: entries, the table of their
// kinds with the bounds of every value, and the fold of all entries into the
// state that pages and commands show.
//
// An entry is only ever added. A correction is a new entry that names the one
// it corrects and says why; a mistake is struck out, not deleted. The same
// entries folded by two programs give the same state.
//
// One table, [Kinds], guards every way in – page, command and import. A bound
// has two steps: outside the first a value is refused, outside the second it
// is asked about, and an asked value is typed again, not clicked through.
package record
