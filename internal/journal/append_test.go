package journal

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"ebbline/unit"
)

func TestAppendTwiceIsOnce(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "record.sqlite")
	j := opened(t, path)
	a, b, c := Line{ID: "a", Body: []byte("1")}, Line{ID: "b", Body: []byte("2")}, Line{ID: "c"}

	added, err := j.Append(ctx, a, b)
	if err != nil || len(added) != 2 || added[0].Seq != 1 || added[1].Seq != 2 {
		t.Fatalf("first: %v, %v", added, err)
	}
	if want := Link(added[0].Hash, 2, "b", []byte("2")); added[1].Hash != want || added[0].Hash != Link(Start(j.Store()), 1, "a", []byte("1")) {
		t.Error("the hashes do not follow from each other")
	}
	for i := range 3 { // sent again, whole, in part, and with something new
		if added, err = j.Append(ctx, b, a); err != nil || len(added) != 0 {
			t.Errorf("time %d: added %v, %v", i+2, added, err)
		}
	}
	if added, err = j.Append(ctx, a, c, b, c); err != nil || len(added) != 1 || added[0].ID != "c" || added[0].Seq != 3 {
		t.Errorf("with something new: %v, %v", added, err)
	}
	closed(t, j)
	j = opened(t, path)
	if added, err = j.Append(ctx, c, b, a); err != nil || len(added) != 0 {
		t.Errorf("after reopening: added %v, %v", added, err)
	}
	if got := len(all(t, j)); got != 3 {
		t.Errorf("%d lines, want 3", got)
	}
	if added, err = j.Append(ctx); err != nil || len(added) != 0 {
		t.Errorf("nothing: %v, %v", added, err)
	}
}

func TestAppendConflict(t *testing.T) {
	ctx := context.Background()
	j := opened(t, filepath.Join(t.TempDir(), "record.sqlite"))
	add(t, j, 0, 2)
	other := sample(1, 300)
	other.Body = append(bytes.Clone(other.Body), '!')
	_, err := j.Append(ctx, sample(5, 9), other)
	var conflict *ConflictError
	if !errors.As(err, &conflict) || conflict.ID != other.ID || conflict.Seq != 2 {
		t.Errorf("another body: %v, want a ConflictError at line 2", err)
	}
	_, err = j.Append(ctx, sample(6, 9), sample(6, 10))
	if !errors.As(err, &conflict) || conflict.Seq != 0 {
		t.Errorf("twice in one call: %v, want a ConflictError", err)
	}
	if seq, _ := j.Head(); seq != 2 || len(all(t, j)) != 2 {
		t.Errorf("a refused call added lines: head %d", seq)
	}
	if err := j.Stopped(); err != nil {
		t.Errorf("a refusal stopped the journal: %v", err)
	}
}

func TestAppendRefuses(t *testing.T) {
	ctx := context.Background()
	j := opened(t, filepath.Join(t.TempDir(), "record.sqlite"))
	for name, l := range map[string]Line{
		"no id":     {Body: []byte("x")},
		"long id":   {ID: strings.Repeat("x", maxID+1)},
		"zero byte": {ID: "a\x00b"},
		"not UTF-8": {ID: "a\xff"},
		"long body": {ID: "a", Body: make([]byte, maxBody+1)},
	} {
		if _, err := j.Append(ctx, sample(1, 10), l); !errors.As(err, new(*unit.InputError)) {
			t.Errorf("%s: %v, want an InputError", name, err)
		}
	}
	cancelled, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := j.Append(cancelled, sample(1, 10)); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled beforehand: %v", err)
	}
	if seq, _ := j.Head(); seq != 0 || j.Stopped() != nil {
		t.Errorf("head %d, stopped %v after refusals only", seq, j.Stopped())
	}
	whole := []Line{{ID: strings.Repeat("x", maxID), Body: make([]byte, maxBody)}, {ID: "é", Body: []byte{0, 255, 0}}, {ID: "none"}}
	if _, err := j.Append(ctx, whole...); err != nil {
		t.Fatal(err)
	}
	for i, l := range all(t, j) {
		if l.ID != whole[i].ID || !bytes.Equal(l.Body, whole[i].Body) {
			t.Errorf("line %d did not come back as it was sent", l.Seq)
		}
	}
}

// Many senders, some sending the same: each id is there once, in a whole chain.
func TestAppendFromMany(t *testing.T) {
	const senders, each, shared = 8, 30, 5
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "record.sqlite")
	j := opened(t, path)
	var wg sync.WaitGroup
	for s := range senders {
		wg.Go(func() {
			for i := range each {
				if _, err := j.Append(ctx, Line{ID: fmt.Sprintf("%d-%d", s, i), Body: []byte{byte(s)}}, sample(i%shared, 50)); err != nil {
					t.Error(err)
				}
				if i%10 == 0 {
					if err := j.Verify(ctx); err != nil {
						t.Error(err)
					}
				}
				j.Head()
			}
		})
	}
	wg.Wait()
	if seq, _ := j.Head(); seq != senders*each+shared {
		t.Errorf("%d lines, want %d", seq, senders*each+shared)
	}
	closed(t, j)
	opened(t, path)
}

