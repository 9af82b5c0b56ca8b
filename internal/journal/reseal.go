package journal

import (
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"iter"
	"os"
	"path/filepath"
)

// Resealed says what [Reseal] has done.
type Resealed struct {
	Lines int64
	Kept  string // where the record as it was before is kept
}

// Reseal writes all lines of a record anew into another file, sealed under a
// passphrase, or plain if that is nil, and puts that file in the record's place.
// It holds the record meanwhile. Each time a new data key is drawn.
//
// Before anything is replaced the record is copied ([Journal.Copy]) to a file
// beside it, named after the time, and that copy stays; the new file is made
// durable, its chain verified, it is opened with the passphrase, and each id and
// body compared with the record's; and alike, if given, is asked about the two.
// Whenever that is interrupted or fails, the record is as it was before. The new
// file has a store id of its own and says what it was written from ([Origin]).
//
// The passphrase is not overwritten.
func Reseal(ctx context.Context, path string, opts Options, passphrase []byte, alike func(before, after *Journal) error) (Resealed, error) {
	return reseal(ctx, path, opts, passphrase, alike, released)
}

func reseal(ctx context.Context, path string, opts Options, passphrase []byte, alike func(before, after *Journal) error, steps []step) (done Resealed, err error) {
	opts = opts.filled()
	opts.Shut = false
	if empty, err := isEmpty(path); err != nil {
		return done, err
	} else if empty {
		return done, &NoRecordError{Path: path}
	}
	j, err := open(ctx, path, opts, steps)
	if err != nil {
		return done, err
	}
	defer func() {
		if e := j.Close(); e != ErrClosed {
			err = errors.Join(err, e)
		}
	}()
	if err := j.Stopped(); err != nil {
		return done, err
	}
	fresh := j.path + "-new"
	if err := clearAway(fresh); err != nil { // of a making that was interrupted
		return done, &FolderError{Path: path, Cause: err}
	}
	kept := fmt.Sprintf("%s-before-%s", j.path, opts.Now.UTC().Format("20060102T150405Z"))
	if err := j.Copy(ctx, kept); err != nil {
		return done, err
	}
	defer func() {
		if done.Kept == "" {
			err = errors.Join(err, clearAway(fresh), removed(kept))
		}
	}()
	if err := j.writeAnew(ctx, fresh, opts, passphrase); err != nil {
		return done, &ResealError{Path: j.path, Cause: err}
	}
	end, err := j.compare(ctx, fresh, passphrase, alike)
	if err != nil {
		return done, &ResealError{Path: j.path, Cause: err}
	}
	replaced, err := j.replaceBy(fresh, end)
	if replaced {
		return Resealed{Lines: end.seq, Kept: kept}, err
	}
	if !errors.As(err, new(*InUseError)) {
		err = &ResealError{Path: j.path, Cause: err}
	}
	return done, err
}

// A ResealError says that a record could not be written anew.
type ResealError struct {
	Path  string
	Cause error
}

func (e *ResealError) Error() string {
	what, now := plainly(e.Cause)
	return fmt.Sprintf("The record %s could not be written anew: %s. It is as it was before; %s, then try again.", e.Path, what, now)
}

func (e *ResealError) Unwrap() error { return e.Cause }

// clearAway removes a file and what SQLite may have left beside it.
func clearAway(path string) error {
	return errors.Join(removed(path), removed(path+"-wal"), removed(path+"-shm"), removed(path+"-journal"))
}

// writeAnew writes a new store with all lines of this one.
func (j *Journal) writeAnew(ctx context.Context, to string, opts Options, passphrase []byte) (err error) {
	if err := makeFile(to); err != nil {
		return err
	}
	if err := migrate(ctx, to, j.steps, 0, opts.Random); err != nil {
		return err
	}
	w, err := openWriter(ctx, to)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, w.close()) }()
	by, at, err := w.found(ctx, to, &Origin{Store: j.Store(), Seq: j.head.seq, Hash: j.head.hash, At: opts.Now}, passphrase, opts.cost)
	if err != nil {
		return err
	}
	const together = 1000
	var batch []Line
	var k linker
	from := at
	flush := func() error {
		if len(batch) == 0 {
			return nil
		}
		err := w.append(batch, from, at)
		from, batch = at, batch[:0]
		return err
	}
	for l, err := range j.Lines(ctx, 0) {
		if err != nil {
			return err
		}
		l = by.sealedLine(at.hash, l)
		l.Hash = k.link(at.hash, l.Seq, l.ID, l.Body)
		at = mark{l.Seq, l.Hash}
		if batch = append(batch, l); len(batch) == together {
			if err := flush(); err != nil {
				return err
			}
		}
	}
	if err := flush(); err != nil {
		return err
	}
	_, err = w.emptyWal()
	return err
}

