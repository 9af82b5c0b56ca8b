package journal

import (
	"context"
	"crypto/rand"
	"database/sql"
	"errors"
	"io"
	"io/fs"
	"path/filepath"
	"sync"
	"time"

	"ebbline/unit"
)

// Options may all be left out.
type Options struct {
	// Random gives the store's id when a record is made; crypto/rand if nil.
	Random io.Reader
	// Now goes into the name of the copy made before the file's form is
	// changed; the time of the call if zero.
	Now time.Time
	// AcceptShorter opens a record that would give a [LostError]. Set it only
	// after the person has seen what would be lost.
	AcceptShorter bool
	// Passphrase gives the passphrase of a sealed record. It is called at most
	// once, only for a sealed record, and before anything is changed; what it
	// gives is overwritten. Without it a sealed record gives a [SealedError].
	Passphrase func() ([]byte, error)
	// Shut opens a sealed record without its passphrase: its lines can be
	// verified and copied, but neither read nor added to ([ErrShut]).
	Shut bool

	cost Cost // of a passphrase that is set; usualCost if zero
}

// filled puts in what was left out.
func (o Options) filled() Options {
	if o.Random == nil {
		o.Random = rand.Reader
	}
	if o.Now.IsZero() {
		o.Now = time.Now()
	}
	if o.cost == (Cost{}) {
		o.cost = usualCost
	}
	return o
}

// A Journal is an open record. It may be used from several goroutines.
type Journal struct {
	path     string
	steps    []step
	side     *sideFile   // nil: opened to read
	shut     bool        // sealed, and opened without its passphrase
	lay      fs.FileInfo // opened to read, and read as it lay then; else nil
	cautions []unit.Caution

	// turn is held by whoever changes the journal; a channel, so that waiting
	// for it ends with the caller's context.
	turn            chan struct{}
	ids             map[idKey]int64 // where each id is; used with the turn only
	pages           int             // about how many wait in the write-ahead file; likewise
	checkpointAfter int             // as many; checkpointPages, less in tests

	mu      sync.RWMutex // guards what follows; changed only with the turn
	store   [16]byte
	head    mark
	sealing *sealing
	origin  *Origin
	bodies  *bodies // nil in a plain record, and in one that is shut
	read    *sql.DB
	write   *writer
	stopped *StoppedError
	closed  bool
}

// Open opens the record at path, and makes it if there is nothing. It holds
// the record until [Journal.Close]: a second Open gives an [InUseError].
//
// The whole chain is verified. A file that is newer than the program, not
// ours, damaged, or older than what was acknowledged from it is refused
// ([NewerError], [NotOursError], [BrokenError], [LostError]) and left as it
// is. A file of an older form is copied beside itself before it is changed.
//
// A file that can be read but not written is opened all the same; see
// [Journal.Stopped].
func Open(ctx context.Context, path string, opts Options) (*Journal, error) {
	return open(ctx, path, opts, released)
}

func open(ctx context.Context, path string, opts Options, steps []step) (*Journal, error) {
	opts = opts.filled()
	path, err := resolve(path)
	if err != nil {
		return nil, err
	}
	side, err := takeSide(path)
	if err != nil {
		return nil, err
	}
	j := &Journal{path: path, steps: steps, side: side, turn: make(chan struct{}, 1), checkpointAfter: checkpointPages}
	if err := j.begin(ctx, opts); err != nil {
		return nil, errors.Join(err, side.close())
	}
	return j, nil
}

// begin is the part of opening that comes after the lock.
func (j *Journal) begin(ctx context.Context, opts Options) error {
	said, ok, err := j.side.read()
	if err != nil {
		return &FolderError{Path: j.path, Cause: err}
	}
	if !ok {
		said = acknowledgement{}
	}
	if err := j.unlockFirst(ctx, opts); err != nil {
		return err
	}
	x, err := j.examineAgainst(ctx, said, opts.AcceptShorter)
	if err != nil {
		return err
	}
	if err := j.unlockExamined(x, opts); err != nil {
		return err
	}
	if x.form < len(j.steps) {
		if x.still != nil {
			return &UnreadableError{Path: j.path, Cause: x.still}
		}
		if x, err = j.reform(ctx, x, opts); err != nil {
			return err
		}
	}
	j.cautions = cautionsAbout(j.path, said, ok, x)
	return j.serve(ctx, x)
}

// examineAgainst examines the file and holds it against what was acknowledged.
// Another store's acknowledgement says nothing about this one, unless this one
// was written anew from that.
func (j *Journal) examineAgainst(ctx context.Context, said acknowledgement, acceptShorter bool) (*examined, error) {
	by := examine
	if j.toRead() {
		by = examineToRead
	}
	x, err := by(ctx, j.path, j.steps, said.mark)
	if err != nil {
		return nil, err
	}
	holds := x.past
	if x.form > 0 && said.store != x.store {
		holds = x.origin == nil || said.store != x.origin.Store || x.origin.past(said)
	}
	if !holds && !acceptShorter {
		return nil, &LostError{Path: j.path, Have: x.head.seq, Had: said.seq, Forked: x.head.seq >= said.seq}
	}
	return x, nil
}

// examineAgain examines the file of an open journal: it has to be the same
// store still, with every acknowledged line.
func (j *Journal) examineAgain(ctx context.Context) (*examined, error) {
	j.mu.RLock()
	said := acknowledgement{j.store, j.head}
	j.mu.RUnlock()
	x, err := j.examineAgainst(ctx, said, false)
	if err == nil && (x.store != said.store || x.form != len(j.steps)) {
		return nil, &LostError{Path: j.path, Have: x.head.seq, Had: said.seq, Forked: x.form > 0}
	}
	return x, err
}

