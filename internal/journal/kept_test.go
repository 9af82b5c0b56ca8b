package journal

import (
	"context"
	"errors"
	"os"
	"slices"
	"testing"
	"time"
)

// What was kept goes when the record has been opened and read, and only what
// the record was written from; anything else stays.
func TestDiscard(t *testing.T) {
	ctx := context.Background()
	path := filled(t, 30, 100)
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	first, err := Reseal(ctx, path, Options{Now: now, cost: cheap}, []byte(right), nil)
	if err != nil {
		t.Fatal(err)
	}
	open := Options{Passphrase: saying(right)}
	if _, _, err := Discard(ctx, path, Options{Passphrase: saying("wrong")}); !errors.As(err, new(*PassphraseError)) {
		t.Errorf("%v, want a PassphraseError", err)
	}
	if _, err := os.Stat(first.Kept); err != nil {
		t.Fatalf("gone with a wrong passphrase: %v", err)
	}

	// Kept from an earlier time, of a form, and a file of somebody else's.
	stranger, part, reformed := path+"-before-lunch", path+"-before-x.part", path+"-form1-x"
	for _, name := range []string{stranger, part, reformed} {
		if err := os.WriteFile(name, []byte("of another"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	second, err := Reseal(ctx, path, Options{Now: now.Add(time.Hour), Passphrase: saying(right), cost: cheap}, []byte(right), nil)
	if err != nil {
		t.Fatal(err)
	}
	resealed, forms, err := Kept(path)
	if err != nil || !slices.Equal(resealed, []string{first.Kept, second.Kept, stranger, part}) || !slices.Equal(forms, []string{reformed}) {
		t.Errorf("kept: %q and %q, %v", resealed, forms, err)
	}
	gone, left, err := Discard(ctx, path, open)
	if err != nil || !slices.Equal(gone, []string{second.Kept, part}) || !slices.Equal(left, []string{first.Kept, stranger}) {
		t.Errorf("gone %q, left %q, %v", gone, left, err)
	}
	for _, name := range gone {
		if _, err := os.Stat(name); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("%s is still there: %v", name, err)
		}
	}
	sameLines(t, unlocked(t, path), 30, 100)
}

// What was kept has gone on by itself since: it holds what nobody else has.
func TestDiscardLeavesWhatWentOn(t *testing.T) {
	ctx := context.Background()
	path := filled(t, 10, 100)
	done, err := Reseal(ctx, path, Options{cost: cheap}, []byte(right), nil)
	if err != nil {
		t.Fatal(err)
	}
	old := opened(t, done.Kept)
	add(t, old, 10, 11)
	closed(t, old)
	gone, left, err := Discard(ctx, path, Options{Passphrase: saying(right)})
	if err != nil || len(gone) != 0 || !slices.Equal(left, []string{done.Kept}) {
		t.Errorf("gone %q, left %q, %v", gone, left, err)
	}
}
