// Package household is the desk between the person and the record: it holds
// the clock, the journal and the folded state, takes entries in and says when
// they are saved, and answers what a page or a command asks for.
package household
