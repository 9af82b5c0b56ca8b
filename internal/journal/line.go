package journal

import (
	"crypto/sha256"
	"encoding/binary"
	"strings"
	"unicode/utf8"

	"ebbline/unit"
)

// A Line is one link of the chain. The sender gives ID and Body; the journal
// gives Seq and Hash, and does not look at them on the way in.
type Line struct {
	Seq  int64    // place in the journal: 1, 2, 3 … without a gap
	ID   string   // made by the sender; 1 to 200 bytes of UTF-8
	Body []byte   // up to 16 MiB, of any content
	Hash [32]byte // see [Link]; over the body as it is kept, sealed in a sealed record
}

const (
	maxID   = 200      // bytes
	maxBody = 16 << 20 // bytes
)

// A mark is a place in the chain: a line's number and hash. Before the first
// line the number is 0 and the hash is [Start].
type mark struct {
	seq  int64
	hash [32]byte
}

// Start is the hash before the first line: SHA-256 over "ebbline journal 1"
// and the 16 bytes of the store's id. Two stores share no hash.
func Start(store [16]byte) [32]byte {
	return sha256.Sum256(append([]byte("ebbline journal 1"), store[:]...))
}

// Link is a line's hash: SHA-256 over the hash before it (32 bytes), its
// number, the length of its id, the id, the length of its body, the body.
// Numbers and lengths are 8 bytes, big end first, so that no two different
// lines give the same input.
func Link(before [32]byte, seq int64, id string, body []byte) [32]byte {
	var k linker
	return k.link(before, seq, id, body)
}

// A linker keeps its buffer from one line to the next.
type linker struct{ buf []byte }

func (k *linker) link(before [32]byte, seq int64, id string, body []byte) [32]byte {
	b := append(k.buf[:0], before[:]...)
	b = binary.BigEndian.AppendUint64(b, uint64(seq))
	b = binary.BigEndian.AppendUint64(b, uint64(len(id)))
	b = append(b, id...)
	b = binary.BigEndian.AppendUint64(b, uint64(len(body)))
	b = append(b, body...)
	k.buf = b
	return sha256.Sum256(b)
}

// idKey stands for an id in memory: half of its SHA-256, a fixed 16 bytes.
type idKey [16]byte

func keyOf(id string) idKey {
	sum := sha256.Sum256([]byte(id))
	return idKey(sum[:16])
}

// check refuses, before anything is written, a line that the journal could
// not give back exactly as it came.
func (l Line) check() error {
	switch {
	case l.ID == "" || len(l.ID) > maxID:
		return unit.Refuse("id", l.ID, "1 to 200 bytes")
	case !utf8.ValidString(l.ID) || strings.ContainsRune(l.ID, 0):
		return unit.Refuse("id", l.ID, "UTF-8 text without a zero byte")
	case len(l.Body) > maxBody:
		return unit.Refuse("body of "+l.ID, len(l.Body), "at most 16777216 bytes")
	}
	return nil
}
