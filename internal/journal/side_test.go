package journal

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func write(tb testing.TB, path string, data []byte) {
	tb.Helper()
	if err := os.WriteFile(path, data, 0o600); err != nil {
		tb.Fatal(err)
	}
}

// A copy of yesterday put in the record's place is a whole chain. Only the side
// file knows better.
func TestOlderCopyInPlaceIsFound(t *testing.T) {
	ctx := context.Background()
	path := filled(t, 20, 100)
	old, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	j := opened(t, path)
	add(t, j, 20, 25)
	closed(t, j)
	write(t, path, old)

	_, err = Open(ctx, path, Options{})
	var lost *LostError
	if !errors.As(err, &lost) || lost.Have != 20 || lost.Had != 25 || lost.Forked {
		t.Fatalf("%v, want a LostError, 20 of 25", err)
	}
	if j, err = Open(ctx, path, Options{AcceptShorter: true}); err != nil {
		t.Fatalf("accepted: %v", err)
	}
	closed(t, j)
	opened(t, path) // from then on it is the record
}

// Two copies that each went on: the one put in the other's place is as long.
func TestForkIsFound(t *testing.T) {
	path := filled(t, 20, 100)
	twin := duplicate(t, path)
	j, k := opened(t, path), opened(t, twin)
	add(t, j, 20, 22)
	add(t, k, 30, 33)
	closed(t, j)
	closed(t, k)
	data, err := os.ReadFile(twin)
	if err != nil {
		t.Fatal(err)
	}
	write(t, path, data)
	_, err = Open(context.Background(), path, Options{})
	var lost *LostError
	if !errors.As(err, &lost) || !lost.Forked || lost.Have != 23 || lost.Had != 22 {
		t.Errorf("%v, want a LostError of a fork", err)
	}
}

func TestLostFileIsFound(t *testing.T) {
	ctx := context.Background()
	path := filled(t, 20, 100)
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	_, err := Open(ctx, path, Options{})
	if lost := (*LostError)(nil); !errors.As(err, &lost) || lost.Have != 0 || lost.Had != 20 {
		t.Errorf("record removed: %v, want a LostError", err)
	}
	if _, err := os.Stat(path); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a new record was made in its place: %v", err)
	}
}

// The write-ahead file holds acknowledged lines until it is worked in. SQLite
// takes a lost or damaged one for the end of an interrupted write, and says
// nothing.
func TestLostWriteAheadFileIsFound(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "record.sqlite")
	j := opened(t, path)
	add(t, j, 0, 10)
	closed(t, j)
	j = opened(t, path)
	add(t, j, 10, 30)
	// What a program that is killed now would leave behind.
	main, wal, side := read(t, path), read(t, path+"-wal"), read(t, sidePath(path))
	closed(t, j)

	for name, tt := range map[string]struct {
		wal  []byte
		have int64
	}{
		"whole":               {wal, 30},
		"removed":             {nil, 10},
		"cut in the middle":   {wal[:len(wal)/2], -1},
		"a bit at the start":  {flipped(wal, 40*8), 10},
		"a bit in the middle": {flipped(wal, len(wal)*4), -1},
		"a bit at the end":    {flipped(wal, len(wal)*8-1), 29},
	} {
		to := filepath.Join(t.TempDir(), "record.sqlite")
		write(t, to, main)
		write(t, sidePath(to), side)
		if tt.wal != nil {
			write(t, to+"-wal", tt.wal)
		}
		j, err := Open(ctx, to, Options{})
		if tt.have == 30 {
			if err != nil {
				t.Errorf("%s: %v", name, err)
			} else {
				closed(t, j)
			}
			continue
		}
		var lost *LostError
		if !errors.As(err, &lost) || lost.Had != 30 || lost.Have >= 30 || tt.have >= 0 && lost.Have != tt.have {
			t.Errorf("%s: %v, want a LostError, %d of 30", name, err, tt.have)
		}
		if tt.wal != nil && string(read(t, to+"-wal")) != string(tt.wal) {
			t.Errorf("%s: the write-ahead file was changed by a refused start", name)
		}
	}

	// Beside an empty file SQLite would throw the write-ahead file away.
	to := filepath.Join(t.TempDir(), "record.sqlite")
	write(t, to, nil)
	write(t, to+"-wal", wal)
	if _, err := Open(ctx, to, Options{}); !errors.As(err, new(*BrokenError)) {
		t.Errorf("an empty file and a write-ahead file: %v, want a BrokenError", err)
	}
	if string(read(t, to+"-wal")) != string(wal) {
		t.Error("the only copy of the lines was thrown away")
	}
}

