package household

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"ebbline/internal/journal"
	"ebbline/internal/simulate"
	"ebbline/record"
)

// A desk opened to read stands beside the one that writes, shows what it had
// saved, and takes nothing in.
func TestOpenToRead(t *testing.T) {
	ctx := context.Background()
	d, life, c, path := lived(t)
	read := func() *Desk {
		t.Helper()
		r, err := OpenToRead(ctx, path, Options{Now: c.now, Zone: simulate.Zone()})
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { r.Close() })
		return r
	}
	entries := func(d *Desk) (n int) {
		d.View(func(h *record.Household) { n = h.Entries() })
		return n
	}
	before := read()
	if got, want := entries(before), len(life.Entries); got != want || !before.Now().Equal(d.Now()) || before.Zone() != d.Zone() {
		t.Errorf("%d entries at %v, want %d at %v", got, before.Now(), want, d.Now())
	}

	version, newer := before.Watch()
	for _, e := range []record.Entry{drink(life, "drink-by-reader", 150), life.Entries[0]} {
		out, err := before.Record(ctx, e)
		var unsaved *NotSavedError
		if !errors.As(err, &unsaved) || !errors.Is(err, journal.ErrToRead) || out.Saved != 0 || out.Findings != nil {
			t.Errorf("%s: %+v, %v; want a NotSavedError", e.ID, out, err)
		} else if err.Error() != "not saved: the record was opened to read, and takes no lines" {
			t.Errorf("in words: %v", err)
		}
	}
	select {
	case <-newer:
		t.Error("it told its screens of something new")
	default:
	}
	if now, _ := before.Watch(); now != version || before.Unsaved() != nil {
		t.Errorf("state %d after %d, unsaved: %v", now, version, before.Unsaved())
	}

	if out, err := d.Record(ctx, drink(life, "drink-by-writer", 150)); err != nil || !out.Clear() {
		t.Fatalf("beside a reader the writer saved nothing: %v, %v", err, out.Findings)
	}
	after := read()
	if got := drunk(after, life.Open) - drunk(before, life.Open); got != 150 {
		t.Errorf("between the readers %v were drunk, want 150", got)
	}
	if got := entries(after); got != entries(d) {
		t.Errorf("%d entries, the writer has %d", got, entries(d))
	}
}

// Nothing is made where nothing is.
func TestOpenToReadNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "house.ebb")
	_, err := OpenToRead(context.Background(), path, Options{Now: time.Now, Zone: simulate.Zone()})
	if !errors.As(err, new(*journal.NoRecordError)) {
		t.Errorf("%v, want a NoRecordError", err)
	}
	left, err := os.ReadDir(filepath.Dir(path))
	if err != nil || len(left) != 0 {
		t.Errorf("it left %v, %v", left, err)
	}
}
