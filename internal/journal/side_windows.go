package journal

import (
	"errors"
	"os"
	"syscall"
)

// sharingViolation is what the system says of a file that another opened for
// itself alone.
const sharingViolation = syscall.Errno(32)

// openLocked opens or makes a file that nobody else may open meanwhile: it
// shares neither reading nor writing.
func openLocked(path string) (f *os.File, inUse bool, err error) {
	name, err := syscall.UTF16PtrFromString(path)
	if err != nil {
		return nil, false, err
	}
	h, err := syscall.CreateFile(name, syscall.GENERIC_READ|syscall.GENERIC_WRITE, 0, nil,
		syscall.OPEN_ALWAYS, syscall.FILE_ATTRIBUTE_NORMAL, 0)
	if err != nil {
		return nil, err == sharingViolation, &os.PathError{Op: "open", Path: path, Err: err}
	}
	return os.NewFile(uintptr(h), path), false, nil
}

// heldApart says that a file could not be opened because another holds it.
func heldApart(err error) bool { return errors.Is(err, sharingViolation) }

// syncFolder has nothing to do: Windows does not sync folders.
func syncFolder(string) error { return nil }
