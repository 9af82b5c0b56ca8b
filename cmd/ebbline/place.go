package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/journal"
)

// A place is where the household's file is looked for.
type place struct {
	flag           string
	passphraseFile string
	given          []byte // a passphrase that was asked for before
}

// fileFlag declares the flags that name the file and that of its passphrase.
func fileFlag(fs *flag.FlagSet) *place {
	p := nameFlag(fs)
	p.passphraseFlag(fs)
	return p
}

// nameFlag declares the flag that names the file, for a verb that needs no
// passphrase.
func nameFlag(fs *flag.FlagSet) *place {
	p := new(place)
	fs.StringVar(&p.flag, "file", "", "the household's `FILE`; else EBBLINE_FILE, else the usual place (`ebbline where`)")
	return p
}

// path gives the file that was named, else that of EBBLINE_FILE, else the one
// in the person's folder of settings.
func (p *place) path() (string, error) {
	name := p.flag
	if name == "" {
		name = os.Getenv("EBBLINE_FILE")
	}
	if name == "" {
		folder, err := os.UserConfigDir()
		if err != nil {
			return "", fmt.Errorf("there is no usual place for the record here (%v): name one with -file", err)
		}
		name = filepath.Join(folder, "ebbline", "household.ebb")
	}
	return filepath.Abs(name)
}

// existing gives the path of a file that is there. A fresh, empty record in
// the place of a mistyped name would look like a lost one.
func (p *place) existing() (string, error) {
	path, err := p.path()
	if err != nil {
		return "", err
	}
	if !exists(path) {
		return "", &noRecordError{path}
	}
	return path, nil
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return !errors.Is(err, fs.ErrNotExist)
}

type noRecordError struct{ path string }

func (e *noRecordError) Error() string {
	return fmt.Sprintf("There is no record at %s. `ebbline serve` makes one; -file names another", e.path)
}

// openDesk opens the household at a path, and makes it when there is none. A
// sealed one asks for its passphrase.
func openDesk(path string, passphrase func() ([]byte, error)) (*household.Desk, error) {
	zone, err := householdZone()
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return nil, &journal.FolderError{Path: path, Cause: err}
	}
	return household.Open(context.Background(), path, household.Options{Now: present, Zone: zone, Passphrase: passphrase})
}

// present is the clock of the commands that read and write a record; a test of
// an evening long ago gives its own.
var present = time.Now

// openExisting opens a household that must be there, to read: beside the pages,
// which may have it open.
func (p *place) openExisting() (*household.Desk, error) {
	path, err := p.existing()
	if err != nil {
		return nil, err
	}
	zone, err := householdZone()
	if err != nil {
		return nil, err
	}
	return household.OpenToRead(context.Background(), path, household.Options{Now: present, Zone: zone, Passphrase: p.passphrase})
}
