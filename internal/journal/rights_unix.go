//go:build unix

package journal

import (
	"os"
	"syscall"
)

// namesOf counts the names that a file has in its file system.
func namesOf(path string) int {
	info, err := os.Stat(path)
	if err != nil {
		return 0
	}
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		return int(s.Nlink)
	}
	return 1
}

// mayWrite says that the system would let us write a file. It asks without
// opening it: closing it again would drop SQLite's locks.
func mayWrite(path string) bool {
	const writing = 2 // W_OK
	return syscall.Access(path, writing) == nil
}
