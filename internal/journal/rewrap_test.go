package journal

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"
)

const newer = "six other words taken by chance"

// With another passphrase every line is as it was, hash and all; the old
// passphrase opens nothing, and what it opened is gone from the file.
func TestRewrap(t *testing.T) {
	ctx := context.Background()
	path := sealedRecord(t, 50, 200)
	j := unlocked(t, path)
	was, wrapped := all(t, j), j.sealing.wrapped
	closed(t, j)
	if !bytes.Contains(read(t, path), wrapped[:]) {
		t.Fatal("the sealed data key does not stand in the file: nothing is tried")
	}
	if err := Rewrap(ctx, path, Options{Passphrase: saying(right), cost: cheap}, []byte(newer)); err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(read(t, path), wrapped[:]) {
		t.Error("what the old passphrase opens still stands in the file")
	}
	if _, err := Open(ctx, path, Options{Passphrase: saying(right)}); !errors.As(err, new(*PassphraseError)) {
		t.Errorf("the old passphrase: %v, want a PassphraseError", err)
	}
	j, err := Open(ctx, path, Options{Passphrase: saying(newer)})
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	is := all(t, j)
	for i := range was {
		if is[i].Hash != was[i].Hash || !bytes.Equal(is[i].Body, was[i].Body) {
			t.Fatalf("line %d was changed", i+1)
		}
	}
	add(t, j, 50, 52)
	if len(j.Cautions()) > 0 {
		t.Error(j.Cautions())
	}

	plain := filled(t, 3, 50)
	if err := Rewrap(ctx, plain, Options{Passphrase: saying(right)}, []byte(newer)); !errors.As(err, new(*NotSealedError)) {
		t.Errorf("a plain record: %v, want a NotSealedError", err)
	}
}

// childRewrap changes the passphrase to and fro until it is killed, and prints a
// line after each change.
func childRewrap(args []string) error {
	for {
		for _, pair := range [][2]string{{right, newer}, {newer, right}} {
			err := Rewrap(context.Background(), args[0], Options{Passphrase: saying(pair[0]), cost: cheap}, []byte(pair[1]))
			if err != nil && !errors.As(err, new(*PassphraseError)) {
				return err
			}
			if err == nil {
				fmt.Println("changed")
			}
		}
	}
}

// A program is killed while it changes passphrases: one of the two opens the
// record, with every line.
func TestKillWhileRewrapping(t *testing.T) {
	path := sealedRecord(t, 200, 100)
	dice := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 5))
	opensBy := map[string]int{}
	for round := range max(10, *kills/8) {
		cmd := child(t, "rewrap", path)
		pipe, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		// Counted from the first, the second or the third change, since nobody
		// knows how long a start takes.
		said := bufio.NewScanner(pipe)
		for range 1 + dice.IntN(3) {
			if !said.Scan() {
				t.Fatalf("round %d: it ended by itself: %v", round, cmd.Wait())
			}
		}
		time.Sleep(time.Duration(dice.IntN(60_000)) * time.Microsecond)
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		cmd.Wait() // killed, so it has an error
		by := right
		j, err := Open(context.Background(), path, Options{Passphrase: saying(by)})
		if errors.As(err, new(*PassphraseError)) {
			by = newer
			j, err = Open(context.Background(), path, Options{Passphrase: saying(by)})
		}
		if err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		sameLines(t, j, 200, 100)
		closed(t, j)
		opensBy[by]++
	}
	t.Logf("opened by: %v", opensBy)
	if len(opensBy) != 2 {
		t.Error("it was always the same passphrase: nothing was tried")
	}
}
