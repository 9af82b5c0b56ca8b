package main

import (
	"flag"
	"fmt"
)

var whereVerb = verb{
	name:  "where",
	short: "print where the household's file is",
	long: `
Prints the path of the one file that holds the record, and says on standard
error when there is nothing there yet. While a program has the record open,
files with -wal, -shm and -lock behind the name stand beside it and belong to
it, as -screens does where other screens were paired: take a copy with
` + "`ebbline copy`" + `, not by copying files.`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		file := nameFlag(fs)
		return func(t *terminal, args []string) error { return runWhere(t, args, file) }
	},
}

func runWhere(t *terminal, args []string, file *place) error {
	if err := noWords("where", args); err != nil {
		return err
	}
	path, err := file.path()
	if err != nil {
		return err
	}
	fmt.Fprintln(&t.out, path)
	if !exists(path) {
		fmt.Fprintln(t.err, "There is no record there yet; `ebbline serve` makes one.")
	}
	return nil
}
