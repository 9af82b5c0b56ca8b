package household

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"ebbline/internal/journal"
	"ebbline/internal/simulate"
	"ebbline/record"
)

// A household is sealed, goes on, and is made plain again: each time it shows
// the same, and while it is sealed nobody's name stands in the file.
func TestResealedHouseholdShowsTheSame(t *testing.T) {
	ctx := context.Background()
	d, life, c, path := lived(t)
	was := d.state
	if d.Sealed() {
		t.Error("it says that it is sealed before it is")
	}
	if err := d.Close(); err != nil {
		t.Fatal(err)
	}
	first, _ := was.People[0].Person.Now()
	name := []byte(first.Name)
	if !bytes.Contains(contentsOf(t, path), name) {
		t.Fatalf("the plain file does not hold %q: nothing is tried", name)
	}
	const passphrase = "an invented passphrase"
	o := Options{Now: c.now, Zone: simulate.Zone(), Passphrase: func() ([]byte, error) { return []byte(passphrase), nil }}
	done, err := Reseal(ctx, path, o, []byte(passphrase))
	if err != nil || done.Lines != int64(was.Entries()) {
		t.Fatalf("%d lines, %v", done.Lines, err)
	}

	plain := Options{Now: c.now, Zone: simulate.Zone()}
	for what, open := range map[string]func(context.Context, string, Options) (*Desk, error){"Open": Open, "OpenToRead": OpenToRead} {
		if _, err := open(ctx, path, plain); !errors.As(err, new(*journal.SealedError)) {
			t.Errorf("%s without a passphrase: %v, want a SealedError", what, err)
		}
	}
	sealed, err := Open(ctx, path, o)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(sealed.state, was) || !sealed.Sealed() {
		t.Error("sealed, it does not show the same household")
	}
	if out, err := sealed.Record(ctx, drink(life, "after-sealing", 100)); err != nil || !out.Clear() {
		t.Fatalf("%v, %v", err, out.Findings)
	}
	was = sealed.state
	if err := sealed.Close(); err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(contentsOf(t, path), name) {
		t.Errorf("the sealed file holds %q", name)
	}

	c.set(c.now().Add(60e9)) // what is kept is named after the second
	if _, err := Reseal(ctx, path, o, nil); err != nil {
		t.Fatal(err)
	}
	again, err := Open(ctx, path, plain)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if !reflect.DeepEqual(again.state, was) {
		t.Error("plain again, it does not show the same household")
	}
}

func contentsOf(t *testing.T, path string) []byte {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// Two journals of which one has an entry more are not taken for alike.
func TestAlikeSeesADifference(t *testing.T) {
	ctx := context.Background()
	d, life, c, _ := lived(t)
	o := Options{Now: c.now, Zone: simulate.Zone()}
	to := filepath.Join(t.TempDir(), "copy.ebb")
	if err := d.journal.Copy(ctx, to); err != nil {
		t.Fatal(err)
	}
	copied := open(t, to, c)
	defer copied.Close()
	if err := alike(ctx, d.journal, copied.journal, o); err != nil {
		t.Errorf("a copy: %v", err)
	}
	if out, err := copied.Record(ctx, drink(life, "one-more", 100)); err != nil || !out.Clear() {
		t.Fatalf("%v, %v", err, out.Findings)
	}
	if err := alike(ctx, d.journal, copied.journal, o); err == nil {
		t.Error("one entry more, and they are alike")
	}
	var n int
	copied.View(func(h *record.Household) { n = h.Entries() })
	if n != len(life.Entries)+1 {
		t.Errorf("%d entries", n)
	}
}
