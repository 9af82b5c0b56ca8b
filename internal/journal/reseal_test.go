package journal

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// sameLines says that a record holds samples 0 to n-1.
func sameLines(tb testing.TB, j *Journal, n, size int) {
	tb.Helper()
	lines := all(tb, j)
	if len(lines) != n {
		tb.Fatalf("%d lines, want %d", len(lines), n)
	}
	for i, l := range lines {
		if want := sample(i, size); l.ID != want.ID || !bytes.Equal(l.Body, want.Body) {
			tb.Fatalf("line %d is %q: %.40q", l.Seq, l.ID, l.Body)
		}
	}
}

// Sealed, sealed afresh and made plain again, a record has the same lines each
// time; what it was before stands beside it, whole; and it says where it is from.
func TestReseal(t *testing.T) {
	ctx := context.Background()
	const n = 2500 // more than goes in one transaction
	path := filled(t, n, 60)
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	var before Options
	for i, step := range []struct {
		name string
		to   []byte
		then Options
	}{
		{"set", []byte(right), Options{Passphrase: saying(right)}},
		{"set afresh", []byte("another one"), Options{Passphrase: saying("another one")}},
		{"taken off", nil, Options{}},
	} {
		j, err := OpenToRead(ctx, path, before)
		if err != nil {
			t.Fatal(err)
		}
		store := j.Store()
		seq, hash := j.Head()
		closed(t, j)

		opts := before
		opts.Now, opts.cost = now.Add(time.Duration(i)*time.Hour), cheap
		asked := false
		done, err := Reseal(ctx, path, opts, step.to, func(before, after *Journal) error {
			asked = true
			sameLines(t, before, n, 60)
			sameLines(t, after, n, 60)
			return nil
		})
		if err != nil || done.Lines != n || !asked {
			t.Fatalf("%s: %d lines, %v, asked %v", step.name, done.Lines, err, asked)
		}
		if want := path + "-before-" + opts.Now.Format("20060102T150405Z"); done.Kept != want {
			t.Errorf("%s: kept as %s, want %s", step.name, done.Kept, want)
		}
		kept, err := OpenToRead(ctx, done.Kept, before)
		if err != nil {
			t.Fatalf("%s: what was kept: %v", step.name, err)
		}
		sameLines(t, kept, n, 60)
		if s, h := kept.Head(); s != seq || h != hash || kept.Store() != store {
			t.Errorf("%s: what was kept is not the record as it was", step.name)
		}
		closed(t, kept)

		after, err := Open(ctx, path, step.then)
		if err != nil {
			t.Fatalf("%s: %v", step.name, err)
		}
		sameLines(t, after, n, 60)
		from, ok := after.Origin()
		if !ok || from.Store != store || from.Seq != seq || from.Hash != hash || !from.At.Equal(opts.Now) || after.Store() == store {
			t.Errorf("%s: it says it is from %+v, %v", step.name, from, ok)
		}
		if _, sealed := after.Sealed(); sealed != (step.to != nil) {
			t.Errorf("%s: sealed is %v", step.name, sealed)
		}
		if len(after.Cautions()) > 0 {
			t.Errorf("%s: %v", step.name, after.Cautions())
		}
		closed(t, after)
		if plain := bytes.Contains(read(t, path), sample(3, 60).Body); plain != (step.to == nil) {
			t.Errorf("%s: a body stands in plain in the file: %v", step.name, plain)
		}
		before = step.then
	}
	if left := names(contents(t, path)); slices.ContainsFunc(left, func(s string) bool { return strings.Contains(s, "-new") || strings.Contains(s, "-wal") }) {
		t.Errorf("left over: %q", left)
	}
}

