package main

import (
	"context"
	"encoding/hex"
	"errors"
	"flag"
	"fmt"

	"ebbline/internal/journal"
)

var verifyVerb = verb{
	name:  "verify",
	short: "go through the whole record and say whether it is as it was written",
	long: `
Holds every entry against the hash it was given when it was saved, which runs on
from the one before, and reads the file through. Says how many entries there
are and the last hash, or which entry is damaged; the exit status is 1
then. Nothing is changed, and the pages may be open meanwhile. A sealed record
needs no passphrase for this; with -open it is asked for, each entry is opened
too, and one that was made by somebody without the passphrase is found.

A record that holds less than was saved here before – an older copy put in its
place – is refused everywhere until the newer one is found, or until this
command has been given -accept-shorter, for which the pages must be closed.`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		file := fileFlag(fs)
		shorter := fs.Bool("accept-shorter", false, "go on with a record that holds less than was saved here before")
		open := fs.Bool("open", false, "open each entry of a sealed record too")
		return func(t *terminal, args []string) error {
			if *open && *shorter {
				return &usageError{verb: "verify", words: "-open does not go with -accept-shorter: verify again after it."}
			}
			return runVerify(t, args, file, *shorter, *open)
		}
	},
}

func runVerify(t *terminal, args []string, file *place, shorter, opened bool) (err error) {
	if err := noWords("verify", args); err != nil {
		return err
	}
	j, err := openToVerify(file, shorter, opened)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, j.Close()) }()
	if err := j.Verify(context.Background()); err != nil {
		return err
	}
	if opened {
		for _, err := range j.Lines(context.Background(), 0) {
			if err != nil {
				return err
			}
		}
	}
	entries, last := j.Head()
	fmt.Fprintf(&t.out, "%s\n%d entries, each as it was written; the last hash begins %s.\n", j.Path(), entries, hex.EncodeToString(last[:6]))
	if _, sealed := j.Sealed(); sealed && opened {
		fmt.Fprintln(&t.out, "They are sealed, and each was opened.")
	} else if sealed {
		fmt.Fprintln(&t.out, "They are sealed, and were not opened.")
	}
	for _, c := range j.Cautions() {
		fmt.Fprintln(&t.out, c.Text)
	}
	return nil
}

// openToVerify opens a record to read, unless a shorter one is to be accepted,
// which is noted beside it.
func openToVerify(file *place, shorter, opened bool) (*journal.Journal, error) {
	switch {
	case opened:
		return openJournal(file, journal.Options{Passphrase: file.passphrase})
	case !shorter:
		return openShut(file)
	}
	path, err := file.existing()
	if err != nil {
		return nil, err
	}
	return journal.Open(context.Background(), path, journal.Options{AcceptShorter: true, Shut: true})
}

// openJournal opens the lines of a record that must be there, to read.
func openJournal(file *place, opts journal.Options) (*journal.Journal, error) {
	path, err := file.existing()
	if err != nil {
		return nil, err
	}
	return journal.OpenToRead(context.Background(), path, opts)
}

// openShut does so without the passphrase of a sealed one.
func openShut(file *place) (*journal.Journal, error) {
	return openJournal(file, journal.Options{Shut: true})
}
