package journal

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
)

func TestCopy(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	j := opened(t, filepath.Join(dir, "record.sqlite"))
	if err := j.Copy(ctx, filepath.Join(dir, "empty")); err != nil {
		t.Fatalf("an empty record: %v", err)
	}
	add(t, j, 0, 30)
	to := filepath.Join(dir, "copy of it.sqlite")
	if err := os.WriteFile(to+".part", []byte("of a copy that was interrupted"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := j.Copy(ctx, to); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(to); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("rights of the copy: %v, %v", info.Mode(), err)
	}
	if _, err := os.Stat(to + ".part"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a part is left: %v", err)
	}
	if beside, err := filepath.Glob(to + "?*"); err != nil || len(beside) != 0 {
		t.Errorf("beside the copy: %q, %v", beside, err)
	}
	if mode := read(t, to)[18]; mode != 2 {
		t.Errorf("the copy's first page says mode %d, want 2, write-ahead", mode)
	}
	if err := j.Copy(ctx, to); !errors.Is(err, fs.ErrExist) {
		t.Errorf("over a file: %v, want fs.ErrExist", err)
	}
	if err := j.Copy(ctx, filepath.Join(dir, "none", "copy")); !errors.As(err, new(*CopyError)) {
		t.Errorf("into no folder: %v, want a CopyError", err)
	}
	add(t, j, 30, 31) // the record goes on, the copy does not
	twin := opened(t, to)
	seq, hash := twin.Head()
	if lines := all(t, j); seq != 30 || hash != lines[29].Hash || twin.Store() != j.Store() {
		t.Errorf("the copy ends at %d", seq)
	}
}

// Lines are added while copies are made: each copy is whole, and has at least
// what had been acknowledged before.
func TestCopyWhileWriting(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	j := opened(t, filepath.Join(dir, "record.sqlite"))
	add(t, j, 0, 50)
	done := make(chan struct{})
	var wg sync.WaitGroup
	wg.Go(func() {
		for i := 50; ; i++ {
			select {
			case <-done:
				return
			default:
				if _, err := j.Append(ctx, sample(i, 500)); err != nil {
					t.Error(err)
					return
				}
			}
		}
	})
	for i := range 10 {
		before, _ := j.Head()
		to := filepath.Join(dir, string(rune('a'+i)))
		if err := j.Copy(ctx, to); err != nil {
			t.Fatal(err)
		}
		twin := opened(t, to)
		if seq, _ := twin.Head(); seq < before {
			t.Errorf("the copy has %d lines, %d had been acknowledged", seq, before)
		}
		closed(t, twin)
	}
	close(done)
	wg.Wait()
}

// What is damaged is not handed on as a copy.
func TestNoCopyOfDamage(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	path := filepath.Join(dir, "record.sqlite")
	j := opened(t, path)
	add(t, j, 0, 9)
	alter(t, path, "UPDATE line SET body = x'00' WHERE seq = 4")
	to := filepath.Join(dir, "copy")
	err := j.Copy(ctx, to)
	if broken := (*BrokenError)(nil); !errors.As(err, &broken) || broken.Seq != 4 {
		t.Errorf("%v, want a BrokenError at line 4", err)
	}
	for _, name := range []string{to, to + ".part"} {
		if _, err := os.Stat(name); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s is left: %v", filepath.Base(name), err)
		}
	}
}
