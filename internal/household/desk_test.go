package household

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// clock is a wall clock that the test sets.
type clock struct {
	mu sync.Mutex
	at time.Time
}

func (c *clock) now() time.Time  { c.mu.Lock(); defer c.mu.Unlock(); return c.at }
func (c *clock) set(t time.Time) { c.mu.Lock(); defer c.mu.Unlock(); c.at = t }

func open(t *testing.T, path string, c *clock) *Desk {
	t.Helper()
	d, err := Open(context.Background(), path, Options{Now: c.now, Zone: simulate.Zone()})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// lived opens a household of two invented months with a session running.
func lived(t *testing.T) (*Desk, *simulate.Life, *clock, string) {
	t.Helper()
	c := &clock{at: time.Date(2026, 6, 10, 19, 30, 0, 0, simulate.Zone())}
	path := filepath.Join(t.TempDir(), "house.ebb")
	d := open(t, path, c)
	t.Cleanup(func() { d.Close() })
	life, err := simulate.Make(simulate.Options{Seed: 3, Months: 2, Until: c.at, Open: true})
	if err != nil {
		t.Fatal(err)
	}
	out, err := d.Record(context.Background(), life.Entries...)
	if err != nil || !out.Clear() {
		t.Fatalf("the invented household was not taken: %v, %v", err, out.Findings)
	}
	return d, life, c, path
}

func drink(life *simulate.Life, id string, ml unit.Volume) record.Entry {
	return record.Entry{ID: id, Kind: "drink", Person: life.Person, Session: life.Open, Body: &session.Drink{Volume: ml}}
}

func drunk(d *Desk, id string) (total unit.Volume) {
	d.View(func(h *record.Household) {
		session.Each(h.Session(id), func(b *session.Drink, _ *session.Event) { total += b.Volume })
	})
	return total
}

// Each request sent three times is one entry (H-44).
func TestSendingTwiceIsHarmless(t *testing.T) {
	d, life, _, _ := lived(t)
	before := drunk(d, life.Open)
	for range 3 {
		out, err := d.Record(context.Background(), drink(life, "drink-once", 150))
		if err != nil || out.Saved != 1 || !out.Clear() {
			t.Fatalf("sent again: %v %v", out, err)
		}
	}
	if got := drunk(d, life.Open) - before; got != 150 {
		t.Errorf("three sendings counted %s, want 150", got)
	}
	out, err := d.Record(context.Background(), drink(life, "drink-once", 200))
	if err != nil || out.Clear() {
		t.Errorf("the same id with another value was taken: %v %v", out, err)
	}
}

// Entries sent together are taken all or none.
func TestAllOrNone(t *testing.T) {
	d, life, _, _ := lived(t)
	before := drunk(d, life.Open)
	bad := drink(life, "drink-bad1", 90000)
	out, err := d.Record(context.Background(), drink(life, "drink-good", 100), bad, drink(life, "drink-also", 100))
	if err != nil || out.Clear() || out.Saved != 0 || len(out.Findings[1]) == 0 {
		t.Errorf("a batch with one impossible value: %+v, %v", out, err)
	}
	if got := drunk(d, life.Open); got != before {
		t.Errorf("a refused batch changed the drinks from %s to %s", before, got)
	}
}

// Two entries of one id in one batch are one when they say the same. When they do
// not, that is said; it is no failure to write, and the desk goes on.
func TestTheSameIDTwiceInABatch(t *testing.T) {
	d, life, _, _ := lived(t)
	before := drunk(d, life.Open)
	out, err := d.Record(context.Background(), drink(life, "drink-both1", 100), drink(life, "drink-both1", 100))
	if err != nil || !out.Clear() || drunk(d, life.Open)-before != 100 {
		t.Errorf("the same twice: %+v, %v", out, err)
	}
	out, err = d.Record(context.Background(), drink(life, "drink-both2", 100), drink(life, "drink-both2", 200))
	if err != nil || out.Clear() || len(out.Findings[0]) != 0 || !strings.Contains(out.Findings[1].On("id"), "sent twice at once") {
		t.Errorf("one id with two values: %+v, %v", out, err)
	}
	if d.Unsaved() != nil || drunk(d, life.Open)-before != 100 {
		t.Errorf("afterwards the desk says %v, and %s were drunk", d.Unsaved(), drunk(d, life.Open)-before)
	}
}

// What was saved is there after closing and opening, and folds to the same state.
func TestSavedIsThereAfterReopening(t *testing.T) {
	d, life, c, path := lived(t)
	if _, err := d.Record(context.Background(), drink(life, "drink-kept", 150)); err != nil {
		t.Fatal(err)
	}
	before := drunk(d, life.Open)
	if err := d.Close(); err != nil {
		t.Fatal(err)
	}
	again := open(t, path, c)
	defer again.Close()
	if got := drunk(again, life.Open); got != before {
		t.Errorf("%s after opening again, want %s", got, before)
	}
}

// A write that fails is said, the value is not in the state, and the next try
// saves it (CC18).
func TestNotSavedIsSaidAndMended(t *testing.T) {
	d, life, _, path := lived(t)
	before := drunk(d, life.Open)
	fill := limitPages(t, d, path)
	for i := range 200 {
		_, err := d.Record(context.Background(), drink(life, fmt.Sprintf("drink-fill%d", i), 1))
		var unsaved *NotSavedError
		if errors.As(err, &unsaved) {
			if d.Unsaved() == nil {
				t.Error("the desk does not say that the last write failed")
			}
			if got := drunk(d, life.Open) - before; got != unit.Volume(i) {
				t.Errorf("%s counted after %d saved drinks of 1 mL", got, i)
			}
			fill()
			if _, err := d.Record(context.Background(), drink(life, fmt.Sprintf("drink-fill%d", i), 1)); err != nil {
				t.Errorf("with room again: %v", err)
			}
			if d.Unsaved() != nil {
				t.Errorf("saved again, but the desk still says %v", d.Unsaved())
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	t.Error("the disk never filled")
}

// A clock that runs behind the record is refused until it is set right (H-30).
func TestClockBehindTheRecord(t *testing.T) {
	d, life, c, _ := lived(t)
	c.set(time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC))
	out, err := d.Record(context.Background(), drink(life, "drink-past", 100))
	if err != nil || out.Clear() {
		t.Errorf("a drink in 2020 was taken: %v %v", out, err)
	}
}

// Many screens write at once: no entry is lost and each sees its own (H-41).
func TestManyWriters(t *testing.T) {
	d, life, _, _ := lived(t)
	before := drunk(d, life.Open)
	var wg sync.WaitGroup
	for w := range 4 {
		wg.Go(func() {
			for i := range 25 {
				if _, err := d.Record(context.Background(), drink(life, fmt.Sprintf("drink-%d-%02d-x", w, i), 10)); err != nil {
					t.Error(err)
				}
				d.View(func(h *record.Household) { _ = len(h.Session(life.Open).Log) })
			}
		})
	}
	wg.Wait()
	if got := drunk(d, life.Open) - before; got != 1000 {
		t.Errorf("a hundred drinks of 10 mL make %s", got)
	}
}

// A change wakes whoever watches.
func TestWatch(t *testing.T) {
	d, life, _, _ := lived(t)
	v, newer := d.Watch()
	if _, err := d.Record(context.Background(), drink(life, "drink-seen1", 100)); err != nil {
		t.Fatal(err)
	}
	select {
	case <-newer:
	case <-time.After(5 * time.Second):
		t.Fatal("nobody was told")
	}
	if now, _ := d.Watch(); now == v {
		t.Error("the number of the state did not change")
	}
}

// A screen that lost the answer sends the same entry again and says how long it
// waited: the moment comes out a little otherwise each time, and it is one entry
// all the same. The same id with another moment is no repetition.
func TestSentAgainIsOneEntry(t *testing.T) {
	d, life, c, _ := lived(t)
	before := drunk(d, life.Open)
	e := drink(life, "sent-again", 150)
	e.At, e.Zone = c.now().Truncate(time.Second), simulate.Zone().String()
	for _, off := range []time.Duration{0, 2 * time.Second, -time.Second, 59 * time.Second} {
		again := e
		again.At = e.At.Add(off)
		if out, err := d.Record(context.Background(), again); err != nil || !out.Clear() || out.Saved != 1 {
			t.Errorf("sent again %v off: %+v %v", off, out, err)
		}
	}
	if got := drunk(d, life.Open) - before; got != 150 {
		t.Errorf("the drink of 150 mL counts as %v mL", got)
	}
	other := e
	other.At = e.At.Add(-time.Minute)
	if out, err := d.Record(context.Background(), other); err != nil || out.Clear() {
		t.Errorf("the same id a minute earlier was taken: %+v %v", out, err)
	}
}

// An entry is written only in a form that reads back: a value that no record
// could be opened with is refused before it reaches the disk.
func TestWhatDoesNotReadBackIsNotWritten(t *testing.T) {
	line, kept, err := asKept(record.Entry{ID: "odd-entry", Kind: "drink", Zone: "Europe/Ljubljana", At: time.Date(2026, 6, 1, 12, 0, 0, 999, time.UTC), Body: &session.Drink{Volume: 100}})
	if err != nil || kept.At.Nanosecond() != 0 || len(line.Body) == 0 {
		t.Errorf("a drink: %v, kept at %v", err, kept.At)
	}
	if _, _, err := asKept(record.Entry{ID: "odd-entry", Kind: "no such kind", Zone: "Europe/Ljubljana", Body: &session.Drink{Volume: 100}}); err == nil {
		t.Error("an entry of no kind would be written")
	}
}
