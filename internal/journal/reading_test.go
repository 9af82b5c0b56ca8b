package journal

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"
)

func init() { children["append"] = childAppend }

// childAppend adds line after line, with checkpoints in between, and prints the
// number of each once it is acknowledged, until its input ends.
func childAppend(args []string) error {
	j, err := Open(context.Background(), args[0], Options{})
	if err != nil {
		return err
	}
	j.checkpointAfter = 20
	enough := make(chan struct{})
	go func() {
		bufio.NewReader(os.Stdin).ReadString('\n')
		close(enough)
	}()
	for i := 0; ; i++ {
		select {
		case <-enough:
			return j.Close()
		default:
		}
		added, err := j.Append(context.Background(), sample(i, 300))
		if err != nil {
			return err
		}
		fmt.Println(added[0].Seq)
		time.Sleep(time.Millisecond)
	}
}

// toRead opens a record to read and closes it at the test's end.
func toRead(tb testing.TB, path string) *Journal {
	tb.Helper()
	j, err := OpenToRead(context.Background(), path, Options{})
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

// contents are the files of the folder that a record is in.
func contents(tb testing.TB, path string) map[string]string {
	tb.Helper()
	names, err := filepath.Glob(filepath.Join(filepath.Dir(path), "*"))
	if err != nil {
		tb.Fatal(err)
	}
	files := map[string]string{}
	for _, name := range names {
		files[filepath.Base(name)] = string(read(tb, name))
	}
	return files
}

// Another program holds the record and adds lines all the while. Each reader
// sees a whole chain with every line acknowledged before it began, and the
// writer is not held up by any.
func TestReadBesideAWriter(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "record.sqlite")
	cmd := child(t, "append", path)
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	var said atomic.Int64
	lines := bufio.NewScanner(out)
	if !lines.Scan() {
		t.Fatalf("the writer ended by itself: %v", cmd.Wait())
	}
	heard := make(chan struct{})
	go func() {
		defer close(heard)
		for lines.Scan() {
			var seq int64
			fmt.Sscan(lines.Text(), &seq)
			said.Store(seq)
		}
	}()

	const opens, between = 20, 10
	grew, last := 0, int64(0)
	for i := range opens {
		least := said.Load()
		for began := time.Now(); least < last+between; least = said.Load() {
			if time.Sleep(time.Millisecond); time.Since(began) > 20*time.Second {
				t.Fatalf("the writer is held up at line %d", least)
			}
		}
		j := toRead(t, path)
		seq, hash := j.Head()
		if seq < least || seq < last {
			t.Errorf("opened with %d lines, %d were acknowledged and %d seen before", seq, least, last)
		}
		last = seq
		got := all(t, j)
		if len(got) < int(seq) || got[seq-1].Hash != hash {
			t.Fatalf("%d lines were read, and the last of %d is not where it was", len(got), seq)
		}
		if len(got) > int(seq) {
			grew++
		}
		for n, l := range got {
			if want := sample(n, 300); l.ID != want.ID || string(l.Body) != string(want.Body) {
				t.Fatalf("line %d is another than was sent", n+1)
			}
		}
		if err := j.Verify(ctx); err != nil {
			t.Error(err)
		}
		if l, ok, err := j.Find(ctx, sample(int(seq)-1, 0).ID); err != nil || !ok || l.Hash != hash {
			t.Errorf("finding the last line: %v, %v", ok, err)
		}
		if _, err := Open(ctx, path, Options{}); !errors.As(err, new(*InUseError)) {
			t.Fatalf("the writer no longer holds the record: %v", err)
		}
		if i%5 == 0 {
			to := filepath.Join(t.TempDir(), "copy.sqlite")
			if err := j.Copy(ctx, to); err != nil {
				t.Error(err)
			} else if n, _ := toRead(t, to).Head(); n < seq {
				t.Errorf("the copy has %d lines, want at least %d", n, seq)
			}
		}
		closed(t, j)
	}
	fmt.Fprintln(in)
	<-heard
	if err := cmd.Wait(); err != nil {
		t.Fatalf("the writer: %v", err)
	}
	t.Logf("the writer went to line %d; %d of %d readers saw lines added after they had opened", said.Load(), grew, opens)
	if seq, _ := opened(t, path).Head(); seq != said.Load() {
		t.Errorf("%d lines at the end, %d were acknowledged", seq, said.Load())
	}
}

// leftBehind makes the files that a program leaves which is killed: 10 lines in
// the record, 20 in the write-ahead file.
func leftBehind(t *testing.T, without ...string) string {
	t.Helper()
	path := filled(t, 10, 300)
	j := opened(t, path)
	add(t, j, 10, 30)
	left := contents(t, path)
	closed(t, j)
	for _, name := range without {
		delete(left, filepath.Base(path)+name)
	}
	to := filepath.Join(t.TempDir(), filepath.Base(path))
	for name, data := range left {
		write(t, filepath.Join(filepath.Dir(to), name), []byte(data))
	}
	return to
}

