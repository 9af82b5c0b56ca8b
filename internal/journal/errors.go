package journal

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// ErrClosed is returned after [Journal.Close].
var ErrClosed = errors.New("the record is closed: open it again to go on")

// ErrToRead is returned by what would change a record opened by [OpenToRead].
var ErrToRead = errors.New("the record was opened to read, and takes no lines")

// ErrShut is returned by what needs the passphrase of a sealed record that was
// opened without it.
var ErrShut = errors.New("the record was opened without its passphrase: it can be verified and copied, and not read")

// A SealedError says that a record is sealed and nobody gave its passphrase.
type SealedError struct{ Path string }

func (e *SealedError) Error() string {
	return fmt.Sprintf("The record %s is sealed, and its passphrase was not given; nothing was changed.", e.Path)
}

// A PassphraseError says that a passphrase is not the record's.
type PassphraseError struct{ Path string }

func (e *PassphraseError) Error() string {
	return fmt.Sprintf("That is not the passphrase of the record %s; nothing was changed.", e.Path)
}

// An InUseError says that somebody else has the record. Nothing was written.
type InUseError struct {
	Path    string
	Foreign bool // not a second Ebbline, but some other program holds the file
}

func (e *InUseError) Error() string {
	if e.Foreign {
		return fmt.Sprintf("The record %s is held by another program, perhaps a backup or a database viewer. Nothing was saved. Close that program and try again.", e.Path)
	}
	return fmt.Sprintf("The record %s is open in another Ebbline. Use that one's page, or close it and try again.", e.Path)
}

// A NewerError says that a newer program has changed the form of the file.
type NewerError struct {
	Path        string
	Form, Known int // version of the file's form; newest this program knows
}

func (e *NewerError) Error() string {
	return fmt.Sprintf("The record %s was written by a newer Ebbline (form %d; this program knows forms up to %d). Nothing was changed. Start the newer program instead.", e.Path, e.Form, e.Known)
}

// An OlderError says that a record would have to be brought to this program's
// form, which [OpenToRead] does not do.
type OlderError struct {
	Path        string
	Form, Known int // version of the file's form; newest this program knows
}

func (e *OlderError) Error() string {
	return fmt.Sprintf("The record %s has an older form (%d; this program writes form %d). To be read it has to be brought to the newer one, which reading does not do. Nothing was changed. Start the pages once: they keep a copy of it first.", e.Path, e.Form, e.Known)
}

// A NoRecordError says that [OpenToRead] found nothing, or a file that was made
// and never written.
type NoRecordError struct{ Path string }

func (e *NoRecordError) Error() string {
	return fmt.Sprintf("There is no record at %s yet. Nothing was made. Choose another file, or start the pages, which make one.", e.Path)
}

// A NotOursError says that the file is not a record, as far as can be seen.
type NotOursError struct {
	Path  string
	Cause error // nil if it is a database of another program
}

func (e *NotOursError) Error() string {
	if e.Cause == nil {
		return fmt.Sprintf("The file %s is a database of another program, or its first bytes are damaged. Nothing was changed. Choose another file, or restore the newest backup.", e.Path)
	}
	return fmt.Sprintf("The file %s is not an Ebbline record, or its first bytes are damaged (%v). Nothing was changed. Choose another file, or restore the newest backup.", e.Path, e.Cause)
}

func (e *NotOursError) Unwrap() error { return e.Cause }

// A BrokenError says where a record is damaged: every line before Seq is as it
// was written, line Seq is not.
type BrokenError struct {
	Path  string
	Seq   int64  // the first line that is wrong or missing; 0: not in a line
	ID    string // that line's id as it is read now, if it can be read
	What  string // what is wrong, as the end of a sentence
	Cause error  // what SQLite or the system said; may be nil
}

func (e *BrokenError) Error() string {
	where := "The record " + e.Path + " is damaged"
	if e.Seq > 0 {
		where += fmt.Sprintf(" at line %d", e.Seq)
	}
	if e.ID != "" {
		where += fmt.Sprintf(" (%q)", e.ID)
	}
	where += ": " + e.What
	if e.Cause != nil {
		where += fmt.Sprintf(" (%v)", e.Cause)
	}
	return where + ". Nothing was changed. Keep this file, write on paper, and restore the newest backup."
}

func (e *BrokenError) Unwrap() error { return e.Cause }

// An UnreadableError says that the record cannot be read now, for a reason that
// lies outside it.
type UnreadableError struct {
	Path  string
	Cause error
}

func (e *UnreadableError) Error() string {
	what, now := plainly(e.Cause)
	return fmt.Sprintf("The record %s cannot be read now: %s. Nothing was changed. Write on paper; %s, then try again.", e.Path, what, now)
}

func (e *UnreadableError) Unwrap() error { return e.Cause }

