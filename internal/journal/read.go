package journal

import (
	"context"
	"database/sql"
	"errors"
	"iter"
)

// Lines gives the lines after number after, in order, as they were when the
// iteration began; lines added meanwhile are not among them. Each is held
// against its hash again, and in a sealed record against its seal. An error comes once, with a zero line, and ends it.
//
// The loop may call [Journal.Append]. It holds a connection until it ends.
func (j *Journal) Lines(ctx context.Context, after int64) iter.Seq2[Line, error] {
	return func(yield func(Line, error) bool) {
		err := j.lines(ctx, max(after, 0), func(l Line) bool { return yield(l, nil) })
		if err != nil {
			yield(Line{}, j.settled(err))
		}
	}
}

var errEnough = errors.New("no more lines are wanted")

func (j *Journal) lines(ctx context.Context, after int64, yield func(Line) bool) error {
	by, err := j.opener()
	if err != nil {
		return err
	}
	tx, store, err := j.look(ctx)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	from, err := j.markAt(ctx, tx, store, after)
	if err != nil {
		return err
	}
	before := from.hash
	_, err = walk(ctx, tx, j.path, from, func(l Line) error {
		opened, err := by.openedLine(j.path, before, l)
		if err != nil {
			return err
		}
		before = l.Hash
		if !yield(opened) {
			return errEnough
		}
		return nil
	})
	if err == errEnough {
		return nil
	}
	return err
}

// look begins a reading transaction: all that is read in it is of one moment.
func (j *Journal) look(ctx context.Context) (*sql.Tx, [16]byte, error) {
	j.mu.RLock()
	read, store, closed := j.read, j.store, j.closed
	j.mu.RUnlock()
	if closed {
		return nil, store, ErrClosed
	}
	tx, err := read.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return nil, store, frame(ctx, j.path, "it cannot be read", err)
	}
	return tx, store, nil
}

// markAt gives the place of line seq; where the journal is shorter, its end.
func (j *Journal) markAt(ctx context.Context, tx *sql.Tx, store [16]byte, seq int64) (mark, error) {
	if seq == 0 {
		return mark{hash: Start(store)}, nil
	}
	head, err := readHead(ctx, tx, j.path)
	if err != nil || head.seq <= seq {
		return head, err
	}
	var hash []byte
	if err := tx.QueryRowContext(ctx, "SELECT hash FROM line WHERE seq = ?", seq).Scan(&hash); err != nil {
		return mark{}, unreadable(ctx, j.path, seq, err)
	}
	at := mark{seq: seq}
	copy(at.hash[:], hash) // of another length it will not match the next line
	return at, nil
}

// Verify goes through the whole record again by a connection of its own, as
// [Open] does, and sees that every acknowledged line is there. Damage stops the
// journal ([Journal.Stopped]): what is wrong is not built upon.
//
// It reads what the system gives, which may come from memory rather than from
// the disk.
func (j *Journal) Verify(ctx context.Context) error {
	j.mu.RLock()
	closed := j.closed
	j.mu.RUnlock()
	if closed {
		return ErrClosed
	}
	_, err := j.examineAgain(ctx)
	if errors.As(err, new(*BrokenError)) || errors.As(err, new(*LostError)) || errors.As(err, new(*NotOursError)) {
		if e := j.take(context.WithoutCancel(ctx)); e != nil {
			return errors.Join(err, e)
		}
		defer j.give()
		j.stop(err)
	}
	return err
}