// Another program that holds the file for writing is waited for, though less
// than two seconds; the journal goes on when it has gone. The best of three
// counts, since other programs share this machine.
func TestAppendWhileHeld(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "record.sqlite")
	j := opened(t, path)
	add(t, j, 0, 1)
	db, err := sql.Open("sqlite", "file:"+path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	if _, err := db.Exec("BEGIN IMMEDIATE"); err != nil {
		t.Fatal(err)
	}
	const soon = 2 * time.Second
	best := time.Hour
	for try := 0; try < 3 && best >= soon; try++ {
		began := time.Now()
		_, err := j.Append(ctx, sample(1, 10))
		best = min(best, time.Since(began))
		if e := (*InUseError)(nil); !errors.As(err, &e) || !e.Foreign {
			t.Errorf("while held: %v, want an InUseError", err)
		}
	}
	if best >= soon {
		t.Errorf("it took %v at best to say so, want under %v", best, soon)
	}
	if _, err := db.Exec("ROLLBACK"); err != nil {
		t.Fatal(err)
	}
	add(t, j, 1, 2)
	if seq, _ := j.Head(); seq != 2 {
		t.Errorf("head %d, want 2", seq)
	}
}

// Another program that adds a line behind the journal's back is noticed before
// anything is put on top of it.
func TestAppendAfterStranger(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "record.sqlite")
	j := opened(t, path)
	add(t, j, 0, 3)
	alter(t, path, "UPDATE head SET seq = 2, hash = (SELECT hash FROM line WHERE seq = 2)", "DELETE FROM line WHERE seq = 3")
	if _, err := j.Append(ctx, sample(7, 10)); !errors.As(err, new(*StoppedError)) {
		t.Errorf("Append: %v, want a StoppedError", err)
	}
	err := j.Reopen(ctx)
	if lost := (*LostError)(nil); !errors.As(err, &lost) || lost.Have != 2 || lost.Had != 3 {
		t.Errorf("Reopen: %v, want a LostError, 2 of 3", err)
	}
	if err := j.Stopped(); !errors.As(err, new(*StoppedError)) {
		t.Errorf("Stopped: %v", err)
	}
}

// A record that is taken away while it is open.
func TestVerifyOfLostFile(t *testing.T) {
	ctx := context.Background()
	for lines := range 2 {
		path := filepath.Join(t.TempDir(), "record.sqlite")
		j := opened(t, path)
		add(t, j, 0, lines)
		if runtime.GOOS == "windows" {
			return // where an open file cannot be taken away
		}
		for _, name := range []string{path, path + "-wal", path + "-shm"} {
			if err := os.Remove(name); err != nil {
				t.Fatal(err)
			}
		}
		if err := j.Verify(ctx); !errors.As(err, new(*LostError)) {
			t.Errorf("with %d lines: %v, want a LostError", lines, err)
		}
		if _, err := j.Append(ctx, sample(5, 5)); !errors.As(err, new(*StoppedError)) {
			t.Errorf("with %d lines: Append gave %v, want a StoppedError", lines, err)
		}
	}
}

func TestVerifyStopsAtDamage(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "record.sqlite")
	j := opened(t, path)
	add(t, j, 0, 5)
	alter(t, path, "UPDATE line SET body = x'00' WHERE seq = 3")
	err := j.Verify(ctx)
	if broken := (*BrokenError)(nil); !errors.As(err, &broken) || broken.Seq != 3 || broken.ID != sample(2, 0).ID {
		t.Fatalf("Verify: %v, want line 3", err)
	}
	if _, err := j.Append(ctx, sample(9, 10)); !errors.As(err, new(*StoppedError)) {
		t.Errorf("Append on a damaged record: %v, want a StoppedError", err)
	}
	n := 0
	for l, err := range j.Lines(ctx, 0) {
		if err == nil {
			n++
		} else if broken := (*BrokenError)(nil); !errors.As(err, &broken) || broken.Seq != 3 {
			t.Errorf("Lines: %d, %v, want line 3", l.Seq, err)
		}
	}
	if n != 2 {
		t.Errorf("%d whole lines were given, want the 2 before the damage", n)
	}
}

// alter does something to a file as another program would.
func alter(tb testing.TB, path string, statements ...string) {
	tb.Helper()
	db, err := sql.Open("sqlite", "file:"+path+"?_pragma=busy_timeout(2000)")
	if err != nil {
		tb.Fatal(err)
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	for _, s := range statements {
		if _, err := db.Exec(s); err != nil {
			tb.Fatalf("%s: %v", s, err)
		}
	}
}
