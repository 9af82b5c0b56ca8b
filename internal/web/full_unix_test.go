//go:build unix

package web

import (
	"database/sql"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"
	"time"

	_ "modernc.org/sqlite"

	"ebbline/record"
)

// full lets no file of this process be written beyond its first page, as a
// disk without a free block does, and returns how to lift that.
func full(t *testing.T) (lift func()) {
	t.Helper()
	var was syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &was); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: 4096, Max: was.Max}); err != nil {
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

// onItsOwn reports whether this is a process for one test alone, and runs the test
// in such a one otherwise. The limit holds for every file of a process: the list
// that go test keeps of what its tests opened is one, and when it grew in the wrong
// moment, all tests passed and the package failed.
func onItsOwn(t *testing.T) bool {
	t.Helper()
	const mark = "EBBLINE_TEST_ON_ITS_OWN"
	if os.Getenv(mark) == t.Name() {
		return true
	}
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(program, "-test.run=^"+t.Name()+"$", "-test.v")
	cmd.Env = append(os.Environ(), mark+"="+t.Name())
	if out, err := cmd.CombinedOutput(); err != nil || !strings.Contains(string(out), "--- PASS: "+t.Name()) {
		t.Errorf("%v\n%s", err, out)
	}
	return false
}

// soon is within what time a page has to say that nothing was saved.
const soon = 2 * time.Second

// On a full disk the page says NOT SAVED – USE PAPER within two seconds, keeps
// what was typed, says so on every other page, goes on showing the record, and
// saves with the same button once there is room (H-45, CC18).
func TestFullDiskOnThePage(t *testing.T) {
	if !onItsOwn(t) {
		return
	}
	h := home(t, 1, true)
	base := vida + "/session/" + h.life.Open
	h.saved(base+"/event/drink", "volume_ml", "120")
	before := entries(h)
	lift := full(t)
	words, id := strings.Repeat("told at length, ", 200), newID()
	for range 2 { // pressed again while there is still no room
		began := time.Now()
		status, _, text := h.post(base+"/note", formOf("id", id, "words", words))
		if took := time.Since(began); took > soon {
			t.Errorf("said after %v", took)
		}
		if status != http.StatusServiceUnavailable || !strings.Contains(text, "NOT SAVED – USE PAPER") || !strings.Contains(text, strings.TrimSpace(words)) || !strings.Contains(text, id) {
			t.Fatalf("on a full disk: %d, want NOT SAVED with what was typed\n%s", status, problems(text))
		}
	}
	if answer := h.postJSON(base+"/event/drink", formOf("id", newID(), "volume_ml", "100")); answer.Saved || answer.Unsaved == "" {
		t.Errorf("the script is told %+v", answer)
	}
	for _, path := range []string{base, vida + "/", base + "/sheet"} {
		if status, text := h.get(path); status != http.StatusOK || !strings.Contains(text, "NOT SAVED – USE PAPER.</strong> <span>not saved") {
			t.Errorf("%s on a full disk: %d, and it does not say so", path, status)
		}
	}
	lift()
	h.saved(base+"/note", "id", id, "words", words)
	if n := entries(h) - before; n != 1 {
		t.Errorf("with room again %d more entries are there, want the note", n)
	}
	h.desk.View(func(r *record.Household) {
		if !r.Has(id) {
			t.Error("the note that was refused and sent again is not there")
		}
	})
	if _, text := h.get(base); strings.Contains(text, "<span>not saved") {
		t.Error("saved again, and the page still says NOT SAVED")
	}
}

// While another program holds the file the page says within two seconds that
// nothing was saved, and saves when the file is free. The best of three
// counts, since other programs share this machine.
func TestLockedFileOnThePage(t *testing.T) {
	h := home(t, 1, true)
	base := vida + "/session/" + h.life.Open
	other, err := sql.Open("sqlite", h.desk.Path())
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	other.SetMaxOpenConns(1)
	best := time.Hour
	id := newID()
	for range 3 {
		if _, err := other.Exec("BEGIN IMMEDIATE"); err != nil {
			t.Fatal(err)
		}
		began := time.Now()
		status, _, text := h.post(base+"/event/drink", formOf("id", id, "volume_ml", "130"))
		best = min(best, time.Since(began))
		if status != http.StatusServiceUnavailable || !strings.Contains(text, "NOT SAVED – USE PAPER") {
			t.Fatalf("with the file held: %d\n%s", status, problems(text))
		}
		if _, err := other.Exec("ROLLBACK"); err != nil {
			t.Fatal(err)
		}
		if best < soon {
			break
		}
	}
	if best > soon {
		t.Errorf("said after %v at best", best)
	}
	h.saved(base+"/event/drink", "id", id, "volume_ml", "130")
}
