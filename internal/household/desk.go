package household

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"sync"
	"time"

	"ebbline/internal/journal"
	"ebbline/record"
	"ebbline/unit"
)

// A Desk is one open household. It is safe for use by many screens at once:
// readers see a whole state, writers go one after another.
type Desk struct {
	journal *journal.Journal
	now     func() time.Time
	zone    *time.Location

	mu      sync.RWMutex
	state   *record.Household
	changed chan struct{} // closed and replaced at every change
	version uint64
	unsaved error // why the last write failed, until one succeeds
}

// Options are what a desk needs of the world.
type Options struct {
	Now  func() time.Time // the wall clock; time.Now in the program, a fake in tests
	Zone *time.Location   // the zone of the household
	// Passphrase gives the passphrase of a sealed record; see [journal.Options].
	Passphrase func() ([]byte, error)
}

// Open opens or makes the household's file, verifies its chain and folds it.
func Open(ctx context.Context, path string, o Options) (*Desk, error) {
	j, err := journal.Open(ctx, path, journal.Options{Now: o.Now(), Passphrase: o.Passphrase})
	if err != nil {
		return nil, err
	}
	return fold(ctx, j, o)
}

// fold makes a desk of an open journal.
func fold(ctx context.Context, j *journal.Journal, o Options) (*Desk, error) {
	d := &Desk{journal: j, now: o.Now, zone: o.Zone, changed: make(chan struct{})}
	if err := d.refold(ctx); err != nil {
		j.Close()
		return nil, err
	}
	return d, nil
}

// Close closes the file.
func (d *Desk) Close() error { return d.journal.Close() }

// Path returns where the record's file is.
func (d *Desk) Path() string { return d.journal.Path() }

// Sealed reports whether the entries are encrypted on the disk.
func (d *Desk) Sealed() bool {
	_, sealed := d.journal.Sealed()
	return sealed
}

// Now returns the present in the household's zone.
func (d *Desk) Now() time.Time { return d.now().In(d.zone) }

// Zone returns the household's zone.
func (d *Desk) Zone() *time.Location { return d.zone }

// refold rebuilds the state from the journal.
func (d *Desk) refold(ctx context.Context) error {
	state := record.NewHousehold()
	if err := readThrough(ctx, d.journal, state.Apply); err != nil {
		return err
	}
	d.state = state
	return nil
}

// View lets f read the state. Nothing it is given may be changed or kept.
func (d *Desk) View(f func(h *record.Household)) {
	d.mu.RLock()
	defer d.mu.RUnlock()
	f(d.state)
}

// AsOf returns the household as it stood at a moment; see [record.AsOf].
func (d *Desk) AsOf(ctx context.Context, at time.Time) (*record.Household, error) {
	var entries []record.Entry
	err := readThrough(ctx, d.journal, func(e record.Entry) error {
		entries = append(entries, e)
		return nil
	})
	if err != nil {
		return nil, err
	}
	return record.AsOf(entries, at.In(d.zone))
}

// Watch returns the number of the present state and a channel that is closed
// when there is a newer one.
func (d *Desk) Watch() (version uint64, newer <-chan struct{}) {
	d.mu.RLock()
	defer d.mu.RUnlock()
	return d.version, d.changed
}

// Unsaved returns why the last write failed, or nil when the last one was saved.
func (d *Desk) Unsaved() error {
	d.mu.RLock()
	defer d.mu.RUnlock()
	return d.unsaved
}

// An Outcome says what became of entries that were sent in.
type Outcome struct {
	Saved    int               // durable on disk now, those sent before included
	Findings []record.Findings // for each entry, what stands against it; nil when nothing does
}

// Clear reports whether nothing stood against any entry.
func (o Outcome) Clear() bool {
	for _, f := range o.Findings {
		if len(f) > 0 {
			return false
		}
	}
	return true
}

// OtherValues is said of an entry whose id is in the record with other values,
// as when a form that was saved is changed and sent once more.
const OtherValues = "is in the record already with other values"

