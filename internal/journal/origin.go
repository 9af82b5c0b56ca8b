package journal

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/binary"
	"errors"
	"time"
)

// An Origin is the file from which all lines of this one were written anew, when
// its sealing was changed: its id and where its chain ended then. From there the
// two go their own ways.
type Origin struct {
	Store [16]byte
	Seq   int64
	Hash  [32]byte
	At    time.Time
}

func (o *Origin) sum() [32]byte {
	b := append([]byte("ebbline origin 1"), o.Store[:]...)
	b = binary.BigEndian.AppendUint64(b, uint64(o.Seq))
	b = append(b, o.Hash[:]...)
	return sha256.Sum256(append(b, o.at()...))
}

func (o *Origin) at() string { return o.At.UTC().Format(time.RFC3339) }

// readOrigin reads it; nil if the lines were written here from the first on.
func readOrigin(ctx context.Context, tx *sql.Tx, path string) (*Origin, error) {
	var o Origin
	var store, hash, sum []byte
	var at string
	err := tx.QueryRowContext(ctx, "SELECT store, seq, hash, at, sum FROM origin WHERE one = 1").Scan(&store, &o.Seq, &hash, &at, &sum)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	if err == nil && (len(store) != len(o.Store) || len(hash) != len(o.Hash)) {
		err = errors.New("its parts have other lengths")
	}
	if err == nil {
		o.Store, o.Hash = [16]byte(store), [32]byte(hash)
		o.At, err = time.Parse(time.RFC3339, at)
	}
	if err != nil {
		return nil, frame(ctx, path, "from which file it was written anew cannot be read", err)
	}
	if want := o.sum(); o.at() != at || string(sum) != string(want[:]) {
		return nil, &BrokenError{Path: path, What: "what it says about the file it was written anew from is altered"}
	}
	return &o, nil
}

func (o *Origin) write(ctx context.Context, tx *sql.Tx) error {
	sum := o.sum()
	_, err := tx.ExecContext(ctx, "INSERT INTO origin (one, store, seq, hash, at, sum) VALUES (1, ?, ?, ?, ?, ?)", o.Store[:], o.Seq, o.Hash[:], o.at(), sum[:])
	return err
}

// past says that a record which was written anew from this origin has all that
// was acknowledged of the origin. An acknowledgement may be late, never early.
func (o *Origin) past(said acknowledgement) bool {
	return o != nil && said.store == o.Store && said.seq <= o.Seq && (said.seq != o.Seq || said.hash == o.Hash)
}