// found writes what a store that was written anew begins with: where it comes
// from, and how it is sealed under a passphrase, if there is one.
func (w *writer) found(ctx context.Context, path string, from *Origin, passphrase []byte, cost Cost) (by *bodies, at mark, err error) {
	tx, err := w.db.BeginTx(ctx, nil)
	if err != nil {
		return nil, at, err
	}
	defer tx.Rollback() // does nothing after the commit
	store, err := readStore(ctx, tx, path)
	if err != nil {
		return nil, at, err
	}
	if err := from.write(ctx, tx); err != nil {
		return nil, at, err
	}
	if passphrase != nil {
		var data [32]byte
		rand.Read(data[:]) // never fails since Go 1.24
		s, err := wrap(store, passphrase, &data, cost)
		if err != nil {
			return nil, at, err
		}
		if err := s.write(ctx, tx); err != nil {
			return nil, at, err
		}
		if by, err = under(&data); err != nil {
			return nil, at, err
		}
	}
	return by, mark{hash: Start(store)}, tx.Commit()
}

// compare opens the new file as any program would, and sees that it has the same
// lines, told apart by nothing but their hashes.
func (j *Journal) compare(ctx context.Context, fresh string, passphrase []byte, alike func(before, after *Journal) error) (end acknowledgement, err error) {
	after, err := openToRead(ctx, fresh, Options{Passphrase: func() ([]byte, error) { return bytes.Clone(passphrase), nil }}, j.steps)
	if err != nil {
		return end, err
	}
	defer func() { err = errors.Join(err, after.Close()) }()
	if _, sealed := after.Sealed(); sealed != (passphrase != nil) {
		return end, errors.New("the new file is not sealed as was asked")
	}
	next, stop := iter.Pull2(after.Lines(ctx, 0))
	defer stop()
	for was, err := range j.Lines(ctx, 0) {
		if err != nil {
			return end, err
		}
		is, err, more := next()
		if err != nil {
			return end, err
		}
		if !more || is.Seq != was.Seq || is.ID != was.ID || !bytes.Equal(is.Body, was.Body) {
			return end, fmt.Errorf("line %d of the new file is not that of the record", was.Seq)
		}
	}
	if _, _, more := next(); more {
		return end, errors.New("the new file has more lines than the record")
	}
	if alike != nil {
		if err := alike(j, after); err != nil {
			return end, err
		}
	}
	return acknowledgement{after.store, after.head}, nil
}

// replaceBy puts the new file in the record's place and closes the record. Until
// the one rename the record is untouched; replaced says whether it came to that.
func (j *Journal) replaceBy(fresh string, end acknowledgement) (replaced bool, err error) {
	if err := syncFile(fresh); err != nil {
		return false, err
	}
	if err := j.take(context.Background()); err != nil {
		return false, err
	}
	defer j.give()
	// Somebody who reads is not to have the file go from under them.
	if alone, err := j.write.emptyWal(); err != nil || !alone {
		return false, errors.Join(err, &InUseError{Path: j.path})
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	j.closed, j.bodies = true, nil
	defer func() { err = errors.Join(err, j.side.close()) }()
	if err := errors.Join(j.read.Close(), j.write.close()); err != nil {
		return false, err
	}
	if walHolds(j.path) {
		return false, &InUseError{Path: j.path}
	}
	// What lies beside the old file must not be taken for the new one's.
	if err := errors.Join(removed(j.path+"-wal"), removed(j.path+"-shm")); err != nil {
		return false, err
	}
	if err := os.Rename(fresh, j.path); err != nil {
		return false, err
	}
	// If the program ends before this, the origin speaks for the new file.
	return true, errors.Join(j.side.write(end), syncFolder(filepath.Dir(j.path)))
}

// emptyWal puts all of the write-ahead file into the record and empties it,
// which is possible, and true, only while nobody reads an older moment of it.
func (w *writer) emptyWal() (bool, error) {
	var busy, frames, done int
	err := w.db.QueryRow("PRAGMA wal_checkpoint(TRUNCATE)").Scan(&busy, &frames, &done)
	return busy == 0, err
}