// Reading leaves every file as it was, and makes none but SQLite's shared
// memory where a write-ahead file was left.
func TestReadWritesNothing(t *testing.T) {
	ctx := context.Background()
	for name, tt := range map[string]struct {
		path  string
		lines int
		shm   bool
	}{
		"closed":                {filled(t, 30, 300), 30, false},
		"without side file":     {duplicate(t, filled(t, 30, 300)), 30, false},
		"left behind":           {leftBehind(t), 30, true},
		"without shared memory": {leftBehind(t, "-shm"), 30, true},
		"only the two":          {leftBehind(t, "-shm", "-lock"), 30, true},
	} {
		t.Run(name, func(t *testing.T) {
			before := contents(t, tt.path)
			elsewhere := filepath.Join(t.TempDir(), "copy.sqlite")
			for range 3 {
				j := toRead(t, tt.path)
				if seq, _ := j.Head(); int(seq) != tt.lines || len(all(t, j)) != tt.lines {
					t.Errorf("%d lines, want %d", seq, tt.lines)
				}
				if err := j.Verify(ctx); err != nil {
					t.Error(err)
				}
				if err := j.Copy(ctx, elsewhere); err != nil {
					t.Error(err)
				} else if seq, _ := toRead(t, elsewhere).Head(); int(seq) != tt.lines {
					t.Errorf("the copy has %d lines, want %d", seq, tt.lines)
				}
				if err := os.Remove(elsewhere); err != nil {
					t.Error(err)
				}
				closed(t, j)
			}
			after := contents(t, tt.path)
			if tt.shm {
				delete(before, filepath.Base(tt.path)+"-shm")
				delete(after, filepath.Base(tt.path)+"-shm")
			}
			if !maps.Equal(before, after) {
				t.Errorf("the files were changed:\n%v\n%v", names(before), names(after))
			}
			if got := len(all(t, opened(t, tt.path))); got != tt.lines {
				t.Errorf("opened afterwards: %d lines, want %d", got, tt.lines)
			}
		})
	}
}

func names(files map[string]string) (list []string) {
	for name, data := range files {
		list = append(list, fmt.Sprintf("%s (%d)", name, len(data)))
	}
	return list
}

// What changes a record is refused; the rest of a journal works.
func TestReadTakesNoLines(t *testing.T) {
	ctx := context.Background()
	path := filled(t, 5, 100)
	j, k := toRead(t, path), toRead(t, path) // as many as like
	for range 2 {
		if added, err := j.Append(ctx, sample(9, 10)); !errors.Is(err, ErrToRead) || added != nil {
			t.Errorf("Append: %v, %v", added, err)
		}
		if err := j.Reopen(ctx); !errors.Is(err, ErrToRead) {
			t.Errorf("Reopen: %v", err)
		}
	}
	if err := j.Stopped(); !errors.Is(err, ErrToRead) {
		t.Errorf("Stopped: %v", err)
	}
	w := opened(t, path) // neither holds it
	add(t, w, 5, 6)
	if j.Store() != w.Store() || j.Path() != w.Path() || len(j.Cautions()) != 0 {
		t.Errorf("store %x at %s with %v; want %x at %s", j.Store(), j.Path(), j.Cautions(), w.Store(), w.Path())
	}
	closed(t, j)
	if _, err := j.Append(ctx, sample(9, 10)); err != ErrClosed {
		t.Errorf("closed, Append: %v", err)
	}
	if err := j.Reopen(ctx); err != ErrClosed {
		t.Errorf("closed, Reopen: %v", err)
	}
	if err := j.Close(); err != ErrClosed {
		t.Errorf("closed twice: %v", err)
	}
	if seq, _ := k.Head(); seq != 5 {
		t.Errorf("the other reader's head is %d, want 5", seq)
	}
	write(t, sidePath(path), read(t, sidePath(filled(t, 90, 50))))
	if c := toRead(t, path).Cautions(); len(c) != 1 || c[0].Code != "other_record" {
		t.Errorf("another store's side file: cautions %v", c)
	}
}

// A file that was read as it lay has been changed meanwhile: that is no damage,
// and said as what it is. Damage is, when it is looked for anew.
func TestReadWhatWasChangedMeanwhile(t *testing.T) {
	ctx := context.Background()
	path := filled(t, 5, 100)
	j := toRead(t, path)
	alter(t, path, "UPDATE line SET hash = zeroblob(32) WHERE seq = 2")
	for _, err := range j.Lines(ctx, 1) {
		if !errors.As(err, new(*InUseError)) {
			t.Errorf("Lines: %v, want an InUseError", err)
		}
	}
	if _, _, err := j.Find(ctx, sample(1, 0).ID); !errors.As(err, new(*InUseError)) {
		t.Errorf("Find: %v, want an InUseError", err)
	}
	to := filepath.Join(t.TempDir(), "copy.sqlite")
	if err := j.Copy(ctx, to); !errors.As(err, new(*InUseError)) {
		t.Errorf("Copy: %v, want an InUseError", err)
	}
	if _, err := os.Stat(to); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a bad copy was left: %v", err)
	}
	if broken := (*BrokenError)(nil); !errors.As(j.Verify(ctx), &broken) || broken.Seq != 2 {
		t.Errorf("Verify: %v, want line 2", broken)
	}
}

