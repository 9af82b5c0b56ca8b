package journal

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"

	sqlite3 "modernc.org/sqlite/lib"
)

// checkpointPages is after about how many pages of 4 KiB the write-ahead file
// is put into the record: some hundreds of lines.
const checkpointPages = 1000

// Append adds lines at the end, all or none, and returns those that it added
// once they are durable. A line whose id is there already with the same body
// is left out, so sending twice does no harm; with another body nothing is
// added and a [*ConflictError] says which.
//
// Seq and Hash of what is passed in are not looked at. An id or a body out of
// range gives a [*unit.InputError]; another program holding the file, an
// [*InUseError], after a second and a half. A failed write stops the journal:
// it and every Append after it give a [*StoppedError] until
// [Journal.Reopen]. Whether the lines of the failed write are there is known
// only then; sent again with the same ids, they will be there once. A journal
// opened to read gives [ErrToRead], one opened shut [ErrShut].
//
// Once writing has begun, the end of ctx does not interrupt it.
func (j *Journal) Append(ctx context.Context, lines ...Line) (added []Line, err error) {
	for _, l := range lines {
		if err := l.check(); err != nil {
			return nil, err
		}
	}
	if err := j.take(ctx); err != nil {
		return nil, err
	}
	defer j.give()
	if err := j.Stopped(); err != nil {
		return nil, err
	}
	if added, err = j.unknown(ctx, lines); err != nil || len(added) == 0 {
		return nil, err
	}

	at, size := j.head, 0
	kept := make([]Line, len(added)) // as they go to the disk
	var k linker
	for i := range added {
		l := &added[i]
		l.Seq = at.seq + 1
		kept[i] = j.bodies.sealedLine(at.hash, *l)
		l.Hash = k.link(at.hash, l.Seq, l.ID, kept[i].Body)
		kept[i].Hash = l.Hash
		at = mark{l.Seq, l.Hash}
		size += len(l.ID) + len(kept[i].Body) + 64
	}
	if err := j.write.append(kept, j.head, at); err != nil {
		if code(err)&0xff == sqlite3.SQLITE_BUSY {
			return nil, &InUseError{Path: j.path, Foreign: true} // it did not begin
		}
		return nil, j.stop(err)
	}

	// From here on the lines are durable, and are acknowledged whatever
	// happens next; what fails next stops the lines after them.
	for _, l := range added {
		j.ids[keyOf(l.ID)] = l.Seq
	}
	j.mu.Lock()
	j.head = at
	j.mu.Unlock()
	if err := j.side.write(acknowledgement{j.store, at}); err != nil {
		j.stop(err)
	}
	if j.pages += 2 + size/4096; j.pages >= j.checkpointAfter {
		j.pages = 0
		if err := j.write.checkpoint("PASSIVE"); err != nil {
			j.stop(err)
		}
	}
	return added, nil
}

// unknown gives the lines that are not there yet, each once.
func (j *Journal) unknown(ctx context.Context, lines []Line) ([]Line, error) {
	var fresh []Line
	here := map[string][]byte{}
	for _, l := range lines {
		if body, twice := here[l.ID]; twice {
			if !bytes.Equal(body, l.Body) {
				return nil, &ConflictError{ID: l.ID}
			}
			continue
		}
		here[l.ID] = l.Body
		seq, known := j.ids[keyOf(l.ID)]
		if !known {
			fresh = append(fresh, l)
			continue
		}
		there, err := j.lineAt(ctx, seq)
		if err != nil {
			return nil, err
		}
		if there.ID != l.ID || !bytes.Equal(there.Body, l.Body) {
			return nil, &ConflictError{ID: l.ID, Seq: seq}
		}
	}
	return fresh, nil
}

// A writer is the one connection that may change the file.
type writer struct {
	db           *sql.DB
	insert, move *sql.Stmt
}

// openWriter opens it, and makes durable whatever an earlier program may have
// left in the write-ahead file without a sync.
func openWriter(ctx context.Context, path string) (_ *writer, err error) {
	db, err := connect(path, writing)
	if err != nil {
		return nil, err
	}
	w := &writer{db: db}
	defer func() {
		if err != nil {
			db.Close()
		}
	}()
	if err := w.checkpoint("TRUNCATE"); err != nil {
		return nil, err
	}
	if w.insert, err = db.PrepareContext(ctx, "INSERT INTO line (seq, id, body, hash) VALUES (?, ?, ?, ?)"); err != nil {
		return nil, err
	}
	w.move, err = db.PrepareContext(ctx, "UPDATE head SET seq = ?, hash = ? WHERE one = 1 AND seq = ? AND hash = ?")
	if err != nil {
		return nil, err
	}
	return w, nil
}

// append adds linked lines and moves the head, in one transaction.
func (w *writer) append(lines []Line, from, to mark) error {
	ctx := context.Background() // a commit that has begun is seen to its end
	tx, err := w.db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback() // does nothing after the commit
	insert := tx.StmtContext(ctx, w.insert)
	for _, l := range lines {
		if l.Body == nil {
			l.Body = []byte{} // nil would be NULL
		}
		if _, err := insert.ExecContext(ctx, l.Seq, l.ID, l.Body, l.Hash[:]); err != nil {
			return err
		}
	}
	result, err := tx.StmtContext(ctx, w.move).ExecContext(ctx, to.seq, to.hash[:], from.seq, from.hash[:])
	if err != nil {
		return err
	}
	if n, err := result.RowsAffected(); err != nil || n != 1 {
		return errors.Join(err, fmt.Errorf("another program has changed it: line %d is no longer its last", from.seq))
	}
	return tx.Commit()
}

// checkpoint puts the write-ahead file into the record and syncs both. Readers
// in the way leave the rest for the next time.
func (w *writer) checkpoint(mode string) error {
	var busy, frames, done int
	return w.db.QueryRow("PRAGMA wal_checkpoint("+mode+")").Scan(&busy, &frames, &done)
}

func (w *writer) close() error { return w.db.Close() }
