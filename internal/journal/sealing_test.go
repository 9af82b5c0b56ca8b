package journal

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// cheap is a cost at which a test can try many passphrases.
var cheap = Cost{Memory: 64, Passes: 1, Lanes: 1}

// saying answers with a passphrase, as often as it is asked.
func saying(passphrase string) func() ([]byte, error) {
	return func() ([]byte, error) { return []byte(passphrase), nil }
}

const right = "five words taken by chance"

// sealedRecord makes a sealed record of n lines and takes away what was kept.
func sealedRecord(tb testing.TB, n, size int) string {
	tb.Helper()
	path := filled(tb, n, size)
	done, err := Reseal(context.Background(), path, Options{cost: cheap}, []byte(right), nil)
	if err != nil {
		tb.Fatal(err)
	}
	if err := os.Remove(done.Kept); err != nil {
		tb.Fatal(err)
	}
	return path
}

// unlocked opens a sealed record with its passphrase.
func unlocked(tb testing.TB, path string) *Journal {
	tb.Helper()
	j, err := Open(context.Background(), path, Options{Passphrase: saying(right), cost: cheap})
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

// What is added to a sealed record comes back as it was sent, by every way of
// reading, and stands nowhere on the disk.
func TestSealedLinesReadBackAndAreHidden(t *testing.T) {
	ctx := context.Background()
	path := sealedRecord(t, 20, 300)
	j := unlocked(t, path)
	const words = "the words that nobody is to find on the disk"
	sent := []Line{{ID: "a", Body: []byte(words)}, {ID: "b", Body: nil}, {ID: "c", Body: bytes.Repeat([]byte{0}, 5000)}, sample(99, 300)}
	added, err := j.Append(ctx, sent...)
	if err != nil || len(added) != 4 || string(added[0].Body) != words {
		t.Fatalf("%d lines, %v", len(added), err)
	}
	if again, err := j.Append(ctx, sent...); err != nil || len(again) != 0 {
		t.Errorf("sent again: %d lines added, %v", len(again), err)
	}
	if _, err := j.Append(ctx, Line{ID: "a", Body: []byte("others")}); !errors.As(err, new(*ConflictError)) {
		t.Errorf("another body under the same id: %v, want a ConflictError", err)
	}
	read := func(name string, j *Journal) {
		lines := all(t, j)
		if len(lines) != 24 {
			t.Fatalf("%s: %d lines, want 24", name, len(lines))
		}
		for i, l := range lines[20:] {
			if l.ID != sent[i].ID || !bytes.Equal(l.Body, sent[i].Body) {
				t.Errorf("%s: line %d is %q", name, l.Seq, l.Body)
			}
		}
		if l, ok, err := j.Find(ctx, "a"); err != nil || !ok || string(l.Body) != words {
			t.Errorf("%s: found %q, %v, %v", name, l.Body, ok, err)
		}
	}
	read("open", j)
	copied := filepath.Join(t.TempDir(), "copy")
	if err := j.Copy(ctx, copied); err != nil {
		t.Fatal(err)
	}
	hidden := func(when, path string) {
		for name, text := range contents(t, path) {
			for _, plain := range []string{words, string(sample(3, 40).Body), string(sample(99, 40).Body)} {
				if strings.Contains(text, plain) {
					t.Errorf("%s: %s holds %q", when, name, plain)
				}
			}
		}
	}
	hidden("open", path) // the write-ahead file too
	closed(t, j)
	hidden("closed", path)
	hidden("copied", copied)
	read("opened again", unlocked(t, path))
	read("the copy", unlocked(t, copied))
	beside, err := OpenToRead(ctx, path, Options{Passphrase: saying(right)})
	if err != nil {
		t.Fatal(err)
	}
	defer beside.Close()
	read("to read", beside)
}

// Without the passphrase, or with another, a sealed record says so in a sentence
// and no file is changed, made or taken away. It is asked for once.
func TestWrongPassphraseTouchesNothing(t *testing.T) {
	ctx := context.Background()
	path := sealedRecord(t, 20, 300)
	was := contents(t, path)
	for name, opener := range map[string]func(Options) (*Journal, error){
		"Open":       func(o Options) (*Journal, error) { return Open(ctx, path, o) },
		"OpenToRead": func(o Options) (*Journal, error) { return OpenToRead(ctx, path, o) },
		"Reseal":     func(o Options) (*Journal, error) { _, err := Reseal(ctx, path, o, []byte("new"), nil); return nil, err },
		"Rewrap":     func(o Options) (*Journal, error) { return nil, Rewrap(ctx, path, o, []byte("new")) },
	} {
		asked := 0
		given := []byte(right + " ")
		_, err := opener(Options{Passphrase: func() ([]byte, error) { asked++; return given, nil }})
		if !errors.As(err, new(*PassphraseError)) || strings.Count(err.Error(), ". ") > 0 {
			t.Errorf("%s: %v, want one sentence of a PassphraseError", name, err)
		}
		if asked != 1 {
			t.Errorf("%s: asked %d times, want once", name, asked)
		}
		if strings.Trim(string(given), "\x00") != "" {
			t.Errorf("%s: what was given was not overwritten: %q", name, given)
		}
		if _, err := opener(Options{}); !errors.As(err, new(*SealedError)) {
			t.Errorf("%s without a passphrase: %v, want a SealedError", name, err)
		}
		gone := errors.New("nobody there")
		if _, err := opener(Options{Passphrase: func() ([]byte, error) { return nil, gone }}); !errors.Is(err, gone) {
			t.Errorf("%s: %v, want what the asking gave", name, err)
		}
		if is := contents(t, path); !maps.Equal(is, was) {
			t.Errorf("%s: files are %q, were %q, or one was changed", name, names(is), names(was))
		}
	}
}

// Shut, a sealed record can be verified and copied and nothing else.
func TestShut(t *testing.T) {
	ctx := context.Background()
	path := sealedRecord(t, 20, 300)
	never := Options{Shut: true, Passphrase: func() ([]byte, error) { t.Error("it asks for the passphrase"); return nil, nil }}
	for name, open := range map[string]func(context.Context, string, Options) (*Journal, error){"Open": Open, "OpenToRead": OpenToRead} {
		j, err := open(ctx, path, never)
		if err != nil {
			t.Fatal(err)
		}
		if seq, _ := j.Head(); seq != 20 {
			t.Errorf("%s: %d lines, want 20", name, seq)
		}
		if err := j.Verify(ctx); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if cost, sealed := j.Sealed(); !sealed || cost != cheap {
			t.Errorf("%s: sealed %v at %v", name, sealed, cost)
		}
		for _, err := range j.Lines(ctx, 0) {
			if !errors.Is(err, ErrShut) {
				t.Errorf("%s: reading gives %v, want ErrShut", name, err)
			}
		}
		if _, _, err := j.Find(ctx, sample(3, 0).ID); !errors.Is(err, ErrShut) {
			t.Errorf("%s: finding gives %v, want ErrShut", name, err)
		}
		if _, err := j.Append(ctx, sample(50, 300)); !errors.Is(err, ErrShut) && !errors.Is(err, ErrToRead) {
			t.Errorf("%s: adding gives %v, want ErrShut or ErrToRead", name, err)
		}
		to := filepath.Join(t.TempDir(), "copy")
		if err := j.Copy(ctx, to); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		closed(t, j)
		if lines := all(t, unlocked(t, to)); len(lines) != 20 || !bytes.Equal(lines[7].Body, sample(7, 300).Body) {
			t.Errorf("%s: the copy does not open as the record does", name)
		}
	}
}

// One bit flipped in a sealed line is found without the passphrase, and named.
// A line that was forged – its hash and all after it made anew – is found and
// named when the record is read with the passphrase.
func TestSealedLineFlippedOrForged(t *testing.T) {
	ctx := context.Background()
	origin := sealedRecord(t, 40, 300)
	dice := rand.New(rand.NewPCG(9, 9))
	for range 60 {
		path := duplicate(t, origin)
		seq := 1 + dice.Int64N(40)
		tamper(t, path, func(kept []Line) {
			body := kept[seq-1].Body
			body[dice.IntN(len(body))] ^= 1 << dice.IntN(8)
		}, false)
		var broken *BrokenError
		if _, err := Open(ctx, path, Options{Shut: true}); !errors.As(err, &broken) || broken.Seq != seq {
			t.Fatalf("a bit of line %d: %v", seq, err)
		}
	}
	for name, forge := range map[string]struct {
		seq int64 // the first line that cannot be opened
		do  func(kept []Line)
	}{
		"a bit flipped":         {12, func(k []Line) { k[11].Body[30] ^= 4 }},
		"a line of its own":     {12, func(k []Line) { k[11].Body = []byte("plain words in the place of sealed ones, long enough") }},
		"two lines swapped":     {12, func(k []Line) { k[11], k[29] = k[29], k[11] }},
		"two bodies swapped":    {12, func(k []Line) { k[11].Body, k[12].Body = k[12].Body, k[11].Body }},
		"another id":            {12, func(k []Line) { k[11].ID = "another" }},
		"shorter than its seal": {12, func(k []Line) { k[11].Body = k[11].Body[:20] }},
	} {
		path := duplicate(t, origin)
		tamper(t, path, forge.do, true)
		shut, err := Open(ctx, path, Options{Shut: true, AcceptShorter: true})
		if err != nil {
			t.Fatalf("%s: the forged chain is not whole, nothing is tried: %v", name, err)
		}
		closed(t, shut)
		j, err := OpenToRead(ctx, path, Options{Passphrase: saying(right)})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		read := int64(0)
		var broken *BrokenError
		for l, err := range j.Lines(ctx, 0) {
			if err == nil {
				read = l.Seq
			} else if !errors.As(err, &broken) {
				t.Errorf("%s: %v, want a BrokenError", name, err)
			}
		}
		if broken == nil || broken.Seq != forge.seq || read != forge.seq-1 {
			t.Errorf("%s: read up to %d, then %v; want line %d named", name, read, broken, forge.seq)
		}
		closed(t, j)
	}
}

// tamper changes the lines as they are kept; with anew, all hashes are made to
// fit, as somebody does who means to forge the record.
func tamper(t *testing.T, path string, do func(kept []Line), anew bool) {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	exec := func(query string, args ...any) {
		if _, err := db.Exec(query, args...); err != nil {
			t.Fatal(err)
		}
	}
	var store []byte
	if err := db.QueryRow("SELECT id FROM store").Scan(&store); err != nil {
		t.Fatal(err)
	}
	rows, err := db.Query("SELECT seq, id, body, hash FROM line ORDER BY seq")
	if err != nil {
		t.Fatal(err)
	}
	var kept []Line
	for rows.Next() {
		var l Line
		var hash []byte
		if err := rows.Scan(&l.Seq, &l.ID, &l.Body, &hash); err != nil {
			t.Fatal(err)
		}
		l.Hash = [32]byte(hash)
		kept = append(kept, l)
	}
	rows.Close()
	do(kept)
	exec("DELETE FROM line")
	at := Start([16]byte(store))
	for i, l := range kept {
		l.Seq = int64(i + 1)
		if anew {
			l.Hash = Link(at, l.Seq, l.ID, l.Body)
		}
		at = l.Hash
		exec("INSERT INTO line (seq, id, body, hash) VALUES (?, ?, ?, ?)", l.Seq, l.ID, l.Body, l.Hash[:])
	}
	exec("UPDATE head SET hash = ?", at[:])
}

// Damage to what says how the record is sealed is told from a wrong passphrase,
// and a file that asks for too much is refused before it gets it.
func TestDamagedSealingIsNoWrongPassphrase(t *testing.T) {
	ctx := context.Background()
	origin := sealedRecord(t, 5, 100)
	for _, column := range []string{"salt", "nonce", "wrapped", "sum"} {
		path := duplicate(t, origin)
		db, err := sql.Open("sqlite", "file:"+path)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := db.Exec("UPDATE sealing SET " + column + " = randomblob(length(" + column + "))"); err != nil {
			t.Fatal(err)
		}
		db.Close()
		if _, err := Open(ctx, path, Options{Passphrase: saying(right)}); !errors.As(err, new(*BrokenError)) {
			t.Errorf("%s: %v, want a BrokenError", column, err)
		}
	}
	for _, greedy := range []Cost{{Memory: 5 << 20, Passes: 1, Lanes: 1}, {Memory: 64, Passes: 1000, Lanes: 1}, {Memory: 64, Passes: 1, Lanes: 0}, {Memory: 8, Passes: 1, Lanes: 4}} {
		path := duplicate(t, origin)
		db, err := sql.Open("sqlite", "file:"+path)
		if err != nil {
			t.Fatal(err)
		}
		tx, err := db.Begin()
		if err != nil {
			t.Fatal(err)
		}
		s, err := readSealing(ctx, tx, path)
		if err != nil {
			t.Fatal(err)
		}
		s.Cost = greedy
		if err := s.write(ctx, tx); err != nil {
			t.Fatal(err)
		}
		if err := tx.Commit(); err != nil {
			t.Fatal(err)
		}
		db.Close()
		began := time.Now()
		if _, err := Open(ctx, path, Options{Passphrase: saying(right)}); !errors.As(err, new(*BrokenError)) || time.Since(began) > 2*time.Second {
			t.Errorf("%v: %v after %v, want a BrokenError at once", greedy, err, time.Since(began))
		}
	}
}

// A sealed body opens in its place only, and no two are alike.
func TestBodySealIsBoundToItsPlace(t *testing.T) {
	b, err := under(&[32]byte{1, 2, 3})
	if err != nil {
		t.Fatal(err)
	}
	other, err := under(&[32]byte{1, 2, 4})
	if err != nil {
		t.Fatal(err)
	}
	before, text := [32]byte{9}, []byte("text")
	sealed := b.seal(before, 7, "id", text)
	if got, ok := b.open(before, 7, "id", sealed); !ok || string(got) != "text" || len(sealed) != len(text)+sealedBy {
		t.Errorf("opened to %q, %v from %d bytes", got, ok, len(sealed))
	}
	if bytes.Equal(sealed, b.seal(before, 7, "id", text)) {
		t.Error("sealed twice, it is the same")
	}
	for name, try := range map[string]func() ([]byte, bool){
		"other key":    func() ([]byte, bool) { return other.open(before, 7, "id", sealed) },
		"other before": func() ([]byte, bool) { return b.open([32]byte{8}, 7, "id", sealed) },
		"other number": func() ([]byte, bool) { return b.open(before, 8, "id", sealed) },
		"other id":     func() ([]byte, bool) { return b.open(before, 7, "di", sealed) },
		"nothing":      func() ([]byte, bool) { return b.open(before, 7, "id", nil) },
		"cut":          func() ([]byte, bool) { return b.open(before, 7, "id", sealed[:len(sealed)-1]) },
	} {
		if got, ok := try(); ok {
			t.Errorf("%s: opened to %q", name, got)
		}
	}
	for bit := range len(sealed) * 8 {
		bad := bytes.Clone(sealed)
		bad[bit/8] ^= 1 << (bit % 8)
		if _, ok := b.open(before, 7, "id", bad); ok {
			t.Errorf("bit %d flipped, and it opens", bit)
		}
	}
}
