package journal

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"
)

// later are steps as a coming program might have them.
var later = append(append([]step{}, released...),
	step{"0003_note.sql", "CREATE TABLE note (seq INTEGER PRIMARY KEY, words TEXT NOT NULL -- of the person\n) STRICT;"},
	step{"0004_line.sql", `CREATE TABLE line2 (seq INTEGER PRIMARY KEY CHECK (seq > 0), id TEXT NOT NULL, body BLOB NOT NULL, hash BLOB NOT NULL CHECK (length(hash) = 32), extra INTEGER) STRICT;
INSERT INTO line2 (seq, id, body, hash) SELECT seq, id, body, hash FROM line;
DROP TABLE line;
ALTER TABLE line2 RENAME TO line;`})

func copiesOf(t *testing.T, path string) []string {
	t.Helper()
	found, err := filepath.Glob(path + "-form*")
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func TestOlderFormIsCopiedThenChanged(t *testing.T) {
	ctx := context.Background()
	path := filled(t, 50, 100) // of form 2
	now := time.Date(2026, 11, 25, 23, 5, 9, 0, time.FixedZone("", 3600))
	j, err := open(ctx, path, Options{Now: now}, later)
	if err != nil {
		t.Fatal(err)
	}
	if got := len(all(t, j)); got != 50 {
		t.Errorf("%d lines in the new form, want 50", got)
	}
	add(t, j, 50, 52)
	seq, head := j.Head()
	closed(t, j)
	if j, err = open(ctx, path, Options{}, later); err != nil {
		t.Fatalf("the new form, again: %v", err)
	}
	if s, h := j.Head(); s != 52 || s != seq || h != head {
		t.Errorf("head %d, want 52", s)
	}
	closed(t, j)

	copies := copiesOf(t, path)
	if len(copies) != 1 || copies[0] != path+"-form2-20261125T220509Z" {
		t.Fatalf("copies: %q, want one, named after its form and the time", copies)
	}
	old := opened(t, copies[0]) // by the older program
	if got := all(t, old); len(got) != 50 || old.Store() != j.Store() {
		t.Errorf("the copy has %d lines, want 50", len(got))
	}
}

// A record made before bodies could be sealed becomes one that can be: plain,
// with every line as it was.
func TestRecordFromBeforeSealing(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "record.sqlite")
	old, err := open(ctx, path, Options{}, released[:1])
	if err != nil {
		t.Fatal(err)
	}
	add(t, old, 0, 20)
	was := all(t, old)
	closed(t, old)
	if _, err := OpenToRead(ctx, path, Options{}); !errors.As(err, new(*OlderError)) {
		t.Errorf("to read: %v, want an OlderError", err)
	}
	j := opened(t, path)
	if is := all(t, j); !reflect.DeepEqual(was, is) {
		t.Errorf("%d lines, not the 20 as they were", len(is))
	}
	if _, sealed := j.Sealed(); sealed {
		t.Error("it says that it is sealed")
	}
	if from, anew := j.Origin(); anew {
		t.Errorf("it says that it was written anew from %x", from.Store)
	}
	if found, err := filepath.Glob(path + "-form1-*"); err != nil || len(found) != 1 {
		t.Errorf("copies of the old form: %q, %v", found, err)
	}
}

func TestNewerFormIsRefused(t *testing.T) {
	ctx := context.Background()
	path := filled(t, 5, 100)
	j, err := open(ctx, path, Options{}, later)
	if err != nil {
		t.Fatal(err)
	}
	closed(t, j)
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	_, err = Open(ctx, path, Options{})
	var newer *NewerError
	if !errors.As(err, &newer) || newer.Form != 4 || newer.Known != len(released) {
		t.Fatalf("%v, want a NewerError", err)
	}
	if after, err := os.ReadFile(path); err != nil || !bytes.Equal(before, after) {
		t.Errorf("a refused file was changed: %v", err)
	}
}

func TestRewordedStepIsRefused(t *testing.T) {
	path := filled(t, 5, 100)
	reworded := append([]step{{released[0].name, released[0].text + "\n-- a comment more\n"}}, released[1:]...)
	if _, err := open(context.Background(), path, Options{}, reworded); !errors.As(err, new(*BrokenError)) {
		t.Errorf("%v, want a BrokenError", err)
	}
}

// A step that fails leaves the form before it, whole, and the program before
// it goes on.
func TestFailedStepLeavesTheFormBefore(t *testing.T) {
	ctx := context.Background()
	for name, bad := range map[string]string{
		"wrong word":   "CREATE TABLE a (x TEXT) STRICT; CREATE NONSENSE;",
		"loose row":    "CREATE TABLE a (x INTEGER PRIMARY KEY) STRICT; CREATE TABLE b (y INTEGER REFERENCES a DEFERRABLE INITIALLY DEFERRED) STRICT; INSERT INTO b VALUES (1);",
		"line dropped": "DELETE FROM line WHERE seq = 2;",
	} {
		path := filled(t, 5, 100)
		steps := append(append([]step{}, later[:3]...), step{"0004_bad.sql", bad})
		if _, err := open(ctx, path, Options{}, steps); err == nil {
			t.Fatalf("%s: it was taken", name)
		}
		if len(copiesOf(t, path)) != 1 {
			t.Errorf("%s: %d copies, want 1", name, len(copiesOf(t, path)))
		}
		if name == "line dropped" { // committed, but found before it is used
			continue
		}
		j, err := open(ctx, path, Options{Now: time.Now().Add(time.Hour)}, later[:3])
		if err != nil {
			t.Fatalf("%s: the form before: %v", name, err)
		}
		if got := len(all(t, j)); got != 5 {
			t.Errorf("%s: %d lines, want 5", name, got)
		}
		closed(t, j)
	}
}

// Without room for the copy nothing is changed.
func TestNoChangeWithoutCopy(t *testing.T) {
	ctx := context.Background()
	path := filled(t, 5, 100)
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	if err := os.WriteFile(path+"-form2-20261125T090000Z", []byte("in the way"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := open(ctx, path, Options{Now: now}, later); !errors.As(err, new(*CopyError)) {
		t.Fatalf("%v, want a CopyError", err)
	}
	if got := len(all(t, opened(t, path))); got != 5 {
		t.Errorf("%d lines in the old form, want 5", got)
	}
}

// Each column's comment says what it holds.
func TestColumnsAreExplained(t *testing.T) {
	for _, s := range released {
		for line := range strings.Lines(s.text) {
			if strings.HasPrefix(line, "\t") && !strings.Contains(line, "-- ") {
				t.Errorf("%s: a column without a word on what it holds: %s", s.name, strings.TrimSpace(line))
			}
		}
	}
	if len(released) == 0 {
		t.Error("there are no steps")
	}
}
