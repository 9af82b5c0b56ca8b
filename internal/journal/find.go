package journal

import (
	"context"
	"database/sql"
	"errors"
)

// Find gives the line with this id, and false when there is none. The line is
// held against its hash again.
func (j *Journal) Find(ctx context.Context, id string) (Line, bool, error) {
	if err := j.take(ctx); err != nil {
		return Line{}, false, err
	}
	seq, known := j.ids[keyOf(id)]
	j.give()
	if !known {
		return Line{}, false, nil
	}
	l, err := j.lineAt(ctx, seq)
	if err != nil {
		return Line{}, false, j.settled(err)
	}
	return l, l.ID == id, nil
}

// lineAt reads one line that was there at the start or was added since.
func (j *Journal) lineAt(ctx context.Context, seq int64) (Line, error) {
	by, err := j.opener()
	if err != nil {
		return Line{}, err
	}
	tx, store, err := j.look(ctx)
	if err != nil {
		return Line{}, err
	}
	defer tx.Rollback()
	before, err := j.markAt(ctx, tx, store, seq-1)
	if err != nil {
		return Line{}, err
	}
	l := Line{Seq: seq}
	var hash []byte
	err = tx.QueryRowContext(ctx, "SELECT id, body, hash FROM line WHERE seq = ?", seq).Scan(&l.ID, &l.Body, &hash)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return Line{}, &BrokenError{Path: j.path, Seq: seq, What: "it is gone although it was there before"}
	case err != nil:
		return Line{}, unreadable(ctx, j.path, seq, err)
	}
	if l.Hash = Link(before.hash, seq, l.ID, l.Body); string(hash) != string(l.Hash[:]) {
		return Line{}, &BrokenError{Path: j.path, Seq: seq, ID: l.ID, What: "what it holds does not match its hash"}
	}
	return by.openedLine(j.path, before.hash, l)
}
