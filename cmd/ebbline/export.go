package main

import (
	"context"
	"errors"
	"flag"

	"ebbline/internal/journal"
)

var exportVerb = verb{
	name:  "export",
	short: "print every entry as it was written, one JSON object a line",
	long: `
Prints the whole record, oldest entry first, in the form that docs/entries.md
explains: corrections, struck entries and all. It can be read with any program
for ever. What it prints is plain, of a sealed record too. To keep the record
itself, with its chain, use ` + "`ebbline copy`" + `.`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		file := fileFlag(fs)
		return func(t *terminal, args []string) error { return runExport(t, args, file) }
	},
}

func runExport(t *terminal, args []string, file *place) (err error) {
	if err := noWords("export", args); err != nil {
		return err
	}
	j, err := openJournal(file, journal.Options{Passphrase: file.passphrase})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, j.Close()) }()
	for line, err := range j.Lines(context.Background(), 0) {
		if err != nil {
			return err
		}
		t.out.Write(line.Body)
		t.out.WriteByte('\n')
	}
	return nil
}
