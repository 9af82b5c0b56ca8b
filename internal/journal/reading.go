package journal

import (
	"context"
	"errors"
	"io/fs"
	"os"

	"ebbline/unit"
)

// OpenToRead opens a record that may be open elsewhere, and holds nobody up. It
// takes no lock and changes no file: it makes no record, brings none to a newer
// form ([OlderError]) and notes nothing in the side file. SQLite's shared
// memory is the one exception: where there is a write-ahead file, -shm is
// written, and made if it is gone.
//
// The whole chain is verified as by [Open], with the same errors, as it is at
// one moment; [Journal.Head] and [Journal.Find] stay with that moment, and
// [Journal.Lines] and [Journal.Copy] may give lines added since. Of opts only
// AcceptShorter, Passphrase and Shut have a meaning. Append and Reopen give [ErrToRead].
//
// Lines that a program which ended badly left in the write-ahead file are seen.
// Where the folder is write-protected and has no shared memory, SQLite cannot
// read them, and rather than the record without them there is an
// [UnreadableError].
func OpenToRead(ctx context.Context, path string, opts Options) (*Journal, error) {
	return openToRead(ctx, path, opts, released)
}

func openToRead(ctx context.Context, path string, opts Options, steps []step) (*Journal, error) {
	path, err := resolve(path)
	if err != nil {
		return nil, err
	}
	j := &Journal{path: path, steps: steps, turn: make(chan struct{}, 1)}
	// The side file comes first: what is acknowledged after that is no loss.
	said, ok, err := saidBeside(path)
	if err != nil {
		return nil, &FolderError{Path: path, Cause: err}
	}
	x, err := j.examineAgainst(ctx, said, opts.AcceptShorter)
	switch {
	case err != nil:
		return nil, err
	case x.form == 0:
		return nil, &NoRecordError{Path: path}
	case x.form < len(steps):
		return nil, &OlderError{Path: path, Form: x.form, Known: len(steps)}
	}
	if err := j.unlock(x.store, x.sealing, opts); err != nil {
		return nil, err
	}
	how := reading
	if x.lay != nil {
		how = still
	}
	if j.read, err = connect(path, how); err != nil {
		return nil, frame(ctx, path, "it cannot be read", err)
	}
	if err := j.read.PingContext(ctx); err != nil {
		return nil, errors.Join(frame(ctx, path, "it cannot be read", err), j.read.Close())
	}
	j.store, j.head, j.ids, j.lay = x.store, x.head, x.ids, x.lay
	j.sealing, j.origin = x.sealing, x.origin
	j.cautions = cautionsAbout(path, said, ok, x)
	return j, nil
}

// toRead says that the journal was opened by [OpenToRead].
func (j *Journal) toRead() bool { return j.side == nil }

// saidBeside reads what the side file of a record says, without its lock.
func saidBeside(path string) (acknowledgement, bool, error) {
	f, err := os.Open(sidePath(path))
	if errors.Is(err, fs.ErrNotExist) || heldApart(err) {
		return acknowledgement{}, false, nil
	}
	if err != nil {
		return acknowledgement{}, false, err
	}
	defer f.Close()
	return (&sideFile{f: f}).read()
}

// cautionsAbout are those about the record's place and about which record it is.
func cautionsAbout(path string, said acknowledgement, ok bool, x *examined) []unit.Caution {
	found := CautionsAbout(path)
	if ok && said.store != x.store && !x.origin.past(said) {
		found = append(found, unit.Caution{Code: "other_record",
			Text: "This is not the record that was last used under this name. See that it is the right person's."})
	}
	return found
}

// examineToRead is examine for somebody who is going to read only. A record
// that lies alone is read as it lies, since SQLite would else put two files
// beside it and leave them there. Nothing then keeps a program that begins
// meanwhile from changing it, so what looks like damage is damage only if the
// file is still the same.
func examineToRead(ctx context.Context, path string, steps []step, known mark) (*examined, error) {
	const tries = 5
	for range tries {
		if empty, err := isEmpty(path); err != nil || empty {
			return nothing(known), err
		}
		if inCompany(path) && (mayWrite(path) || walHolds(path)) {
			x, err := examineBy(ctx, path, steps, known, reading)
			if !errors.As(err, new(*UnreadableError)) || !noSharing(code(err)) || walHolds(path) {
				return x, err
			}
		}
		lay, err := os.Stat(path)
		if err != nil {
			continue // another was just put in its place, or it was taken away
		}
		x, err := examineBy(ctx, path, steps, known, still)
		if err == nil {
			x.lay = lay
			return x, nil
		}
		if !changedSince(path, lay) {
			return nil, err
		}
	}
	return nil, &InUseError{Path: path}
}

// inCompany says that a file stands beside the record without which it may not
// be understood: the write-ahead file of a program that is at work or ended
// badly, or another program's rollback journal.
func inCompany(path string) bool {
	for _, beside := range []string{"-wal", "-journal"} {
		if _, err := os.Lstat(path + beside); !errors.Is(err, fs.ErrNotExist) {
			return true
		}
	}
	return false
}

// changedSince says that the file is not as it lay then.
func changedSince(path string, lay fs.FileInfo) bool {
	now, err := os.Stat(path)
	return err != nil || !os.SameFile(now, lay) || now.Size() != lay.Size() || !now.ModTime().Equal(lay.ModTime())
}

// settled words an error for what it is: a file that was read as it lay, and
// was changed since, is not damaged but in use.
func (j *Journal) settled(err error) error {
	if err != nil && j.lay != nil && changedSince(j.path, j.lay) {
		return &InUseError{Path: j.path}
	}
	return err
}
