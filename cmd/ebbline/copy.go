package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"path/filepath"

	"ebbline/internal/journal"
)

var copyVerb = verb{
	name:  "copy",
	args:  "TO",
	short: "write a whole, verified copy of the record to a new file",
	long: `
Writes the record as it is at one moment to a file that must not exist yet,
opens the copy, goes through all of it and compares it before it says so. What
was not finished is called TO.part. The pages may be open meanwhile. Of a sealed
record the copy is as sealed, and opens with the passphrase that the record has
now; none is needed to make it.

  ebbline copy /media/stick/household-2026-03-01.ebb`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		file := nameFlag(fs)
		return func(t *terminal, args []string) error { return runCopy(t, args, file) }
	},
}

func runCopy(t *terminal, args []string, file *place) (err error) {
	if len(args) != 1 {
		return &usageError{verb: "copy", words: "Name the file to write."}
	}
	to, err := filepath.Abs(args[0])
	if err != nil {
		return err
	}
	j, err := openShut(file)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, j.Close()) }()
	if err := j.Copy(context.Background(), to); err != nil {
		return err
	}
	// The pages may have added to it since j was opened.
	made, err := journal.OpenToRead(context.Background(), to, journal.Options{Shut: true})
	if err != nil {
		return err
	}
	entries, _ := made.Head()
	if err := made.Close(); err != nil {
		return err
	}
	fmt.Fprintf(&t.out, "Copied %d entries to %s, and verified the copy.\n", entries, to)
	return nil
}
