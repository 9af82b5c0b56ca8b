package journal

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// opened opens a record and closes it at the test's end.
func opened(tb testing.TB, path string) *Journal {
	tb.Helper()
	j, err := Open(context.Background(), path, Options{})
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() {
		if err := j.Close(); err != nil && !errors.Is(err, ErrClosed) {
			tb.Errorf("closing: %v", err)
		}
	})
	return j
}

// add appends samples first to last-1 one by one.
func add(tb testing.TB, j *Journal, first, last int) {
	tb.Helper()
	for i := first; i < last; i++ {
		if _, err := j.Append(context.Background(), sample(i, 300)); err != nil {
			tb.Fatal(err)
		}
	}
}

// all reads every line.
func all(tb testing.TB, j *Journal) []Line {
	tb.Helper()
	var lines []Line
	for l, err := range j.Lines(context.Background(), 0) {
		if err != nil {
			tb.Fatal(err)
		}
		lines = append(lines, l)
	}
	return lines
}

func closed(tb testing.TB, j *Journal) {
	tb.Helper()
	if err := j.Close(); err != nil {
		tb.Fatal(err)
	}
}

func TestNewRecord(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "record.sqlite")
	random := bytes.Repeat([]byte{7}, 16)
	j, err := Open(ctx, path, Options{Random: bytes.NewReader(random)})
	if err != nil {
		t.Fatal(err)
	}
	store := [16]byte(random)
	if j.Store() != store {
		t.Errorf("store id %x, want the 16 bytes that were drawn", j.Store())
	}
	if seq, hash := j.Head(); seq != 0 || hash != Start(store) {
		t.Errorf("head of an empty record is %d %x", seq, hash)
	}
	add(t, j, 0, 3)
	seq, hash := j.Head()
	before := all(t, j)
	closed(t, j)
	if _, err := os.Stat(path + "-wal"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("after closing there is still a write-ahead file: %v", err)
	}
	if info, err := os.Stat(path); err != nil {
		t.Fatal(err)
	} else if runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("rights of the record: %v, want its owner's only", info.Mode())
	}

	again := opened(t, path)
	if s, h := again.Head(); s != 3 || s != seq || h != hash || again.Store() != store {
		t.Errorf("reopened at %d %x, was %d %x", s, h, seq, hash)
	}
	after := all(t, again)
	if len(after) != 3 {
		t.Fatalf("%d lines, want 3", len(after))
	}
	for i, l := range after {
		want := sample(i, 300)
		if l.Seq != int64(i+1) || l.ID != want.ID || !bytes.Equal(l.Body, want.Body) || l.Hash != before[i].Hash {
			t.Errorf("line %d came back as %d %q", i+1, l.Seq, l.ID)
		}
	}
}

func TestOpenAnyName(t *testing.T) {
	for _, name := range []string{"with space.sqlite", "100%.sqlite", "a%20b.sqlite", "plus+and&.sqlite", "Ännchen's Akte.sqlite", "透析.sqlite", "semi;colon#.sqlite"} {
		path := filepath.Join(t.TempDir(), name)
		j := opened(t, path)
		add(t, j, 0, 1)
		closed(t, j)
		if info, err := os.Stat(path); err != nil || info.Size() == 0 {
			t.Errorf("%q: nothing was written under that name: %v", name, err)
		}
		if seq, _ := opened(t, path).Head(); seq != 1 {
			t.Errorf("%q: %d lines, want 1", name, seq)
		}
	}
	if runtime.GOOS != "windows" { // where a name may not have it
		if seq, _ := opened(t, filepath.Join(t.TempDir(), "why?mode=ro.sqlite")).Head(); seq != 0 {
			t.Errorf("%d lines, want 0", seq)
		}
	}
}

