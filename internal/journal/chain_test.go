package journal

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// The hash is defined in words in Link's comment; here its input is written out
// by hand.
func TestLinkIsAsItsCommentSays(t *testing.T) {
	var store [16]byte
	for i := range store {
		store[i] = byte(i)
	}
	start := sha256.Sum256([]byte("ebbline journal 1\x00\x01\x02\x03\x04\x05\x06\x07\x08\x09\x0a\x0b\x0c\x0d\x0e\x0f"))
	if Start(store) != start {
		t.Errorf("Start = %x, want %x", Start(store), start)
	}
	input := string(start[:]) + "\x00\x00\x00\x00\x00\x00\x01\x02" + // line 258
		"\x00\x00\x00\x00\x00\x00\x00\x02" + "ab" +
		"\x00\x00\x00\x00\x00\x00\x00\x03" + "xyz"
	if got, want := Link(start, 258, "ab", []byte("xyz")), sha256.Sum256([]byte(input)); got != want {
		t.Errorf("Link = %x, want %x", got, want)
	}
	// Computed once with another program (Python's hashlib): a change of the form would show here.
	const fixed = "fced668b05e534e865d8fb7c08eea4c8961a20073c631d56279d366afb54e9d6"
	if got := Link(start, 258, "ab", []byte("xyz")); hexOf(got) != fixed {
		t.Errorf("Link = %x, want %s", got, fixed)
	}
	if Link(start, 1, "ab", []byte("c")) == Link(start, 1, "a", []byte("bc")) {
		t.Error("id and body run into each other")
	}
}

// Each way of going behind the journal's back is found at the next start, at
// its line.
func TestOpenFindsTampering(t *testing.T) {
	const lines = 40
	origin := filled(t, lines, 300)
	for _, tt := range []struct {
		name string
		do   []string
		seq  int64
	}{
		{"body changed", []string{"UPDATE line SET body = CAST(x'41' || substr(body, 2) AS BLOB) WHERE seq = 17"}, 17},
		{"body of the first", []string{"UPDATE line SET body = x'' WHERE seq = 1"}, 1},
		{"body of the last", []string{"UPDATE line SET body = x'' WHERE seq = 40"}, 40},
		{"id changed", []string{"UPDATE line SET id = 'x' WHERE seq = 17"}, 17},
		{"hash changed", []string{"UPDATE line SET hash = zeroblob(32) WHERE seq = 17"}, 17},
		{"removed from the middle", []string{"DELETE FROM line WHERE seq = 17"}, 17},
		{"first removed", []string{"DELETE FROM line WHERE seq = 1"}, 1},
		{"last removed", []string{"DELETE FROM line WHERE seq = 40"}, 40},
		{"last five removed", []string{"DELETE FROM line WHERE seq > 35"}, 36},
		{"all removed", []string{"DELETE FROM line"}, 1},
		{"two exchanged", []string{"UPDATE line SET seq = 99 WHERE seq = 5", "UPDATE line SET seq = 5 WHERE seq = 6", "UPDATE line SET seq = 6 WHERE seq = 99"}, 5},
		{"one put in at the end", []string{"INSERT INTO line SELECT 41, 'new', body, hash FROM line WHERE seq = 40"}, 41},
		{"one doubled", []string{"INSERT INTO line SELECT 50, id, body, hash FROM line WHERE seq = 40"}, 41},
		{"head moved back", []string{"UPDATE head SET seq = 39"}, 40},
		{"head's hash", []string{"UPDATE head SET hash = zeroblob(32)"}, 40},
		{"head removed", []string{"DELETE FROM head"}, 0},
		{"store's id", []string{"UPDATE store SET id = zeroblob(16)"}, 0},
		{"chain's start", []string{"UPDATE store SET start = zeroblob(32)"}, 0},
		{"whole store", []string{"UPDATE store SET id = zeroblob(16), start = x'" + hexOf(Start([16]byte{})) + "'"}, 1},
		{"store removed", []string{"DELETE FROM store"}, 0},
		{"form's text", []string{"UPDATE migration SET sha256 = zeroblob(32)"}, 0},
		{"form's name", []string{"UPDATE migration SET name = 'x'"}, 0},
		{"forms removed", []string{"DELETE FROM migration"}, 0},
		{"form in the first page", []string{"PRAGMA user_version = 0"}, 0},
		{"a table more", []string{"CREATE TABLE note (t TEXT)"}, 0},
		{"a trigger", []string{"CREATE TRIGGER sly AFTER INSERT ON line BEGIN DELETE FROM line WHERE seq = NEW.seq - 1; END"}, 0},
		{"a table less", []string{"DROP TABLE line"}, 0},
	} {
		path := duplicate(t, origin)
		alter(t, path, tt.do...)
		_, err := Open(context.Background(), path, Options{})
		var broken *BrokenError
		if !errors.As(err, &broken) || broken.Seq != tt.seq {
			t.Errorf("%s: %v, want a BrokenError at line %d", tt.name, err, tt.seq)
		}
	}
	if _, err := Open(context.Background(), duplicate(t, origin), Options{}); err != nil {
		t.Errorf("untouched: %v", err)
	}
}

// A forger who makes the hashes again has to keep ids unique all the same.
func TestOpenFindsDoubledID(t *testing.T) {
	path := filled(t, 3, 20)
	j := opened(t, path)
	seq, head := j.Head()
	twin := sample(1, 5)
	sum := Link(head, seq+1, twin.ID, twin.Body)
	closed(t, j)
	if err := os.Remove(sidePath(path)); err != nil {
		t.Fatal(err)
	}
	alter(t, path, "INSERT INTO line VALUES (4, '"+twin.ID+"', x'"+hex.EncodeToString(twin.Body)+"', x'"+hexOf(sum)+"')",
		"UPDATE head SET seq = 4, hash = x'"+hexOf(sum)+"'")
	_, err := Open(context.Background(), path, Options{})
	if broken := (*BrokenError)(nil); !errors.As(err, &broken) || broken.Seq != 4 || broken.ID != twin.ID {
		t.Errorf("%v, want a BrokenError at line 4", err)
	}
}

func hexOf(b [32]byte) string { return hex.EncodeToString(b[:]) }

// duplicate copies a closed record's file, without its side file.
func duplicate(tb testing.TB, path string) string {
	tb.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		tb.Fatal(err)
	}
	to := filepath.Join(tb.TempDir(), "record.sqlite")
	if err := os.WriteFile(to, data, 0o600); err != nil {
		tb.Fatal(err)
	}
	return to
}