// A LostError says that the record no longer holds what was acknowledged here.
type LostError struct {
	Path   string
	Have   int64 // lines in the file now
	Had    int64 // lines that had been acknowledged
	Forked bool  // the file has line Had, but another one
}

func (e *LostError) Error() string {
	if e.Forked {
		return fmt.Sprintf("The record %s is another copy than the one last used here: the two differ at line %d or before it. Nothing was changed. Find the copy last used, or choose to go on with this one.", e.Path, e.Had)
	}
	return fmt.Sprintf("The record %s is older than the one last used here: it has %d lines, %d had been saved. Nothing was changed. Find the newer copy, or choose to go on without the last %d.", e.Path, e.Have, e.Had, e.Had-e.Have)
}

// A ConflictError says that an id has been used for something else.
type ConflictError struct {
	ID  string
	Seq int64 // the line that has it; 0: both are in the same call
}

func (e *ConflictError) Error() string {
	if e.Seq == 0 {
		return fmt.Sprintf("The id %q stands twice in what was sent, with different contents. Nothing was saved. Send each with an id of its own.", e.ID)
	}
	return fmt.Sprintf("The id %q already belongs to line %d, with different contents. Nothing was saved. Send it with a new id.", e.ID, e.Seq)
}

// A FolderError says that a folder cannot be used for a record or a copy.
type FolderError struct {
	Path  string // the file that was to be in it
	Cause error
}

func (e *FolderError) Error() string {
	return fmt.Sprintf("Ebbline cannot use the folder %s (%v). Choose a folder that exists and that you may write in.", filepath.Dir(e.Path), bare(e.Cause))
}

func (e *FolderError) Unwrap() error { return e.Cause }

// A CopyError says that no copy was made; nothing is left under its name.
type CopyError struct {
	To    string
	Form  int // the older form that was to be kept before it is changed; 0: an ordinary copy
	Cause error
}

func (e *CopyError) Error() string {
	if e.Form > 0 {
		what, now := plainly(e.Cause)
		return fmt.Sprintf("The record has an older form (%d), of which a copy %s has to be kept before it is changed, and the copy could not be made: %s. Nothing was changed. Write on paper; %s, then start again.", e.Form, e.To, what, now)
	}
	if errors.Is(e.Cause, fs.ErrExist) {
		return fmt.Sprintf("There is a file %s already, and a copy replaces nothing. Choose another name.", e.To)
	}
	what, _ := plainly(e.Cause)
	return fmt.Sprintf("The copy %s could not be made: %s. The record itself is as it was. Choose another place, or put this right, and try again.", e.To, what)
}

func (e *CopyError) Unwrap() error { return e.Cause }

// A StoppedError says that lines are no longer taken, and why. What had been
// acknowledged before is unharmed and can still be read.
type StoppedError struct {
	Path  string
	Cause error
}

func (e *StoppedError) Error() string {
	what, now := plainly(e.Cause)
	return fmt.Sprintf("NOT SAVED: the record %s cannot be written: %s. Write on paper; %s, then try again.", e.Path, what, now)
}

func (e *StoppedError) Unwrap() error { return e.Cause }

// plainly says in words why a write failed, and what to do now.
func plainly(err error) (what, now string) {
	switch c := code(err); c & 0xff {
	case sqlite3.SQLITE_FULL:
		return "the disk is full", "make room on the disk"
	case sqlite3.SQLITE_NOMEM:
		return "there is not enough memory", "close other programs"
	case sqlite3.SQLITE_READONLY:
		if c == sqlite3.SQLITE_READONLY_ROLLBACK {
			return "another program was interrupted while it changed the file, and left a file ending in -journal beside it", "keep both files and restore the newest backup"
		}
		return "the file is write-protected", "take the protection off the file and its folder"
	case sqlite3.SQLITE_IOERR, sqlite3.SQLITE_CANTOPEN:
		if noSharing(c) {
			return "the disk is full or write-protected", "make room on the disk, or take the protection off"
		}
		return fmt.Sprintf("the disk refused it (%v)", err), "see that the disk is there, writable and not full"
	}
	switch {
	case errors.Is(err, fs.ErrExist):
		return "there is a file of that name", "move it away"
	case errors.Is(err, fs.ErrPermission):
		return "the file is write-protected", "take the protection off the file and its folder"
	case errors.As(err, new(*BrokenError)):
		return "it is damaged", "restore the newest backup"
	case errors.As(err, new(*LostError)):
		return "it is not the copy that was in use", "find the copy last used"
	}
	return err.Error(), "put that right"
}

// code is SQLite's result code in err, 0 if there is none.
func code(err error) int {
	if e := (*sqlite.Error)(nil); errors.As(err, &e) {
		return e.Code()
	}
	return 0
}

// bare leaves out the path that a system error carries: our sentence has it.
func bare(err error) error {
	if e := (*fs.PathError)(nil); errors.As(err, &e) {
		return e.Err
	}
	return err
}
