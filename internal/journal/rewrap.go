package journal

import (
	"context"
	"errors"
	"fmt"
)

// Rewrap sets another passphrase for a sealed record. No line is changed: the
// data key stays, and only what it is sealed under is replaced, in one
// transaction. A copy made before still opens with the passphrase it had, and
// whoever has both can read what is added here later; against that, [Reseal]
// draws a new data key.
//
// The new passphrase is not overwritten.
func Rewrap(ctx context.Context, path string, opts Options, passphrase []byte) (err error) {
	opts = opts.filled()
	opts.Shut = true // the passphrase is asked below, where the data key is wanted too
	if empty, err := isEmpty(path); err != nil {
		return err
	} else if empty {
		return &NoRecordError{Path: path}
	}
	j, err := Open(ctx, path, opts)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, j.Close()) }()
	if j.sealing == nil {
		return &NotSealedError{Path: j.path}
	}
	data, err := j.sealing.dataKey(j.path, j.store, opts.Passphrase)
	if err != nil {
		return err
	}
	defer clear(data[:])
	if j.stopped != nil {
		return j.stopped
	}
	s, err := wrap(j.store, passphrase, &data, opts.cost)
	if err != nil {
		return err
	}
	if err := j.write.rewrap(ctx, j.path, j.store, s, passphrase, &data); err != nil {
		return &ResealError{Path: j.path, Cause: err}
	}
	return nil
}

// rewrap puts a sealing in the place of another, after it has been read back and
// the passphrase has opened it. The old one is wiped from the file's own pages.
func (w *writer) rewrap(ctx context.Context, path string, store [16]byte, s *sealing, passphrase []byte, data *[32]byte) error {
	if _, err := w.db.ExecContext(ctx, "PRAGMA secure_delete = 1"); err != nil {
		return err
	}
	tx, err := w.db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback() // does nothing after the commit
	if err := s.write(ctx, tx); err != nil {
		return err
	}
	is, err := readSealing(ctx, tx, path)
	if err != nil {
		return err
	}
	again, ok, err := is.unwrap(store, passphrase)
	defer clear(again[:])
	switch {
	case err != nil:
		return err
	case !ok || again != *data:
		return errors.New("the new passphrase does not open what it sealed")
	}
	return tx.Commit() // and [Journal.Close] empties the write-ahead file, where the old one may stay
}

// A NotSealedError says that there is no passphrase to change.
type NotSealedError struct{ Path string }

func (e *NotSealedError) Error() string {
	return fmt.Sprintf("The record %s is not sealed; nothing was changed.", e.Path)
}
