package journal

import (
	"context"
	"database/sql"
	"errors"
)

// Find gives the line with this id, and false when there is none.
func (j *Journal) Find(ctx context.Context, id string) (Line, bool, error) {
	if err := j.take(ctx); err != nil {
		return Line{}, false, err
	}
	seq, known := j.ids[keyOf(id)]
	j.give()
	if !known {
		return Line{}, false, nil
	}
	tx, _, err := j.look(ctx)
	if err != nil {
		return Line{}, false, err
	}
	defer tx.Rollback()
	l := Line{Seq: seq}
	var hash []byte
	err = tx.QueryRowContext(ctx, "SELECT id, body, hash FROM line WHERE seq = ?", seq).Scan(&l.ID, &l.Body, &hash)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return Line{}, false, &BrokenError{Path: j.path, Seq: seq, ID: id, What: "it is gone although it was there at the start"}
	case err != nil:
		return Line{}, false, unreadable(ctx, j.path, seq, err)
	}
	copy(l.Hash[:], hash)
	return l, l.ID == id, nil
}
