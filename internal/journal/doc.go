// Package journal keeps the lines of a record in one SQLite file, and keeps
// its word about them: a line that was acknowledged is on the disk, a line is
// never changed, and a line that is lost or altered is noticed and named.
//
// A line is a number, an id made by its sender, and a body. The journal does
// not know what a body means. Lines are
// only ever added ([Journal.Append]) and read in order ([Journal.Lines]). One
// program at a time may add; any number may read beside it ([OpenToRead]).
//
// # What the chain sees, and what it cannot
//
// Each line carries a SHA-256 over the hash before it, its number, its id and
// its body ([Link]); the first link is made from the store's own id ([Start]).
// A line altered, removed from the middle, put in or moved therefore breaks
// the chain at that line. A chain alone cannot see that its last lines are
// gone, for what is left is a whole, shorter chain. Two witnesses help:
//
//   - a head row, in another table, holds the last number and hash and moves
//     in the same transaction, so that lines lost from one place only are seen;
//   - a side file, named after the record with "-lock" behind it, holds the
//     last acknowledged number and hash, so that an older copy put in the
//     record's place, a lost write-ahead file or a disk that only pretended to
//     write are seen ([LostError]).
//
// If both the record and its side file are replaced by older ones, nothing
// here can tell. The chain has no key: it shows damage and slips, and it does
// not prove anything against somebody who means to forge the record.
//
// # Sealed bodies
//
// With a passphrase set ([Reseal]) each body is encrypted and authenticated on
// its way to the disk, and opened on its way back; ids, numbers, lengths and the
// order of lines stay in plain. The chain runs over the sealed bodies, so that it
// is verified without the passphrase ([Options].Shut). Each body is sealed to its
// number, its id and the hash before it, which goes back to the store's id: with
// the passphrase, a line that was made or moved by somebody without it is named.
// Lines taken from the end, or an older file in the record's place, are seen by
// the two witnesses only.
//
// # When a write fails
//
// After a failed write or sync the system may have thrown away what it was
// asked to write, and asking again proves nothing. So the journal stops taking
// lines ([StoppedError]) and goes on reading; [Journal.Reopen] opens the file
// afresh, verifies all of it, and takes lines again.
package journal
