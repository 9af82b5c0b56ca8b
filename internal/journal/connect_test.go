package journal

import (
	"bytes"
	"context"
	"database/sql"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"modernc.org/sqlite"
)

// SQLite keeps these per connection, so one that was forgotten would write
// without a sync. All connections are held at once, to ask each of them.
func TestEveryConnectionIsSet(t *testing.T) {
	ctx := context.Background()
	j := opened(t, filepath.Join(t.TempDir(), "record.sqlite"))
	always := map[string]string{
		"journal_mode":         "wal",
		"synchronous":          "2", // full
		"fullfsync":            "1",
		"checkpoint_fullfsync": "1",
		"foreign_keys":         "1",
		"busy_timeout":         "1500",
		"trusted_schema":       "0",
		"cell_size_check":      "1",
		"application_id":       "1164075628",
	}
	if got := time.Duration(1500) * time.Millisecond; got != busyWait {
		t.Errorf("busyWait is %v", busyWait)
	}
	for name, pool := range map[string]struct {
		db   *sql.DB
		most int
		more map[string]string
	}{
		"reading": {j.read, readers, nil},
		"writing": {j.write.db, 1, map[string]string{"wal_autocheckpoint": "0"}},
	} {
		if got := pool.db.Stats().MaxOpenConnections; got != pool.most {
			t.Errorf("%s: up to %d connections, want %d", name, got, pool.most)
		}
		for i := range pool.most {
			conn, err := pool.db.Conn(ctx)
			if err != nil {
				t.Fatal(err)
			}
			defer conn.Close() // held until the test ends, so that each is another one
			for _, set := range []map[string]string{always, pool.more} {
				for pragma, want := range set {
					var got string
					if err := conn.QueryRowContext(ctx, "PRAGMA "+pragma).Scan(&got); err != nil || got != want {
						t.Errorf("%s connection %d: %s is %q, want %q (%v)", name, i+1, pragma, got, want, err)
					}
				}
			}
			var readOnly bool
			err = conn.Raw(func(c any) error {
				readOnly, err = c.(interface{ IsReadOnly(string) (bool, error) }).IsReadOnly("main")
				return err
			})
			if err != nil || readOnly != (name == "reading") {
				t.Errorf("%s connection %d: read-only is %v, %v", name, i+1, readOnly, err)
			}
		}
	}
}

func TestFdatasyncIsUsedWhereThereIsOne(t *testing.T) {
	if _, err := sqlite.Fdatasync(true); err == nil && !sqlite.FdatasyncEnabled() {
		t.Error("SQLite syncs with fsync, though fdatasync is there")
	}
}

// A second transaction cannot begin while one is under way, rather than
// finding out at its end.
func TestWriteTransactionsLockAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "record.sqlite")
	j := opened(t, path)
	tx, err := j.write.db.Begin()
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback()
	other, err := sql.Open("sqlite", strings.Replace(dsn(path, writing), "1500", "1", 1))
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	if _, err := other.Begin(); err == nil {
		t.Error("a second write transaction began while the first was under way")
	}
}

// The driver works only with the C library of the version that it names.
func TestLibcIsTheOneSQLiteAsksFor(t *testing.T) {
	list := func(args ...string) string {
		out, err := exec.Command("go", append([]string{"list", "-m", "-f"}, args...)...).Output()
		if err != nil {
			t.Fatalf("go list %v: %v", args, err)
		}
		return string(bytes.TrimSpace(out))
	}
	ours := list("{{.Version}}", "modernc.org/libc")
	gomod := list("{{.GoMod}}", "modernc.org/sqlite")
	out, err := exec.Command("go", "mod", "edit", "-print", gomod).Output()
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(out), "modernc.org/libc "+ours+"\n") {
		t.Errorf("go.mod has modernc.org/libc %s, and modernc.org/sqlite asks for another", ours)
	}
}