func TestOpenRefusesPlaces(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	if _, err := Open(ctx, filepath.Join(dir, "none", "record.sqlite"), Options{}); !errors.As(err, new(*FolderError)) {
		t.Errorf("folder that is not there: %v, want a FolderError", err)
	}
	sub := filepath.Join(dir, "folder")
	if err := os.Mkdir(sub, 0o700); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(ctx, sub, Options{}); !errors.As(err, new(*NotOursError)) {
		t.Errorf("a folder: %v, want a NotOursError", err)
	}
	text := filepath.Join(dir, "letter.txt")
	letter := []byte(strings.Repeat("Dear unit, the machine is well.\n", 100))
	if err := os.WriteFile(text, letter, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(ctx, text, Options{}); !errors.As(err, new(*NotOursError)) {
		t.Errorf("a text: %v, want a NotOursError", err)
	}
	if got, err := os.ReadFile(text); err != nil || !bytes.Equal(got, letter) {
		t.Errorf("the text was changed: %v", err)
	}
	other := filepath.Join(dir, "other.sqlite")
	alter(t, other, "CREATE TABLE song (title TEXT)", "PRAGMA user_version = 1")
	if _, err := Open(ctx, other, Options{}); !errors.As(err, new(*NotOursError)) {
		t.Errorf("another program's database: %v, want a NotOursError", err)
	}
}

// A crash between making the file and its first table leaves a database
// without anything in it.
func TestOpenAfterCrashWhileMaking(t *testing.T) {
	for name, prepare := range map[string]func(path string) error{
		"empty file":     func(path string) error { return os.WriteFile(path, nil, 0o600) },
		"empty database": func(path string) error { alter(t, path, "PRAGMA journal_mode = wal", "VACUUM"); return nil },
	} {
		path := filepath.Join(t.TempDir(), "record.sqlite")
		if err := prepare(path); err != nil {
			t.Fatal(err)
		}
		j := opened(t, path)
		add(t, j, 0, 1)
		if seq, _ := j.Head(); seq != 1 {
			t.Errorf("%s: %d lines, want 1", name, seq)
		}
	}
}

func TestOneAtATime(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	path := filepath.Join(dir, "record.sqlite")
	j := opened(t, path)
	if _, err := Open(ctx, path, Options{}); !errors.As(err, new(*InUseError)) {
		t.Errorf("the same program again: %v, want an InUseError", err)
	}
	if runtime.GOOS != "windows" { // where links need a right of their own
		link := filepath.Join(dir, "link.sqlite")
		if err := os.Symlink(path, link); err != nil {
			t.Fatal(err)
		}
		if _, err := Open(ctx, link, Options{}); !errors.As(err, new(*InUseError)) {
			t.Errorf("by a link: %v, want an InUseError", err)
		}
	}
	closed(t, j)

	cmd := child(t, "hold", path)
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if said, err := bufio.NewReader(out).ReadString('\n'); said != "open\n" {
		t.Fatalf("the other program said %q, %v", said, err)
	}
	_, err = Open(ctx, path, Options{})
	if !errors.As(err, new(*InUseError)) {
		t.Errorf("open in another program: %v, want an InUseError", err)
	}
	if err := cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	cmd.Wait() // killed, so it has an error
	if seq, _ := opened(t, path).Head(); seq != 0 {
		t.Errorf("after the other was killed: %d lines, want 0", seq)
	}
}

func TestClosed(t *testing.T) {
	ctx := context.Background()
	j := opened(t, filepath.Join(t.TempDir(), "record.sqlite"))
	add(t, j, 0, 2)
	closed(t, j)
	if _, err := j.Append(ctx, sample(9, 10)); err != ErrClosed {
		t.Errorf("Append: %v", err)
	}
	for _, err := range j.Lines(ctx, 0) {
		if err != ErrClosed {
			t.Errorf("Lines: %v", err)
		}
	}
	if err := j.Verify(ctx); err != ErrClosed {
		t.Errorf("Verify: %v", err)
	}
	if err := j.Copy(ctx, filepath.Join(t.TempDir(), "copy")); err != ErrClosed {
		t.Errorf("Copy: %v", err)
	}
	if err := j.Reopen(ctx); err != ErrClosed {
		t.Errorf("Reopen: %v", err)
	}
	if err := j.Close(); err != ErrClosed {
		t.Errorf("Close again: %v", err)
	}
}

func TestLines(t *testing.T) {
	ctx := context.Background()
	j := opened(t, filepath.Join(t.TempDir(), "record.sqlite"))
	add(t, j, 0, 10)
	for _, tt := range []struct {
		after int64
		want  []int64
	}{
		{-5, []int64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}},
		{0, []int64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}},
		{7, []int64{8, 9, 10}},
		{9, []int64{10}},
		{10, nil},
		{99, nil},
	} {
		var got []int64
		for l, err := range j.Lines(ctx, tt.after) {
			if err != nil {
				t.Fatalf("after %d: %v", tt.after, err)
			}
			got = append(got, l.Seq)
		}
		if len(got) != len(tt.want) || len(got) > 0 && got[0] != tt.want[0] {
			t.Errorf("after %d: %v, want %v", tt.after, got, tt.want)
		}
	}

	// The loop may add lines, which it does not see, and may be left.
	seen := 0
	for l, err := range j.Lines(ctx, 0) {
		if err != nil {
			t.Fatal(err)
		}
		if _, err := j.Append(ctx, sample(100+seen, 20)); err != nil {
			t.Fatal(err)
		}
		if seen++; l.Seq == 8 {
			break
		}
	}
	if seq, _ := j.Head(); seen != 8 || seq != 18 {
		t.Errorf("saw %d lines and ended at %d, want 8 and 18", seen, seq)
	}
	for range 2 * readers { // a loop that was left gives its connection back
		for range j.Lines(ctx, 0) {
			break
		}
	}
	given, cancel := context.WithCancel(ctx)
	cancel()
	for _, err := range j.Lines(given, 0) {
		if !errors.Is(err, context.Canceled) {
			t.Errorf("cancelled: %v", err)
		}
	}
}
