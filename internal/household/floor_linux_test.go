package household

import (
	"os"
	"syscall"
	"testing"
	"time"
)

func syncData(f *os.File) error { return syscall.Fdatasync(int(f.Fd())) }

// cpuTime is what this process has used so far.
func cpuTime(tb testing.TB) time.Duration {
	tb.Helper()
	var use syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &use); err != nil {
		tb.Fatal(err)
	}
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}
