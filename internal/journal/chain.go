package journal

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"

	sqlite3 "modernc.org/sqlite/lib"
)

// walk reads the lines after from, in order, recomputes each hash, and gives
// each good line to visit; the body is valid until visit returns. An error of
// visit ends the walk. After the last line the head row has to agree. The
// answer is the place of the last good line.
func walk(ctx context.Context, tx *sql.Tx, path string, from mark, visit func(Line) error) (mark, error) {
	at := from
	broken := func(id, what string) error {
		return &BrokenError{Path: path, Seq: at.seq + 1, ID: id, What: what}
	}
	rows, err := tx.QueryContext(ctx, "SELECT seq, id, body, hash FROM line WHERE seq > ? ORDER BY seq", from.seq)
	if err != nil {
		return at, unreadable(ctx, path, at.seq+1, err)
	}
	defer rows.Close()

	var (
		l              Line
		id, body, hash sql.RawBytes
		k              linker
	)
	for rows.Next() {
		if err := rows.Scan(&l.Seq, &id, &body, &hash); err != nil {
			return at, unreadable(ctx, path, at.seq+1, err)
		}
		l.ID, l.Body = string(id), body
		if l.Seq != at.seq+1 {
			return at, broken("", fmt.Sprintf("it is missing, and line %d follows", l.Seq))
		}
		l.Hash = k.link(at.hash, l.Seq, l.ID, l.Body)
		if !bytes.Equal(l.Hash[:], hash) {
			return at, broken(l.ID, "what it holds does not match its hash")
		}
		if err := visit(l); err != nil {
			return at, err
		}
		at = mark{l.Seq, l.Hash}
	}
	if err := rows.Err(); err != nil {
		return at, unreadable(ctx, path, at.seq+1, err)
	}
	head, err := readHead(ctx, tx, path)
	switch {
	case err != nil:
		return at, err
	case head.seq > at.seq:
		return at, broken("", fmt.Sprintf("it is missing, with all lines up to %d", head.seq))
	case head != at && at != from:
		return at, &BrokenError{Path: path, Seq: at.seq, ID: l.ID, What: "it is the last line, and the head row does not agree with it"}
	case head.seq <= 0 && head != at:
		return at, &BrokenError{Path: path, What: "there are no lines, and the head row does not agree"}
	}
	return at, nil
}

// readHead reads the head row: where the chain ends.
func readHead(ctx context.Context, tx *sql.Tx, path string) (mark, error) {
	var head mark
	var hash []byte
	err := tx.QueryRowContext(ctx, "SELECT seq, hash FROM head WHERE one = 1").Scan(&head.seq, &hash)
	if err == nil && len(hash) != len(head.hash) {
		err = fmt.Errorf("its hash has %d bytes", len(hash))
	}
	if err != nil {
		return head, frame(ctx, path, "the head row cannot be read", err)
	}
	head.hash = [32]byte(hash)
	return head, nil
}

// A proof is what going through the whole chain gives.
type proof struct {
	head mark
	ids  map[idKey]int64 // where each id is
	past bool            // the place asked for is in this chain
}

// prove walks the whole chain, sees that no id is there twice and that the
// chain goes through known, and lets SQLite check its own pages.
func prove(ctx context.Context, tx *sql.Tx, path string, store [16]byte, known mark) (*proof, error) {
	start := mark{hash: Start(store)}
	p := &proof{ids: map[idKey]int64{}, past: known.seq == 0}
	var err error
	p.head, err = walk(ctx, tx, path, start, func(l Line) error {
		key := keyOf(l.ID)
		if other, twice := p.ids[key]; twice {
			return &BrokenError{Path: path, Seq: l.Seq, ID: l.ID, What: fmt.Sprintf("line %d has the same id", other)}
		}
		p.ids[key] = l.Seq
		if l.Seq == known.seq {
			p.past = l.Hash == known.hash
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	// The chain vouches for the lines; this finds damage that would come out
	// at the next write, in pages that hold no line.
	var verdict string
	if err := tx.QueryRowContext(ctx, "PRAGMA quick_check(1)").Scan(&verdict); err != nil {
		return nil, frame(ctx, path, "its pages cannot be checked", err)
	}
	if verdict != "ok" {
		return nil, &BrokenError{Path: path, What: "the lines are whole, but the file around them is damaged: " + verdict}
	}
	return p, nil
}

// unreadable turns a reading error at line seq into what it means.
func unreadable(ctx context.Context, path string, seq int64, err error) error {
	return damage(ctx, &BrokenError{Path: path, Seq: seq, What: "it cannot be read", Cause: err})
}

// frame is unreadable for what lies outside the lines.
func frame(ctx context.Context, path, what string, err error) error {
	return damage(ctx, &BrokenError{Path: path, What: what, Cause: err})
}

// damage lets an error stand as damage unless it has another cause: the caller
// gave up, another program is in the way, or there was no room.
func damage(ctx context.Context, e *BrokenError) error {
	switch c := code(e.Cause); {
	case c&0xff == sqlite3.SQLITE_BUSY, c&0xff == sqlite3.SQLITE_LOCKED:
		return &InUseError{Path: e.Path, Foreign: true}
	case noSharing(c), c&0xff == sqlite3.SQLITE_READONLY, c&0xff == sqlite3.SQLITE_NOMEM, c&0xff == sqlite3.SQLITE_FULL:
		return &UnreadableError{Path: e.Path, Cause: e.Cause}
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if errors.Is(e.Cause, sql.ErrConnDone) || errors.Is(e.Cause, sql.ErrTxDone) {
		return ErrClosed
	}
	return e
}

// noSharing says that SQLite could not have the small file of shared memory
// that it puts beside the record: the disk is full or write-protected.
func noSharing(code int) bool {
	switch code {
	case sqlite3.SQLITE_IOERR_SHMOPEN, sqlite3.SQLITE_IOERR_SHMSIZE, sqlite3.SQLITE_IOERR_SHMMAP, sqlite3.SQLITE_IOERR_SHMLOCK,
		sqlite3.SQLITE_READONLY_CANTINIT, sqlite3.SQLITE_READONLY_CANTLOCK, sqlite3.SQLITE_READONLY_DIRECTORY:
		return true
	}
	return code&0xff == sqlite3.SQLITE_CANTOPEN
}
