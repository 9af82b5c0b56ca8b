package journal

import (
	"context"
	"crypto/cipher"
	"crypto/rand"
	"crypto/sha256"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"

	"golang.org/x/crypto/argon2"
	"golang.org/x/crypto/chacha20poly1305"
)

// A Cost is what one try of a passphrase costs by argon2id (RFC 9106).
type Cost struct {
	Memory uint32 // KiB
	Passes uint32
	Lanes  uint8
}

// usualCost is twice the memory that RFC 9106 §4 gives for where memory is scarce
// (64 MiB, 3 passes, 4 lanes; from memory), and within what a small home computer
// has to spare.
var usualCost = Cost{Memory: 128 << 10, Passes: 3, Lanes: 4}

// within bounds what a file may ask for, so that a forged one cannot take all
// memory or all time.
func (c Cost) within() bool {
	return c.Memory >= 8*uint32(c.Lanes) && c.Memory <= 4<<20 && c.Passes >= 1 && c.Passes <= 100 && c.Lanes >= 1
}

// A sealing is how the bodies of a record are encrypted: each by XChaCha20-
// Poly1305 under one random data key, which is itself kept sealed under a key
// made of the passphrase. Another passphrase is another sealing of the same data
// key, and no line changes.
type sealing struct {
	Cost
	salt    [16]byte
	nonce   [chacha20poly1305.NonceSizeX]byte
	wrapped [32 + chacha20poly1305.Overhead]byte
}

// What is sealed says what it is, so that nothing can stand for something else.
const (
	keyLabel  = "ebbline data key 1"
	bodyLabel = "ebbline body 1"
	rowLabel  = "ebbline row 1"
)

// wrap seals a data key under a passphrase, for the record with this id.
func wrap(store [16]byte, passphrase []byte, data *[32]byte, cost Cost) (*sealing, error) {
	s := &sealing{Cost: cost}
	rand.Read(s.salt[:]) // never fails since Go 1.24
	rand.Read(s.nonce[:])
	aead, err := s.derive(passphrase)
	if err != nil {
		return nil, err
	}
	aead.Seal(s.wrapped[:0], s.nonce[:], data[:], s.bound(store))
	return s, nil
}

// unwrap gives the data key, and false if this is not the passphrase.
func (s *sealing) unwrap(store [16]byte, passphrase []byte) (data [32]byte, ok bool, err error) {
	aead, err := s.derive(passphrase)
	if err != nil {
		return data, false, err
	}
	_, bad := aead.Open(data[:0], s.nonce[:], s.wrapped[:], s.bound(store))
	return data, bad == nil, nil
}

// derive makes the key that seals the data key.
func (s *sealing) derive(passphrase []byte) (cipher.AEAD, error) {
	key := argon2.IDKey(passphrase, s.salt[:], s.Passes, s.Memory, s.Lanes, chacha20poly1305.KeySize)
	defer clear(key)
	return chacha20poly1305.NewX(key)
}

// bound is what the data key is tied to: the record, and how its key is made.
func (s *sealing) bound(store [16]byte) []byte {
	b := append([]byte(keyLabel), store[:]...)
	b = binary.BigEndian.AppendUint32(b, s.Memory)
	b = binary.BigEndian.AppendUint32(b, s.Passes)
	b = append(b, s.Lanes)
	return append(b, s.salt[:]...)
}

// sum is over the whole row.
func (s *sealing) sum() [32]byte {
	return sha256.Sum256(append(append([]byte(rowLabel), s.bound([16]byte{})...), append(s.nonce[:], s.wrapped[:]...)...))
}

// bodies seals and opens the bodies of lines.
type bodies struct{ aead cipher.AEAD }

// under keeps what the cipher needs of a data key, and wipes the key.
func under(data *[32]byte) (*bodies, error) {
	defer clear(data[:])
	aead, err := chacha20poly1305.NewX(data[:])
	if err != nil {
		return nil, err
	}
	return &bodies{aead}, nil
}

// sealedBy is how many bytes a sealed body is longer than a plain one.
const sealedBy = chacha20poly1305.NonceSizeX + chacha20poly1305.Overhead

