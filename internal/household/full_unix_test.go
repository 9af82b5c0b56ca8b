//go:build unix

package household

import (
	"os"
	"syscall"
	"testing"
)

// limitPages keeps this process from letting any file grow much beyond what
// the record's files hold now, as a full disk does, and returns how to lift
// that.
func limitPages(t *testing.T, _ *Desk, path string) (lift func()) {
	t.Helper()
	most := int64(0)
	for _, name := range []string{path, path + "-wal"} {
		if st, err := os.Stat(name); err == nil {
			most = max(most, st.Size())
		}
	}
	var was syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &was); err != nil {
		t.Fatal(err)
	}
	now := syscall.Rlimit{Cur: uint64(most) + 64<<10, Max: was.Max}
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &now); err != nil {
		t.Fatal(err)
	}
	lift = func() {
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &was); err != nil {
			t.Fatal(err)
		}
	}
	t.Cleanup(lift)
	return lift
}