// reform brings the file to the newest form, and examines it again: no line
// may have changed.
func (j *Journal) reform(ctx context.Context, x *examined, opts Options) (*examined, error) {
	if x.form == 0 {
		if err := makeRecord(ctx, j.path, j.steps, opts.Random); err != nil {
			return nil, err
		}
	} else {
		if err := j.copyBefore(ctx, x, opts.Now); err != nil {
			return nil, err
		}
		if err := migrate(ctx, j.path, j.steps, x.form, opts.Random); err != nil {
			return nil, &StoppedError{Path: j.path, Cause: err}
		}
	}
	after, err := examine(ctx, j.path, j.steps, x.head)
	if err != nil {
		return nil, err
	}
	if x.form > 0 && (after.head != x.head || after.store != x.store) {
		return nil, &BrokenError{Path: j.path, Seq: after.head.seq, What: "it was changed while the file was brought to its new form; the copy beside it is whole"}
	}
	return after, nil
}

// serve opens the connections for an examined file.
func (j *Journal) serve(ctx context.Context, x *examined) error {
	how, cause := reading, x.still
	var write *writer
	if cause != nil {
		how = still
	} else if write, cause = openWriter(ctx, j.path); cause == nil {
		// What the examination found is durable by now, so it may be said.
		cause = j.side.write(acknowledgement{x.store, x.head})
	}
	read, err := connect(j.path, how)
	if err == nil {
		err = read.PingContext(ctx)
	}
	if err != nil {
		if write != nil {
			write.close()
		}
		return frame(ctx, j.path, "it cannot be read", err)
	}

	j.mu.Lock()
	defer j.mu.Unlock()
	if j.read != nil {
		defer j.read.Close()
	}
	j.read, j.write, j.stopped = read, write, nil
	j.store, j.head, j.ids, j.pages = x.store, x.head, x.ids, 0
	j.sealing, j.origin = x.sealing, x.origin
	if cause != nil {
		j.stopped = &StoppedError{Path: j.path, Cause: cause}
	}
	return nil
}

// Reopen opens the file afresh after a [StoppedError], verifies all of it and
// sees that every acknowledged line is there. On success lines are taken
// again; otherwise the journal stays stopped, readable as before, and Reopen
// may be tried again.
func (j *Journal) Reopen(ctx context.Context) error {
	if err := j.take(ctx); err != nil {
		return err
	}
	defer j.give()
	if j.toRead() {
		return ErrToRead
	}
	j.mu.Lock()
	write := j.write
	j.write = nil
	if j.stopped == nil {
		j.stopped = &StoppedError{Path: j.path, Cause: errors.New("it is being opened afresh")}
	}
	j.mu.Unlock()
	if write != nil {
		write.close() // its errors are why we are here
	}
	x, err := j.examineAgain(ctx)
	if err == nil {
		err = j.serve(ctx, x)
	}
	if err != nil {
		j.stop(err)
		return err
	}
	return j.Stopped()
}

// Close puts everything into the one file, so that it can be moved, and gives
// the record back. Lines being read meanwhile end with an error.
func (j *Journal) Close() error {
	if err := j.take(context.Background()); err != nil {
		return err
	}
	defer j.give()
	j.mu.Lock()
	defer j.mu.Unlock()
	j.closed = true
	j.bodies = nil
	if j.toRead() {
		return j.read.Close()
	}
	errs := []error{j.read.Close()}
	if j.write != nil {
		if j.stopped == nil {
			errs = append(errs, j.write.checkpoint("TRUNCATE"))
		}
		errs = append(errs, j.write.close())
	}
	return errors.Join(append(errs, j.side.close())...)
}

// Head is the last acknowledged line's number and hash; 0 and [Start] before
// the first.
func (j *Journal) Head() (seq int64, hash [32]byte) {
	j.mu.RLock()
	defer j.mu.RUnlock()
	return j.head.seq, j.head.hash
}

// Store is the record's own id, drawn when it was made; copies share it.
func (j *Journal) Store() [16]byte {
	j.mu.RLock()
	defer j.mu.RUnlock()
	return j.store
}

// Path is where the record is, absolute and with links followed.
func (j *Journal) Path() string { return j.path }

// Cautions say what about the record's place a person should know; see
// [CautionsAbout]. Beside those, other_record says that another record was
// last used under this name.
func (j *Journal) Cautions() []unit.Caution { return j.cautions }

// Stopped is nil while lines are taken, and otherwise what every Append gives:
// a [*StoppedError], [ErrToRead] or [ErrShut].
func (j *Journal) Stopped() error {
	if j.toRead() {
		return ErrToRead
	}
	if j.shut {
		return ErrShut
	}
	j.mu.RLock()
	defer j.mu.RUnlock()
	if j.stopped == nil {
		return nil
	}
	return j.stopped
}

// stop takes no more lines; the first cause stands until Reopen.
func (j *Journal) stop(cause error) error {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.stopped = &StoppedError{Path: j.path, Cause: cause}
	return j.stopped
}

// take waits for the turn to change the journal; give passes it on.
func (j *Journal) take(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	select {
	case j.turn <- struct{}{}:
	case <-ctx.Done():
		return ctx.Err()
	}
	if j.closed {
		j.give()
		return ErrClosed
	}
	return nil
}

func (j *Journal) give() { <-j.turn }

// resolve follows links, so that a record opened by two names is locked once.
func resolve(path string) (string, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	if whole, err := filepath.EvalSymlinks(path); err == nil {
		return whole, nil
	}
	folder, err := filepath.EvalSymlinks(filepath.Dir(path)) // the file itself may yet have to be made
	if err != nil {
		return "", &FolderError{Path: path, Cause: err}
	}
	return filepath.Join(folder, filepath.Base(path)), nil
}