// Record checks entries by the one table and adds them, all or none. When
// something stands against any of them nothing is added and the outcome says
// what. An entry that is in the record already, unchanged, counts as saved. It
// returns only after the entries are durable; an error of type
// [*NotSavedError] means that they are not.
func (d *Desk) Record(ctx context.Context, entries ...record.Entry) (Outcome, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.journal.Stopped(); errors.Is(err, journal.ErrToRead) {
		return Outcome{}, &NotSavedError{err}
	}
	now := d.now()
	out := Outcome{Findings: make([]record.Findings, len(entries))}
	var fresh []record.Entry
	var lines []journal.Line
	applied := false
	sent := map[string]record.Entry{} // by id, as they were kept
	for i, e := range entries {
		d.stamp(&e, now)
		if first, twice := sent[e.ID]; twice {
			if same, err := sameEntry(first, e); err != nil || !same {
				out.Findings[i] = record.Findings{{Field: "id", Step: record.Refuse, Words: "was sent twice at once, with different values; look which is right and send that one alone"}}
			}
			continue
		}
		same, there, err := d.known(ctx, e)
		switch {
		case err != nil:
			return Outcome{}, d.notSaved(err)
		case there && same:
			continue
		case there:
			out.Findings[i] = record.Findings{{Field: "id", Step: record.Refuse, Words: OtherValues}}
			continue
		}
		if out.Findings[i] = d.check(e, now); len(out.Findings[i]) > 0 {
			continue
		}
		line, e, err := asKept(e)
		if err != nil {
			out.Findings[i] = record.Findings{{Field: "entry", Step: record.Refuse, Words: "cannot be kept as it is: " + err.Error()}}
			continue
		}
		fresh, lines = append(fresh, e), append(lines, line)
		sent[e.ID] = e
		if len(entries) > 1 {
			// Later entries of the batch lean on earlier ones.
			if err := d.state.Apply(e); err != nil {
				out.Findings[i] = record.Findings{{Field: "entry", Step: record.Refuse, Words: err.Error()}}
			}
			applied = true
		}
	}
	if !out.Clear() {
		if applied {
			return out, d.refold(ctx)
		}
		return out, nil
	}
	if err := d.append(ctx, lines); err != nil {
		if applied {
			if again := d.refold(ctx); again != nil {
				err = fmt.Errorf("%w; and the record cannot be read again: %v", err, again)
			}
		}
		return Outcome{}, d.notSaved(err)
	}
	if !applied {
		for _, e := range fresh {
			if err := d.state.Apply(e); err != nil {
				return Outcome{}, err
			}
		}
	}
	d.unsaved = nil
	out.Saved = len(entries)
	if len(fresh) > 0 {
		d.announce()
	}
	return out, nil
}

func (d *Desk) announce() {
	d.version++
	close(d.changed)
	d.changed = make(chan struct{})
}

// stamp fills in what the desk knows better than the sender.
func (d *Desk) stamp(e *record.Entry, now time.Time) {
	if e.Written.IsZero() {
		e.Written = now.UTC().Truncate(time.Second)
	}
	if e.At.IsZero() {
		e.At = now.In(d.zone).Truncate(time.Second)
	}
	if e.Zone == "" {
		e.Zone = d.zone.String()
		e.At = e.At.In(d.zone)
	}
}

// back is how far the computer's clock may run behind the last entry.
const back = 2 * time.Minute

func (d *Desk) check(e record.Entry, now time.Time) record.Findings {
	if e.Kind != "clock_moved" && now.Before(d.state.LastAt.Add(-back)) {
		return record.Findings{{Field: "written", Step: record.Refuse, Words: fmt.Sprintf(
			"is impossible: the clock of this computer shows %s, but the last entry was written at %s. Set the clock",
			now.In(d.zone).Format("15:04 on 2 January 2006"), d.state.LastAt.In(d.zone).Format("15:04 on 2 January 2006"))}}
	}
	return record.Check(d.state, e)
}

// near is how far apart the moments of an entry that was sent twice may be: a
// screen says how long the entry waited, and each way to here takes its own time.
const near = time.Minute

// known reports whether an entry with this id is there, and whether it says the
// same; when it was written down does not count.
func (d *Desk) known(ctx context.Context, e record.Entry) (same, there bool, err error) {
	if !d.state.Has(e.ID) {
		return false, false, nil
	}
	line, ok, err := d.journal.Find(ctx, e.ID)
	if err != nil || !ok {
		return false, ok, err
	}
	stored, err := record.ReadStored(line.Body)
	if err != nil {
		return false, true, err
	}
	same, err = sameEntry(stored, e)
	return same, true, err
}

// sameEntry reports whether an entry says what one that is kept says.
func sameEntry(kept, e record.Entry) (bool, error) {
	kept.Written, e.Written = time.Time{}, time.Time{}
	if kept.At.Sub(e.At).Abs() < near {
		e.At = kept.At
	}
	a, err := json.Marshal(kept)
	if err != nil {
		return false, err
	}
	b, err := json.Marshal(e)
	return bytes.Equal(a, b), err
}

// asKept gives the line that would hold an entry, and the entry as it reads
// back from it. What does not read back is never written: a record that takes
// an entry can always be opened again.
func asKept(e record.Entry) (journal.Line, record.Entry, error) {
	body, err := json.Marshal(e)
	if err != nil {
		return journal.Line{}, e, err
	}
	kept, err := record.ReadStored(body)
	return journal.Line{ID: e.ID, Body: body}, kept, err
}

func (d *Desk) append(ctx context.Context, lines []journal.Line) error {
	if d.unsaved != nil {
		// After a failed write the journal wants to be read through again
		// before it takes another.
		if err := d.journal.Reopen(ctx); err != nil {
			return err
		}
	}
	_, err := d.journal.Append(ctx, lines...)
	return err
}

func (d *Desk) notSaved(err error) error {
	d.unsaved = &NotSavedError{err}
	d.announce()
	return d.unsaved
}

// A NotSavedError says that entries could not be made durable. The values are
// still with whoever sent them.
type NotSavedError struct{ Err error }

func (e *NotSavedError) Error() string { return "not saved: " + e.Err.Error() }
func (e *NotSavedError) Unwrap() error { return e.Err }

// Today returns the household's calendar day.
func (d *Desk) Today() unit.Date { return unit.DateOf(d.Now()) }
