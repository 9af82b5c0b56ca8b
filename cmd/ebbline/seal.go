package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"slices"
	"strings"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/journal"
)

var sealVerb = verb{
	name:  "seal",
	args:  "[set | change | off | discard]",
	short: "encrypt the record on the disk under a passphrase, or say whether it is",
	long: `
A sealed record can be read by nobody who finds the disk, a backup or a stick
with a copy, unless they have the passphrase. IF THE PASSPHRASE IS FORGOTTEN,
NOBODY CAN READ THE RECORD AGAIN: there is no second way in, here or anywhere.
Write it on paper and keep the paper away from this computer. The pages must be
closed while any of this is done.

  ebbline seal           says whether the record is sealed
  ebbline seal set       seals every entry under a new passphrase, typed twice
  ebbline seal change    sets another passphrase; with -rewrite a new key too
  ebbline seal off       writes every entry in plain again
  ebbline seal discard   removes the record as it was before, which is kept

set, off and change -rewrite write the whole record anew into a second file, go
through it, compare it entry by entry with the first, see that both show the same
household, and only then put it in the place of the first. Stopped at any moment,
they leave the record as it was. The record as it was before is kept beside the
new one until discard. A file that was removed can often be brought back from a
disk, and copies and backups from before are as plain as they were: where that
matters, encrypt the whole disk as well.

change alone changes no entry: somebody who has an older copy and its passphrase
can read what is written later, too. -rewrite shuts them out of that.

Afterwards every command asks for the passphrase at the terminal, or takes it
from a file named with -passphrase-file or EBBLINE_PASSPHRASE_FILE, for a service
that starts by itself. It never stands on the command line, where other users of
the computer see it. verify and copy need none; a copy is as sealed as the record.

WHAT IS NOT SEALED: how many entries there are, how long each is, in which order
and in what portions they were saved; their ids, which the pages draw by chance,
but which stand as they were given in entries that you made yourself; when the
file was last changed; the names of paired screens. Nor what leaves the record:
the pages on a screen, what a browser keeps of a form that is not saved yet,
prints, PDF and calendar files, what export prints. While the pages are open the
record is in memory, in plain, and the system may write memory to the disk when
the computer sleeps. The passphrase helps against somebody who has the disk, not
against somebody who sits at the running computer.

Each entry: XChaCha20-Poly1305, bound to its place in the record. The key comes
from the passphrase by argon2id, whose settings stand in the record.`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		s := &sealing{place: fileFlag(fs)}
		fs.StringVar(&s.fresh, "new-passphrase-file", "", "a `FILE` that holds the new passphrase; else it is asked for, twice")
		fs.BoolVar(&s.rewrite, "rewrite", false, "with change: write every entry anew under a new key")
		return s.run
	},
}

// A sealing is what was asked for on the command line.
type sealing struct {
	*place
	fresh   string // file of the new passphrase
	rewrite bool
}

func (s *sealing) run(t *terminal, args []string) error {
	do := ""
	if len(args) > 0 {
		do = args[0]
	}
	known := []string{"", "set", "change", "off", "discard"}
	switch {
	case len(args) > 1 || !slices.Contains(known, do):
		return &usageError{verb: "seal", words: fmt.Sprintf("%q is not accepted; accepted is one of set, change, off, discard, or nothing.", strings.Join(args, " "))}
	case s.rewrite && do != "change":
		return &usageError{verb: "seal", words: "-rewrite goes with change."}
	case s.fresh != "" && do != "set" && do != "change":
		return &usageError{verb: "seal", words: "-new-passphrase-file goes with set or change."}
	}
	path, err := s.existing()
	if err != nil {
		return err
	}
	is, err := isSealed(path)
	if err != nil {
		return err
	}
	switch {
	case do == "":
		return s.tell(t, path)
	case do == "set" && is:
		return refusal{fmt.Sprintf("The record %s is sealed already. `ebbline seal change` sets another passphrase.", path)}
	case do != "set" && do != "discard" && !is:
		return refusal{fmt.Sprintf("The record %s is not sealed. `ebbline seal set` seals it.", path)}
	}
	switch do {
	case "set":
		return s.set(t, path)
	case "change":
		return s.change(t, path)
	case "off":
		return s.off(t, path)
	}
	return s.discard(t, path)
}

// isSealed looks at a record without opening it.
func isSealed(path string) (bool, error) {
	j, err := journal.OpenToRead(context.Background(), path, journal.Options{Shut: true})
	if err != nil {
		return false, err
	}
	_, sealed := j.Sealed()
	return sealed, j.Close()
}