// seal gives the sealed body of a line: a random nonce, what it hides, and a
// mark of authenticity that holds only in this place of this chain.
func (b *bodies) seal(before [32]byte, seq int64, id string, body []byte) []byte {
	sealed := make([]byte, chacha20poly1305.NonceSizeX, len(body)+sealedBy)
	rand.Read(sealed) // never fails since Go 1.24
	return b.aead.Seal(sealed, sealed, body, place(before, seq, id))
}

// open gives the body that a sealed one hides, and false if it was not sealed
// by this key for this place.
func (b *bodies) open(before [32]byte, seq int64, id string, sealed []byte) ([]byte, bool) {
	if len(sealed) < sealedBy {
		return nil, false
	}
	nonce, hidden := sealed[:chacha20poly1305.NonceSizeX], sealed[chacha20poly1305.NonceSizeX:]
	body, err := b.aead.Open([]byte{}, nonce, hidden, place(before, seq, id))
	return body, err == nil
}

// place says where in which chain a line stands: the hash before it goes back
// to the record's own id.
func place(before [32]byte, seq int64, id string) []byte {
	b := append([]byte(bodyLabel), before[:]...)
	b = binary.BigEndian.AppendUint64(b, uint64(seq))
	return append(b, id...)
}

// sealedLine gives a line as it is kept: itself in a plain record.
func (b *bodies) sealedLine(before [32]byte, l Line) Line {
	if b != nil {
		l.Body = b.seal(before, l.Seq, l.ID, l.Body)
	}
	return l
}

// openedLine gives a line as its sender wrote it, with a body of its own.
func (b *bodies) openedLine(path string, before [32]byte, l Line) (Line, error) {
	if b == nil {
		l.Body = append([]byte{}, l.Body...)
		return l, nil
	}
	body, ok := b.open(before, l.Seq, l.ID, l.Body)
	if !ok {
		return l, &BrokenError{Path: path, Seq: l.Seq, ID: l.ID, What: "its hash is right, but its seal is not: it was not sealed by this record's key for this place"}
	}
	l.Body = body
	return l, nil
}

// readSealing reads how the bodies are sealed; nil if they are plain.
func readSealing(ctx context.Context, tx *sql.Tx, path string) (*sealing, error) {
	var memory, passes, lanes int64
	var salt, nonce, wrapped, sum []byte
	err := tx.QueryRowContext(ctx, "SELECT memory, passes, lanes, salt, nonce, wrapped, sum FROM sealing WHERE one = 1").
		Scan(&memory, &passes, &lanes, &salt, &nonce, &wrapped, &sum)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	s := new(sealing)
	if err == nil && (len(salt) != len(s.salt) || len(nonce) != len(s.nonce) || len(wrapped) != len(s.wrapped)) {
		err = errors.New("its parts have other lengths")
	}
	if err != nil {
		return nil, frame(ctx, path, "how its entries are sealed cannot be read", err)
	}
	s.Cost = Cost{uint32(memory), uint32(passes), uint8(lanes)}
	s.salt, s.nonce, s.wrapped = [16]byte(salt), [chacha20poly1305.NonceSizeX]byte(nonce), [48]byte(wrapped)
	whole := int64(s.Memory) == memory && int64(s.Passes) == passes && int64(s.Lanes) == lanes
	if want := s.sum(); !whole || string(sum) != string(want[:]) {
		return nil, &BrokenError{Path: path, What: "what it says about how its entries are sealed is altered"}
	}
	if !s.within() {
		return nil, &BrokenError{Path: path, What: fmt.Sprintf("it asks for %d KiB, %d passes and %d lanes to open it, which this program never does", memory, passes, lanes)}
	}
	return s, nil
}

// write puts it in the place of whatever was there.
func (s *sealing) write(ctx context.Context, tx *sql.Tx) error {
	sum := s.sum()
	_, err := tx.ExecContext(ctx, "INSERT OR REPLACE INTO sealing (one, memory, passes, lanes, salt, nonce, wrapped, sum) VALUES (1, ?, ?, ?, ?, ?, ?, ?)",
		s.Memory, s.Passes, s.Lanes, s.salt[:], s.nonce[:], s.wrapped[:], sum[:])
	return err
}
