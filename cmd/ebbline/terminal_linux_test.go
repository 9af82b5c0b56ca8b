package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
	"unsafe"
)

// A screen is a terminal that the program is run at, and somebody who types.
type screen struct {
	t     *testing.T
	cmd   *exec.Cmd
	keys  *os.File
	mu    sync.Mutex
	shown bytes.Buffer
	ended chan error
	read  chan struct{} // closed when the program has let go of the terminal and all of it is shown
}

// atTerminal runs the program at a terminal of its own.
func atTerminal(t *testing.T, env []string, args ...string) *screen {
	t.Helper()
	keys, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { keys.Close() })
	var number, unlocked uint32
	for request, arg := range map[uintptr]*uint32{syscall.TIOCSPTLCK: &unlocked, syscall.TIOCGPTN: &number} {
		if _, _, bad := syscall.Syscall(syscall.SYS_IOCTL, keys.Fd(), request, uintptr(unsafe.Pointer(arg))); bad != 0 {
			t.Fatal(bad)
		}
	}
	tty, err := os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer tty.Close()
	self, err := exec.LookPath("ebbline") // put there by TestMain
	if err != nil {
		t.Fatal(err)
	}
	s := &screen{t: t, keys: keys, cmd: exec.Command(self, args...), ended: make(chan error, 1), read: make(chan struct{})}
	s.cmd.Env = append(os.Environ(), env...)
	s.cmd.Stdin, s.cmd.Stdout, s.cmd.Stderr = tty, tty, tty
	s.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	if err := s.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	go func() {
		defer close(s.read)
		part := make([]byte, 4096)
		for {
			n, err := keys.Read(part)
			s.mu.Lock()
			s.shown.Write(part[:n])
			s.mu.Unlock()
			if err != nil {
				return
			}
		}
	}()
	go func() { s.ended <- s.cmd.Wait() }()
	t.Cleanup(func() { s.cmd.Process.Kill() })
	return s
}

func (s *screen) text() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.shown.String()
}

// answer waits until the screen shows a question and types a line.
func (s *screen) answer(question, line string) {
	s.t.Helper()
	s.until(question)
	// The echo is off a moment after the words are shown.
	for began := time.Now(); s.echoes(); time.Sleep(time.Millisecond) {
		if time.Since(began) > 30*time.Second {
			s.t.Fatalf("at %q what is typed would be shown", question)
		}
	}
	if _, err := s.keys.WriteString(line); err != nil {
		s.t.Fatal(err)
	}
}

// echoes reports whether the terminal shows what is typed.
func (s *screen) echoes() bool {
	s.t.Helper()
	var how syscall.Termios
	if _, _, bad := syscall.Syscall(syscall.SYS_IOCTL, s.keys.Fd(), syscall.TCGETS, uintptr(unsafe.Pointer(&how))); bad != 0 {
		s.t.Fatal(bad)
	}
	return how.Lflag&syscall.ECHO != 0
}

func (s *screen) until(words string) {
	s.t.Helper()
	for began := time.Now(); !strings.Contains(s.text(), words); time.Sleep(5 * time.Millisecond) {
		if time.Since(began) > 30*time.Second {
			s.t.Fatalf("it never showed %q, but\n%s", words, s.text())
		}
	}
}

// end waits for the program and gives its exit status.
func (s *screen) end() int {
	s.t.Helper()
	select {
	case err := <-s.ended:
		if exit := (*exec.ExitError)(nil); err != nil && !errors.As(err, &exit) {
			s.t.Fatal(err)
		}
	case <-time.After(30 * time.Second):
		s.t.Fatalf("it did not end:\n%s", s.text())
	}
	select {
	case <-s.read:
	case <-time.After(30 * time.Second):
		s.t.Fatalf("it ended, and something holds its terminal:\n%s", s.text())
	}
	return s.cmd.ProcessState.ExitCode()
}

// At a terminal the passphrase is typed, twice when it is new, and never shown.
func TestPassphraseAtTheTerminal(t *testing.T) {
	const typed, other = "five words taken by chance", "six other words taken by chance"
	file := filepath.Join(t.TempDir(), "house.ebb")
	env := []string{"EBBLINE_FILE=" + file, "EBBLINE_PASSPHRASE_FILE=", "EBBLINE_ZONE=Europe/Lisbon"}
	if code, _, complaint := ran(t, "", "record", "-file", file, "../../docs/examples/household.jsonl"); code != exitDone {
		t.Fatal(complaint)
	}
	untyped := func(s *screen) {
		t.Helper()
		for _, p := range []string{typed, other} {
			if strings.Contains(s.text(), p) {
				t.Errorf("the screen shows what was typed:\n%s", s.text())
			}
		}
	}

	s := atTerminal(t, env, "seal", "set")
	s.answer("New passphrase: ", typed+"\n")
	if !strings.Contains(s.text(), "nobody can read the record again") {
		t.Errorf("it asks before it says what forgetting means:\n%s", s.text())
	}
	s.answer("The same again: ", other+"\n")
	if code := s.end(); code != exitRefused || !strings.Contains(s.text(), "The two were not the same; nothing was changed.") {
		t.Errorf("two that differ: status %d\n%s", code, s.text())
	}
	untyped(s)
	if sealed, err := isSealed(file); err != nil || sealed {
		t.Fatalf("two that differ: sealed %v, %v", sealed, err)
	}

	s = atTerminal(t, env, "seal", "set")
	s.answer("New passphrase: ", typed+"\n")
	s.answer("The same again: ", typed+"\n")
	if code := s.end(); code != exitDone || !strings.Contains(s.text(), "4 entries written anew") {
		t.Fatalf("status %d\n%s", code, s.text())
	}
	untyped(s)

	s = atTerminal(t, env, "show")
	s.answer("Passphrase of the record: ", typed+"\n")
	if code := s.end(); code != exitDone || !strings.Contains(s.text(), "Maarja Tamm") {
		t.Errorf("status %d\n%s", code, s.text())
	}
	untyped(s)

	// Asked for the old one and twice for the new one.
	s = atTerminal(t, env, "seal", "change")
	s.answer("Passphrase of the record: ", typed+"\n")
	s.answer("New passphrase: ", other+"\n")
	s.answer("The same again: ", other+"\n")
	if code := s.end(); code != exitDone || strings.Count(s.text(), "Passphrase of the record: ") != 1 {
		t.Errorf("status %d\n%s", code, s.text())
	}
	untyped(s)

	// Ctrl-C in the middle gives back a terminal that shows what is typed.
	s = atTerminal(t, env, "serve", "-addr", "127.0.0.1:0")
	s.answer("Passphrase of the record: ", "six\x03")
	if code := s.end(); code != exitFailed {
		t.Errorf("ended by Ctrl-C: status %d\n%s", code, s.text())
	}
	untyped(s)
}