// A writer that ends while somebody reads leaves all its lines in the one file.
func TestWriterEndsBesideAReader(t *testing.T) {
	path := filled(t, 5, 100)
	w := opened(t, path)
	add(t, w, 5, 20)
	j := toRead(t, path)
	if got := len(all(t, j)); got != 20 {
		t.Errorf("%d lines, want 20", got)
	}
	closed(t, w)
	if got := len(all(t, j)); got != 20 {
		t.Errorf("after the writer ended: %d lines, want 20", got)
	}
	closed(t, j)
	if got := len(all(t, opened(t, duplicate(t, path)))); got != 20 {
		t.Errorf("in the one file: %d lines, want 20", got)
	}
	if seq, _ := toRead(t, path).Head(); seq != 20 {
		t.Errorf("read again: %d lines, want 20", seq)
	}
	add(t, opened(t, path), 20, 21)
}

// What Open refuses is refused here too, and what it would make or change.
func TestReadRefuses(t *testing.T) {
	ctx := context.Background()
	damaged := filled(t, 5, 100)
	alter(t, damaged, "UPDATE line SET body = x'00' WHERE seq = 3")
	cut := filled(t, 5, 100)
	alter(t, cut, "DELETE FROM line WHERE seq > 3")
	lost := filled(t, 5, 100)
	yesterday := read(t, lost)
	j := opened(t, lost)
	add(t, j, 5, 9)
	closed(t, j)
	write(t, lost, yesterday)
	newer := filled(t, 5, 100)
	if j, err := open(ctx, newer, Options{}, later); err != nil {
		t.Fatal(err)
	} else {
		closed(t, j)
	}
	gone := filled(t, 5, 100)
	if err := os.Remove(gone); err != nil {
		t.Fatal(err)
	}
	empty, letter := filepath.Join(t.TempDir(), "record.sqlite"), filepath.Join(t.TempDir(), "letter.txt")
	write(t, empty, nil)
	write(t, letter, []byte(strings.Repeat("Dear unit, the machine is well.\n", 100)))

	for name, tt := range map[string]struct {
		path string
		is   func(error) bool
	}{
		"damaged":      {damaged, func(err error) bool { e := (*BrokenError)(nil); return errors.As(err, &e) && e.Seq == 3 }},
		"cut":          {cut, func(err error) bool { e := (*BrokenError)(nil); return errors.As(err, &e) && e.Seq == 4 }},
		"lost":         {lost, func(err error) bool { e := (*LostError)(nil); return errors.As(err, &e) && e.Have == 5 && e.Had == 9 }},
		"newer":        {newer, func(err error) bool { e := (*NewerError)(nil); return errors.As(err, &e) && e.Form == 4 }},
		"gone":         {gone, func(err error) bool { e := (*LostError)(nil); return errors.As(err, &e) && e.Have == 0 && e.Had == 5 }},
		"never there":  {filepath.Join(t.TempDir(), "record.sqlite"), func(err error) bool { return errors.As(err, new(*NoRecordError)) }},
		"never filled": {empty, func(err error) bool { return errors.As(err, new(*NoRecordError)) }},
		"a letter":     {letter, func(err error) bool { return errors.As(err, new(*NotOursError)) }},
		"no folder":    {filepath.Join(t.TempDir(), "no", "record.sqlite"), func(err error) bool { return errors.As(err, new(*FolderError)) }},
	} {
		before := contents(t, tt.path)
		j, err := OpenToRead(ctx, tt.path, Options{})
		if err == nil {
			closed(t, j)
		}
		if !tt.is(err) {
			t.Errorf("%s: %v", name, err)
		}
		if after := contents(t, tt.path); !maps.Equal(before, after) {
			t.Errorf("%s: the files were changed: %v, %v", name, names(before), names(after))
		}
	}

	accepted, err := OpenToRead(ctx, lost, Options{AcceptShorter: true})
	if err != nil {
		t.Fatalf("accepted: %v", err)
	}
	closed(t, accepted)
	if _, err := OpenToRead(ctx, lost, Options{}); !errors.As(err, new(*LostError)) {
		t.Errorf("reading it once has made it the record: %v", err)
	}

	old := filled(t, 5, 100)
	before := contents(t, old)
	_, err = openToRead(ctx, old, Options{}, later)
	if older := (*OlderError)(nil); !errors.As(err, &older) || older.Form != 2 || older.Known != len(later) {
		t.Errorf("an older form: %v, want an OlderError", err)
	}
	if after := contents(t, old); !maps.Equal(before, after) {
		t.Errorf("an older form: the files were changed: %v, %v", names(before), names(after))
	}
}