// Where nothing can come of it, nothing is changed and nothing is left.
func TestResealRefuses(t *testing.T) {
	ctx := context.Background()
	path := filled(t, 30, 200)
	was := contents(t, path)
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	opts := Options{Now: now, cost: cheap}
	doubt := errors.New("they are not alike")
	untouched := func(name string) {
		t.Helper()
		if is := contents(t, path); !maps.Equal(is, was) {
			t.Errorf("%s: files are %q, were %q, or one was changed", name, names(is), names(was))
		}
	}
	if _, err := Reseal(ctx, path, opts, []byte(right), func(_, _ *Journal) error { return doubt }); !errors.Is(err, doubt) {
		t.Errorf("%v, want the doubt", err)
	}
	untouched("doubt")

	held := opened(t, path)
	if _, err := Reseal(ctx, path, opts, []byte(right), nil); !errors.As(err, new(*InUseError)) {
		t.Errorf("open elsewhere: %v, want an InUseError", err)
	}
	closed(t, held)
	untouched("open elsewhere")

	ended, end := context.WithCancel(ctx)
	end()
	if _, err := Reseal(ended, path, opts, []byte(right), nil); !errors.Is(err, context.Canceled) {
		t.Errorf("given up: %v", err)
	}
	untouched("given up")

	if err := os.WriteFile(path+"-before-20261125T090000Z", []byte("in the way"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Reseal(ctx, path, opts, []byte(right), nil); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a file in the way: %v, want fs.ErrExist", err)
	}
	if text := string(read(t, path+"-before-20261125T090000Z")); text != "in the way" {
		t.Errorf("what was in the way is now %.20q", text)
	}
	if err := os.Remove(path + "-before-20261125T090000Z"); err != nil {
		t.Fatal(err)
	}
	untouched("a file in the way")

	none := filepath.Join(t.TempDir(), "none")
	if _, err := Reseal(ctx, none, opts, []byte(right), nil); !errors.As(err, new(*NoRecordError)) {
		t.Errorf("nothing there: %v, want a NoRecordError", err)
	}
	if left := contents(t, none); len(left) > 0 {
		t.Errorf("nothing there, and it made %q", names(left))
	}
}

// Somebody is reading in the middle of the record: it is not taken from under
// them, and says so.
func TestResealWaitsForNoReader(t *testing.T) {
	ctx := context.Background()
	path := filled(t, 300, 200)
	held := opened(t, path)
	add(t, held, 300, 301) // there is a write-ahead file, so the reader takes SQLite's locks
	reader, err := OpenToRead(ctx, path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer reader.Close()
	held.mu.Lock()
	held.side.close() // as if the program had just ended, leaving its write-ahead file
	held.mu.Unlock()
	for _, err := range reader.Lines(ctx, 0) {
		if err != nil {
			t.Fatal(err)
		}
		_, err := Reseal(ctx, path, Options{cost: cheap}, []byte(right), nil)
		if !errors.As(err, new(*InUseError)) {
			t.Errorf("%v, want an InUseError", err)
		}
		break
	}
	held.read.Close()
	held.write.close()
	held.closed = true
	if seq, _ := opened(t, path).Head(); seq != 301 {
		t.Errorf("%d lines, want 301", seq)
	}
}

// The program ended between putting the new file in place and noting it: the
// record is taken for what it is. But if the old one had gone on meanwhile, the
// new one lacks what was saved, and that is said.
func TestResealedWithTheOldSideFile(t *testing.T) {
	ctx := context.Background()
	path := filled(t, 10, 100)
	old := duplicate(t, path)
	side := read(t, sidePath(path))
	if _, err := Reseal(ctx, path, Options{cost: cheap}, []byte(right), nil); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(sidePath(path), side, 0o600); err != nil {
		t.Fatal(err)
	}
	j := unlocked(t, path)
	if len(j.Cautions()) > 0 {
		t.Errorf("%v", j.Cautions())
	}
	closed(t, j)

	on := opened(t, old)
	add(t, on, 10, 12)
	closed(t, on)
	if err := os.WriteFile(sidePath(path), read(t, sidePath(old)), 0o600); err != nil {
		t.Fatal(err)
	}
	var lost *LostError
	if _, err := Open(ctx, path, Options{Passphrase: saying(right)}); !errors.As(err, &lost) || lost.Had != 12 {
		t.Errorf("the old record went on to 12 lines: %v, want a LostError", err)
	}
	if j, err := Open(ctx, path, Options{Passphrase: saying(right), AcceptShorter: true}); err != nil {
		t.Errorf("accepted: %v", err)
	} else {
		closed(t, j)
	}
}

// childReseal seals a record, and stays.
func childReseal(args []string) error {
	_, err := Reseal(context.Background(), args[0], Options{cost: cheap}, []byte(right), nil)
	if err != nil {
		return err
	}
	time.Sleep(time.Minute)
	return nil
}

// A program is killed while it seals a record: it is the plain one, byte for
// byte, or the sealed one with every line, and sealing it again works.
func TestKillWhileSealing(t *testing.T) {
	ctx := context.Background()
	origin := filled(t, 2000, 300)
	was := read(t, origin)
	dice := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 4))
	var plain, sealed, parts int
	rounds := max(12, *kills/8)
	for round := range rounds {
		path := duplicate(t, origin)
		cmd := child(t, "reseal", path)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if round%4 > 0 { // counted from the first sign of the copy; else from the start
			for began := time.Now(); time.Since(began) < 10*time.Second; time.Sleep(time.Millisecond) {
				if found, err := filepath.Glob(path + "-before-*"); err != nil || len(found) > 0 {
					break
				}
			}
		}
		wait := 80_000
		if round%4 == 3 { // to well after the end
			wait = 600_000
		}
		time.Sleep(time.Duration(dice.IntN(wait)) * time.Microsecond)
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		cmd.Wait() // killed, so it has an error
		if left := names(contents(t, path)); slices.ContainsFunc(left, func(s string) bool { return strings.Contains(s, "-new") || strings.Contains(s, ".part") }) {
			parts++
		}
		j, err := Open(ctx, path, Options{Passphrase: saying(right)})
		if err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		sameLines(t, j, 2000, 300)
		_, is := j.Sealed()
		closed(t, j)
		if is {
			sealed++
			continue
		}
		plain++
		if !bytes.Equal(read(t, path), was) {
			t.Errorf("round %d: the record is not sealed, and its file was changed", round)
		}
		if _, err := Reseal(ctx, path, Options{cost: cheap, Now: time.Now().Add(time.Hour)}, []byte(right), nil); err != nil {
			t.Errorf("round %d: sealing it again: %v", round, err)
		}
		sameLines(t, unlocked(t, path), 2000, 300)
	}
	t.Logf("%d kills: %d left it plain, %d sealed, %d in the middle of the new file or the copy", rounds, plain, sealed, parts)
	if parts < 3 {
		t.Error("too few kills fell into the middle to say")
	}
}
