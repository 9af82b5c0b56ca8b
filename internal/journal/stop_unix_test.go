//go:build unix

package journal

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strconv"
	"syscall"
	"testing"
)

func init() {
	children["limited"] = childLimited
	children["protected"] = childProtected
}

func run(t *testing.T, cmd *exec.Cmd) {
	t.Helper()
	cmd.Stderr = nil
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Errorf("%v: %s", err, out)
	}
}

// The system refuses to let a file grow beyond a limit, in the middle of a
// write: in the write-ahead file, in the record while it is checkpointed, and
// at once.
func TestFullByLimit(t *testing.T) {
	for name, tt := range map[string]struct {
		limit, checkpointAfter int
		before                 bool // it stops after an acknowledged line, not in a refused one
	}{
		"write-ahead file": {200_000, checkpointPages, false},
		"checkpoint":       {300_000, 30, true},
		"first write":      {40_000, checkpointPages, false},
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "record.sqlite")
			run(t, child(t, "limited", path, strconv.Itoa(tt.limit), strconv.Itoa(tt.checkpointAfter), strconv.FormatBool(tt.before)))
			if seq, _ := opened(t, path).Head(); seq == 0 {
				t.Error("nothing is left")
			}
		})
	}
}

// childLimited fills the record up to a limit on the length of files, in bytes,
// then raises it and goes on.
func childLimited(args []string) error {
	ctx := context.Background()
	limit, err := strconv.ParseUint(args[1], 10, 64)
	if err != nil {
		return err
	}
	j, err := Open(ctx, args[0], Options{})
	if err != nil {
		return err
	}
	if j.checkpointAfter, err = strconv.Atoi(args[2]); err != nil {
		return err
	}
	for i := range 5 {
		if _, err := j.Append(ctx, sample(i, 300)); err != nil {
			return err
		}
	}
	// Without a limit's signal the write itself fails, as on a full disk.
	signal.Ignore(syscall.SIGXFSZ)
	var was syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &was); err != nil {
		return err
	}
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: limit, Max: was.Max}); err != nil {
		return err
	}
	last, refused, before, err := untilStopped(ctx, j, 5)
	if err != nil {
		return err
	}
	if strconv.FormatBool(before) != args[3] {
		return fmt.Errorf("stopped before the refused line: %v", before)
	}
	if err := stillReadable(ctx, j, last); err != nil {
		return err
	}
	// Reopening without room either fails, or the next write does. Nothing
	// that was acknowledged is lost by trying.
	if err := j.Reopen(ctx); err == nil {
		if _, err := j.Append(ctx, sample(80_000, 500_000)); !errors.As(err, new(*StoppedError)) {
			return fmt.Errorf("without room, Append gave %v", err)
		}
	}
	if err := stillReadable(ctx, j, last); err != nil {
		return err
	}
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &was); err != nil {
		return err
	}
	if err := recovered(ctx, j, last, refused); err != nil {
		return err
	}
	return j.Close()
}

// runUnprivileged has a child do its job in a folder of its own as somebody
// else than the superuser, who may write what is protected.
func runUnprivileged(t *testing.T, job string) {
	t.Helper()
	dir := t.TempDir()
	for up := dir; up != filepath.Dir(up) && up != os.TempDir(); up = filepath.Dir(up) {
		if err := os.Chmod(up, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	home := filepath.Join(dir, "home")
	if err := os.Mkdir(home, 0o700); err != nil {
		t.Fatal(err)
	}
	cmd := child(t, job, home)
	if os.Getuid() == 0 {
		const nobody = 65534
		if err := os.Chown(home, nobody, nobody); err != nil {
			t.Fatal(err)
		}
		// go test keeps its binary where only its owner can go.
		self, err := os.ReadFile(cmd.Path)
		if err != nil {
			t.Fatal(err)
		}
		cmd.Path = filepath.Join(dir, "journal.test")
		if err := os.WriteFile(cmd.Path, self, 0o755); err != nil {
			t.Fatal(err)
		}
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	}
	cmd.Dir = dir
	run(t, cmd)
}

// A write-protected record, one in a write-protected folder, and one whose side
// file is write-protected, can be read;
// lines are taken again once the protection is off.
func TestWriteProtected(t *testing.T) { runUnprivileged(t, "protected") }

func childProtected(args []string) error {
	ctx := context.Background()
	home := args[0]
	path := filepath.Join(home, "record.sqlite")
	for _, protect := range []struct {
		path      string
		off, full os.FileMode
	}{
		{path, 0o400, 0o600},
		{home, 0o500, 0o700},
		{sidePath(path), 0o400, 0o600},
	} {
		j, err := Open(ctx, path, Options{})
		if err != nil {
			return err
		}
		before, _ := j.Head()
		for i := range 5 {
			if _, err := j.Append(ctx, Line{ID: fmt.Sprint(before, i)}); err != nil {
				return err
			}
		}
		last, _ := j.Head()
		if err := j.Close(); err != nil {
			return err
		}
		if err := os.Chmod(protect.path, protect.off); err != nil {
			return err
		}
		if j, err = Open(ctx, path, Options{}); err != nil {
			return fmt.Errorf("%s protected: %w", protect.path, err)
		}
		if j.Stopped() == nil {
			return fmt.Errorf("%s protected, and the journal says it takes lines", protect.path)
		}
		if err := stillReadable(ctx, j, last); err != nil {
			return err
		}
		if err := j.Copy(ctx, filepath.Join(os.TempDir(), fmt.Sprintf("ebbline-copy-%d", os.Getpid()))); err != nil {
			return fmt.Errorf("a copy elsewhere: %w", err)
		}
		if err := os.Remove(filepath.Join(os.TempDir(), fmt.Sprintf("ebbline-copy-%d", os.Getpid()))); err != nil {
			return err
		}
		if err := j.Reopen(ctx); !errors.As(err, new(*StoppedError)) {
			return fmt.Errorf("still protected, and Reopen gave %v", err)
		}
		if err := os.Chmod(protect.path, protect.full); err != nil {
			return err
		}
		if err := recovered(ctx, j, last, sample(int(last)+1000, 50)); err != nil {
			return fmt.Errorf("%s: %w", protect.path, err)
		}
		if err := j.Close(); err != nil {
			return err
		}
	}
	return nil
}
