//go:build unix

package journal

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// openLocked opens or makes a file and locks it against every other opener,
// in this program too.
func openLocked(path string) (f *os.File, inUse bool, err error) {
	f, err = os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS) {
		f, err = os.Open(path) // enough for the lock, and so for reading
	}
	if err != nil {
		return nil, false, err
	}
	for {
		err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		if err != syscall.EINTR {
			break
		}
	}
	if err != nil {
		f.Close()
		return nil, err == syscall.EWOULDBLOCK, err
	}
	return f, false, nil
}

// heldApart is for systems where a locked file cannot be opened at all.
func heldApart(error) bool { return false }

// syncFolder makes a new or renamed name in a folder durable.
func syncFolder(path string) error {
	d, err := os.Open(path)
	if err != nil {
		return err
	}
	defer d.Close()
	return d.Sync()
}
