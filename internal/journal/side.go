package journal

import (
	"errors"
	"fmt"
	"io"
	"os"
)

// A sideFile stands beside the record. While a program has the record open it
// holds a lock on it, which the system takes away when that program ends in
// whatever manner; and it holds the last acknowledged place in the chain.
//
// It is never deleted: two programs would then lock two different files. The
// record's own file is not locked this way, because closing it would drop the
// locks that SQLite holds on it.
type sideFile struct {
	f *os.File // holds the lock; may be open for reading only
	w *os.File // the same file, once it could be opened for writing
}

// sidePath is where the side file of a record is.
func sidePath(path string) string { return path + "-lock" }

// takeSide locks the side file of the record at path, making it if needed.
func takeSide(path string) (*sideFile, error) {
	f, inUse, err := openLocked(sidePath(path))
	switch {
	case inUse:
		return nil, &InUseError{Path: path}
	case err != nil:
		return nil, &FolderError{Path: path, Cause: err}
	}
	return &sideFile{f: f}, nil
}

// An acknowledgement is what the side file says: in this store, the line at
// this place was told to somebody as saved.
type acknowledgement struct {
	store [16]byte
	mark
}

const sideForm = "ebbline-saved 1 store=%x line=%020d hash=%x check=%x\nThis file belongs to the record beside it. Leave it there.\n"

func (a acknowledgement) String() string {
	sum := Link(a.hash, a.seq, "side file", a.store[:])
	return fmt.Sprintf(sideForm, a.store, a.seq, a.hash, sum[:8])
}

// read gives what was acknowledged last. It is written without a sync, so
// after a power cut it may be older than the record, or torn; a torn one says
// nothing.
func (s *sideFile) read() (acknowledgement, bool, error) {
	var a acknowledgement
	text := make([]byte, len(a.String()))
	n, err := s.f.ReadAt(text, 0)
	if err == io.EOF || n < len(text) {
		return a, false, nil
	}
	if err != nil {
		return a, false, err
	}
	var store, hash, sum []byte
	if _, err := fmt.Sscanf(string(text), sideForm, &store, &a.seq, &hash, &sum); err != nil ||
		len(store) != len(a.store) || len(hash) != len(a.hash) {
		return acknowledgement{}, false, nil
	}
	a.store, a.hash = [16]byte(store), [32]byte(hash)
	return a, a.String() == string(text), nil
}

// write does not sync: a power cut may leave an older acknowledgement, never a
// newer one than the record has.
func (s *sideFile) write(a acknowledgement) error {
	text := []byte(a.String())
	if s.w == nil {
		// Where the lock's file was write-protected when it was opened, it may
		// be writable by now. The lock stays where it is.
		if _, err := s.f.WriteAt(text, 0); err == nil {
			s.w = s.f
			return nil
		}
		w, err := os.OpenFile(s.f.Name(), os.O_RDWR, 0)
		if err != nil {
			return err
		}
		s.w = w
	}
	_, err := s.w.WriteAt(text, 0)
	return err
}

// close makes the last acknowledgement durable and gives the lock back.
func (s *sideFile) close() error {
	var errs []error
	if s.w != nil {
		errs = append(errs, s.w.Sync())
		if s.w != s.f {
			errs = append(errs, s.w.Close())
		}
	}
	return errors.Join(append(errs, s.f.Close())...)
}