// A restored backup with another record's write-ahead file beside it.
func TestStrayWriteAheadFileIsRefused(t *testing.T) {
	ctx := context.Background()
	other := filepath.Join(t.TempDir(), "record.sqlite")
	j := opened(t, other)
	add(t, j, 500, 600)
	stray := read(t, other+"-wal")
	closed(t, j)

	path := filled(t, 20, 100)
	good := read(t, path)
	write(t, path+"-wal", stray)
	if j, err := Open(ctx, path, Options{}); err == nil {
		closed(t, j)
		t.Fatal("the two were opened as one record")
	}
	if string(read(t, path)) != string(good) {
		t.Error("the restored file was changed")
	}
	if err := os.Remove(path + "-wal"); err != nil {
		t.Fatal(err)
	}
	os.Remove(path + "-shm")
	if got := len(all(t, opened(t, path))); got != 20 {
		t.Errorf("without it: %d lines, want 20", got)
	}
}

// A record in which another program was interrupted. SQLite would roll it back
// with the journal beside it, whether that belongs to it or not.
func TestRollbackJournalIsRefused(t *testing.T) {
	ctx := context.Background()
	path := filled(t, 200, 400)
	db, err := sql.Open("sqlite", "file:"+path+"?_pragma=journal_mode(delete)&_pragma=cache_size(1)")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	for _, s := range []string{"BEGIN", "UPDATE line SET body = CAST(body || x'00' AS BLOB)"} {
		if _, err := db.Exec(s); err != nil {
			t.Fatal(err)
		}
	}
	main, journal := read(t, path), read(t, path+"-journal")
	to := filepath.Join(t.TempDir(), "record.sqlite")
	write(t, to, main)
	write(t, to+"-journal", journal)
	_, err = Open(ctx, to, Options{})
	if !errors.As(err, new(*UnreadableError)) || !strings.Contains(err.Error(), "-journal") {
		t.Errorf("%v, want an UnreadableError that names the journal", err)
	}
	if _, err = OpenToRead(ctx, to, Options{}); !errors.As(err, new(*UnreadableError)) || !strings.Contains(err.Error(), "-journal") {
		t.Errorf("to read: %v, want an UnreadableError that names the journal", err)
	}
	if string(read(t, to)) != string(main) || string(read(t, to+"-journal")) != string(journal) {
		t.Error("the two files were changed")
	}
}

// A side file that is torn, or another store's, says nothing against a record.
func TestSideFileThatSaysNothing(t *testing.T) {
	ctx := context.Background()
	path := filled(t, 20, 100)
	side := read(t, sidePath(path))
	for name, data := range map[string][]byte{
		"none": nil, "half": side[:len(side)/2], "a bit": flipped(side, 45*8), "other words": []byte("nothing of ours\n"),
	} {
		write(t, sidePath(path), data)
		j, err := Open(ctx, path, Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if len(j.Cautions()) != 0 {
			t.Errorf("%s: cautions %v", name, j.Cautions())
		}
		closed(t, j)
		if string(read(t, sidePath(path))) != string(side) {
			t.Errorf("%s: it was not put right", name)
		}
	}
	write(t, sidePath(path), read(t, sidePath(filled(t, 90, 50))))
	j := opened(t, path)
	if c := j.Cautions(); len(c) != 1 || c[0].Code != "other_record" {
		t.Errorf("another store's: cautions %v, want other_record", c)
	}
}

func read(tb testing.TB, path string) []byte {
	tb.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		tb.Fatal(err)
	}
	return data
}

func flipped(data []byte, bit int) []byte {
	out := append([]byte{}, data...)
	out[bit/8] ^= 1 << (bit % 8)
	return out
}
