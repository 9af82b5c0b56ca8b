package journal

import (
	"bytes"
	"context"
	"errors"
	"path/filepath"
	"testing"
)

func TestFind(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "record.sqlite")
	j := opened(t, path)
	add(t, j, 0, 5)
	want := all(t, j)
	for range 2 { // what was added now, and what was there at the start
		for _, w := range want {
			l, ok, err := j.Find(ctx, w.ID)
			if err != nil || !ok || l.Seq != w.Seq || l.ID != w.ID || !bytes.Equal(l.Body, w.Body) || l.Hash != w.Hash {
				t.Errorf("%s: line %d, %v, %v; want line %d as it was read", w.ID, l.Seq, ok, err, w.Seq)
			}
		}
		for _, id := range []string{"", "nobody", want[0].ID + " ", want[0].ID[1:]} {
			if l, ok, err := j.Find(ctx, id); ok || err != nil || l.Seq != 0 || l.Body != nil {
				t.Errorf("%q: line %d, %v, %v; want none", id, l.Seq, ok, err)
			}
		}
		closed(t, j)
		if _, _, err := j.Find(ctx, want[0].ID); err != ErrClosed {
			t.Errorf("closed: %v", err)
		}
		j = opened(t, path)
	}
	given, cancel := context.WithCancel(ctx)
	cancel()
	if _, ok, err := j.Find(given, want[0].ID); ok || !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v, %v", ok, err)
	}
}

// What was whole at the start is damaged while the record is open. The damaged
// line is not given out, and the lines around it are.
func TestFindDamaged(t *testing.T) {
	ctx := context.Background()
	for name, damage := range map[string]string{
		"body":  "UPDATE line SET body = CAST(body || x'00' AS BLOB) WHERE seq = 3",
		"id":    "UPDATE line SET id = 'another' WHERE seq = 3",
		"empty": "UPDATE line SET body = x'' WHERE seq = 3",
		"row":   "DELETE FROM line WHERE seq = 3",
	} {
		t.Run(name, func(t *testing.T) {
			path := filled(t, 5, 100)
			j := opened(t, path)
			alter(t, path, damage)
			_, ok, err := j.Find(ctx, sample(2, 0).ID)
			if broken := (*BrokenError)(nil); ok || !errors.As(err, &broken) || broken.Seq != 3 {
				t.Errorf("found: %v, %v; want a BrokenError at line 3", ok, err)
			}
			for _, i := range []int{0, 1, 4} {
				l, ok, err := j.Find(ctx, sample(i, 0).ID)
				if err != nil || !ok || l.Seq != int64(i+1) || !bytes.Equal(l.Body, sample(i, 100).Body) {
					t.Errorf("line %d, which is whole: %v, %v", i+1, ok, err)
				}
			}
		})
	}
	path := filled(t, 5, 100)
	j := opened(t, path)
	alter(t, path, "UPDATE line SET hash = zeroblob(32) WHERE seq = 5")
	_, _, err := j.Find(ctx, sample(4, 0).ID)
	if broken := (*BrokenError)(nil); !errors.As(err, &broken) || broken.Seq != 5 || broken.ID != sample(4, 0).ID {
		t.Errorf("hash of the last line: %v, want a BrokenError that names it", err)
	}
}
