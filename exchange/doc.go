// Package exchange reads files that come from elsewhere. Every reader expects
// hostile input: it bounds what it takes, guesses nothing that could change a
// value, keeps the text as it stood beside what it read, and says of each row
// why it could not be read. Nothing read here is kept by itself: what it gives
// is shown to the person and joins the record only when they accept it.
package exchange
