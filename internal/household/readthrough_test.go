package household

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"ebbline/internal/journal"
	"ebbline/internal/simulate"
	"ebbline/record"
)

// lines puts the entries of an invented life into a journal of their own, the
// one with number bad as something that is no entry.
func lines(t *testing.T, bad int) (*journal.Journal, []record.Entry) {
	t.Helper()
	life, err := simulate.Make(simulate.Options{Seed: 9, Months: 2, Until: time.Date(2026, 6, 10, 19, 30, 0, 0, simulate.Zone())})
	if err != nil {
		t.Fatal(err)
	}
	j, err := journal.Open(context.Background(), filepath.Join(t.TempDir(), "lines.ebb"), journal.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { j.Close() })
	var all []journal.Line
	for i, e := range life.Entries {
		body, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		if i+1 == bad {
			body = []byte(`{"id":"` + e.ID + `","kind":"of another program"}`)
		}
		all = append(all, journal.Line{ID: e.ID, Body: body})
	}
	if _, err := j.Append(context.Background(), all...); err != nil {
		t.Fatal(err)
	}
	if len(all) < 3*together {
		t.Fatalf("%d lines are too few to say", len(all))
	}
	return j, life.Entries
}

// Every entry comes once and in order, though they are taken apart side by side.
func TestReadThroughKeepsTheOrder(t *testing.T) {
	j, entries := lines(t, 0)
	n := 0
	if err := readThrough(context.Background(), j, func(e record.Entry) error {
		if n >= len(entries) || e.ID != entries[n].ID {
			return fmt.Errorf("entry %d is %s", n, e.ID)
		}
		n++
		return nil
	}); err != nil || n != len(entries) {
		t.Errorf("%d of %d entries, %v", n, len(entries), err)
	}
}

// A line that is no entry is named by its number, and all before it were given.
func TestReadThroughNamesTheLine(t *testing.T) {
	for _, bad := range []int{1, together, together + 1, 2*together + 77} {
		j, _ := lines(t, bad)
		n := 0
		err := readThrough(context.Background(), j, func(record.Entry) error { n++; return nil })
		if err == nil || !strings.Contains(err.Error(), fmt.Sprintf("line %d of the record", bad)) || n != bad-1 {
			t.Errorf("line %d is bad: %d entries, then %v", bad, n, err)
		}
	}
}

// An entry that does not fit ends the reading at once, and so does the caller.
func TestReadThroughEnds(t *testing.T) {
	j, _ := lines(t, 0)
	stop, n := errors.New("enough"), 0
	err := readThrough(context.Background(), j, func(record.Entry) error {
		if n++; n == together+5 {
			return stop
		}
		return nil
	})
	if !errors.Is(err, stop) || n != together+5 || !strings.Contains(err.Error(), fmt.Sprintf("line %d", together+5)) {
		t.Errorf("%d entries, %v", n, err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	n = 0
	err = readThrough(ctx, j, func(record.Entry) error {
		if n++; n == 10 {
			cancel()
		}
		return nil
	})
	if err == nil {
		t.Error("the caller gave up and nothing is said")
	}
}
