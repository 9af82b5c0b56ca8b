// Package invented puts the record of an invented household where a test wants it.
// Only tests import it.
package invented

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/simulate"
)

// A made household is the record of one that was written once, for all tests of a
// process that ask for the like.
type made struct {
	life  *simulate.Life
	files map[string][]byte // by what follows the record's own name
}

var households = struct {
	sync.Mutex
	made map[string]made
}{made: map[string]made{}}

// MoveIn puts the record of an invented household of so many months up to a moment at
// path, with a session running when open is set. Making one, and checking each of its
// thousand entries, takes longer than most tests that use it.
func MoveIn(t testing.TB, path string, until time.Time, months int, open bool) *simulate.Life {
	t.Helper()
	households.Lock()
	defer households.Unlock()
	key := fmt.Sprint(until, months, open)
	one, there := households.made[key]
	if !there {
		one = makeHousehold(t, until, months, open)
		households.made[key] = one
	}
	for rest, content := range one.files {
		if err := os.WriteFile(path+rest, content, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	life := *one.life
	life.Entries, life.Truth = slices.Clone(life.Entries), slices.Clone(life.Truth)
	return &life
}

func makeHousehold(t testing.TB, until time.Time, months int, open bool) made {
	t.Helper()
	life, err := simulate.Make(simulate.Options{Seed: 11, Months: months, Until: until, Open: open})
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "made.ebb")
	desk, err := household.Open(t.Context(), path, household.Options{Now: func() time.Time { return until }, Zone: simulate.Zone()})
	if err != nil {
		t.Fatal(err)
	}
	out, err := desk.Record(t.Context(), life.Entries...)
	if err != nil || !out.Clear() {
		t.Fatalf("the invented household was not taken: %v %v", err, out.Findings)
	}
	if err := desk.Close(); err != nil {
		t.Fatal(err)
	}
	names, err := filepath.Glob(path + "*")
	if err != nil {
		t.Fatal(err)
	}
	one := made{life: life, files: map[string][]byte{}}
	for _, name := range names {
		content, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		one.files[strings.TrimPrefix(name, path)] = content
	}
	return one
}
