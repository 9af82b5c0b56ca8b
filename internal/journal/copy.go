package journal

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// Copy writes a copy of the record, as it is at one moment, to a file that
// must not exist yet. It returns after the copy has been opened, its whole
// chain verified, its number of lines and its last hash compared with the
// record's, and all of it made durable. A file under the name to is therefore
// always a whole copy; until then it is called to with ".part" behind it.
//
// Lines may be added meanwhile; the copy has at least those acknowledged when
// Copy was called. The copy is one file, with the same store id.
func (j *Journal) Copy(ctx context.Context, to string) error {
	to, err := filepath.Abs(to)
	if err != nil {
		return err
	}
	j.mu.RLock()
	read, closed := j.read, j.closed
	least := acknowledgement{j.store, j.head}
	j.mu.RUnlock()
	if closed {
		return ErrClosed
	}
	return j.settled(copyFile(ctx, read, to, j.steps, least))
}

// copyBefore copies a record of an older form, beside it, before it is changed.
func (j *Journal) copyBefore(ctx context.Context, x *examined, now time.Time) error {
	db, err := connect(j.path, reading)
	if err != nil {
		return err
	}
	defer db.Close()
	name := fmt.Sprintf("%s-form%d-%s", j.path, x.form, now.UTC().Format("20060102T150405Z"))
	err = copyFile(ctx, db, name, j.steps, acknowledgement{x.store, x.head})
	if e := (*CopyError)(nil); errors.As(err, &e) {
		e.Form = x.form
	}
	return err
}

// copyFile copies the database behind db, which must go through least.
func copyFile(ctx context.Context, db *sql.DB, to string, steps []step, least acknowledgement) (err error) {
	if _, err := os.Lstat(to); err == nil {
		return &CopyError{To: to, Cause: fs.ErrExist}
	}
	part := to + ".part"
	defer func() {
		if err != nil {
			err = &CopyError{To: to, Cause: errors.Join(err, removed(part))}
		}
	}()
	if err := removed(part); err != nil { // a copy that was interrupted
		return err
	}
	if err := makeFile(part); err != nil { // SQLite copies into an empty file
		return err
	}
	if _, err := db.ExecContext(ctx, "VACUUM INTO ?", part); err != nil {
		return err
	}
	// The copy leaves here in write-ahead mode, so that its first opening as a
	// record need not change it.
	w, err := connect(part, writing)
	if err != nil {
		return err
	}
	if err := errors.Join(w.PingContext(ctx), w.Close()); err != nil {
		return err
	}
	x, err := examineBy(ctx, part, steps, least.mark, still)
	if err != nil {
		return err
	}
	if err := sameChain(ctx, db, x, least); err != nil {
		return err
	}
	if err := syncFile(part); err != nil {
		return err
	}
	if err := os.Rename(part, to); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(to))
}

// sameChain compares a verified copy with what it is a copy of. The chain's
// lines are numbered without a gap, so the last number is their count.
func sameChain(ctx context.Context, db *sql.DB, x *examined, least acknowledgement) error {
	if x.store != least.store || !x.past {
		return fmt.Errorf("the copy has %d lines and does not hold line %d as it was saved", x.head.seq, least.seq)
	}
	if x.head.seq == 0 {
		return nil
	}
	var hash []byte
	if err := db.QueryRowContext(ctx, "SELECT hash FROM line WHERE seq = ?", x.head.seq).Scan(&hash); err != nil {
		return err
	}
	if string(hash) != string(x.head.hash[:]) {
		return fmt.Errorf("line %d, the last of the copy, is another one in the record", x.head.seq)
	}
	return nil
}

// syncFile makes a file durable. No connection may have it open: closing it
// would drop SQLite's locks.
func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	err = f.Sync()
	return errors.Join(err, f.Close())
}

// removed removes a file that may not be there.
func removed(path string) error {
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}