// tell says whether and how a record is sealed, and what stands beside it.
func (s *sealing) tell(t *terminal, path string) (err error) {
	j, err := journal.OpenToRead(context.Background(), path, journal.Options{Shut: true})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, j.Close()) }()
	n, _ := j.Head()
	cost, sealed := j.Sealed()
	fmt.Fprintln(&t.out, path)
	if sealed {
		fmt.Fprintf(&t.out, "%s, sealed. One try of a passphrase takes %d MiB of memory, %s.\n", count(int(n), "entry", "entries"), cost.Memory>>10, count(int(cost.Passes), "pass", "passes"))
	} else {
		fmt.Fprintf(&t.out, "%s, not sealed: whoever has the file can read it.\n", count(int(n), "entry", "entries"))
	}
	if from, anew := j.Origin(); anew {
		fmt.Fprintf(&t.out, "It was written anew on %s from a record whose entry %d had a hash that began %x.\n", from.At.Local().Format("2 January 2006 at 15:04"), from.Seq, from.Hash[:6])
	}
	return sayKept(t, path)
}

// sayKept lists what stands beside a record and may be plain.
func sayKept(t *terminal, path string) error {
	resealed, reformed, err := journal.Kept(path)
	if err != nil {
		return err
	}
	for _, name := range append(resealed, reformed...) {
		how := "not sealed"
		if sealed, err := isSealed(name); errors.As(err, new(*journal.OlderError)) {
			// from before records could be sealed
		} else if err != nil {
			how = "which cannot be opened"
		} else if sealed {
			how = "sealed"
		}
		fmt.Fprintf(&t.out, "Kept beside it, %s: %s\n", how, name)
	}
	return nil
}

const lost = `If this passphrase is forgotten, nobody can read the record again: there is no
second way in. Write it on paper now, and keep the paper away from this computer.
`

// newPassphrase takes it from the file that was named, or asks twice.
func (s *sealing) newPassphrase() ([]byte, error) {
	if s.fresh == "" {
		return askNew(lost)
	}
	fresh, err := passphraseIn(s.fresh)
	if err != nil {
		return nil, err
	}
	return fresh, fit(fresh)
}

func (s *sealing) options() (household.Options, error) {
	zone, err := householdZone()
	return household.Options{Now: time.Now, Zone: zone, Passphrase: s.passphrase}, err
}

func (s *sealing) set(t *terminal, path string) error {
	fresh, err := s.newPassphrase()
	if err != nil {
		return err
	}
	defer clear(fresh)
	return s.reseal(t, path, fresh, "sealed under the new passphrase")
}

func (s *sealing) off(t *terminal, path string) error {
	return s.reseal(t, path, nil, "in plain; whoever has the file can read it")
}

func (s *sealing) change(t *terminal, path string) error {
	// The old passphrase is asked for once, and tried before anybody thinks of
	// a new one.
	old, err := s.passphrase()
	if err != nil {
		return err
	}
	defer clear(old)
	s.given = old
	j, err := openJournal(s.place, journal.Options{Passphrase: s.passphrase})
	if err != nil {
		return err
	}
	if err := j.Close(); err != nil {
		return err
	}
	fresh, err := s.newPassphrase()
	if err != nil {
		return err
	}
	defer clear(fresh)
	if s.rewrite {
		return s.reseal(t, path, fresh, "sealed under the new passphrase and a new key")
	}
	if err := journal.Rewrap(context.Background(), path, journal.Options{Passphrase: s.passphrase}, fresh); err != nil {
		return err
	}
	fmt.Fprintln(&t.out, "The passphrase was changed, and the new one opens the record. No entry was changed.")
	fmt.Fprintln(&t.out, "Copies made before open with the passphrase they had; whoever has one, and that passphrase, can read this record too. `ebbline seal change -rewrite` shuts them out of what is written from now on.")
	return nil
}

func (s *sealing) reseal(t *terminal, path string, passphrase []byte, how string) error {
	o, err := s.options()
	if err != nil {
		return err
	}
	done, err := household.Reseal(context.Background(), path, o, passphrase)
	if err != nil {
		return err
	}
	fmt.Fprintf(&t.out, "%s written anew, read back and found the same: %s.\n", count(int(done.Lines), "entry", "entries"), how)
	if passphrase != nil {
		t.out.WriteString(lost)
	}
	if err := sayKept(t, path); err != nil {
		return err
	}
	fmt.Fprintln(&t.out, "When the pages have opened it once, `ebbline seal discard` removes what was kept from before.")
	if passphrase != nil {
		fmt.Fprintln(&t.out, "A removed file can often be brought back from a disk, and copies and backups made before are as they were.")
	}
	return nil
}

func (s *sealing) discard(t *terminal, path string) error {
	gone, left, err := journal.Discard(context.Background(), path, journal.Options{Passphrase: s.passphrase})
	for _, name := range gone {
		fmt.Fprintf(&t.out, "Removed: %s\n", name)
	}
	if err != nil {
		return err
	}
	for _, name := range left {
		fmt.Fprintf(&t.out, "Left, since this record was not written from it: %s\n", name)
	}
	if len(gone) == 0 {
		fmt.Fprintln(&t.out, "There was nothing to remove.")
		return nil
	}
	fmt.Fprintln(&t.out, "A removed file can often be brought back from a disk; only a disk that is encrypted as a whole keeps it from others.")
	return nil
}
