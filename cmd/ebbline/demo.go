package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/simulate"
	"ebbline/record"
)

var demoVerb = verb{
	name:  "demo",
	short: "open the pages on an invented household",
	long: `
Makes a household that is invented from end to end – half a year of sessions and
one in progress that can be taken to its end – in a file of its own, and opens
its page. Every page and print of it says that it is a demonstration. It never
touches your own record. Without -file it is thrown away at the end.`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		file := fs.String("file", "", "keep the demonstration in a new `FILE`, or go on with one")
		open := fs.Bool("open", true, "open the page in the browser")
		key := new(place)
		key.passphraseFlag(fs)
		site := siteFlags(fs, "127.0.0.1:0")
		return func(t *terminal, args []string) error { return runDemo(t, args, *file, key, *open, site) }
	},
}

func runDemo(t *terminal, args []string, path string, key *place, open bool, site *site) error {
	if err := noWords("demo", args); err != nil {
		return err
	}
	listener, err := site.listen()
	if err != nil {
		return err
	}
	defer listener.Close()
	if path == "" {
		folder, err := os.MkdirTemp("", "ebbline-demo-")
		if err != nil {
			return err
		}
		defer os.RemoveAll(folder)
		path = filepath.Join(folder, "demonstration.ebb")
	}
	desk, err := openDemo(path, key.passphrase)
	if err != nil {
		return err
	}
	address := site.address(listener)
	fmt.Fprintf(&t.out, "The pages are at %s\nDEMONSTRATION: every person and value is invented. The file is %s\nCtrl-C ends it.\n", address, path)
	return site.serve(t, desk, listener, func() {
		if open {
			openBrowser(address)
		}
	})
}

// openDemo opens a demonstration at a path, and makes it when there is none. A
// record that is not a demonstration is left alone.
func openDemo(path string, passphrase func() ([]byte, error)) (*household.Desk, error) {
	fresh := !exists(path)
	desk, err := household.Open(context.Background(), path, household.Options{Now: time.Now, Zone: simulate.Zone(), Passphrase: passphrase})
	if err != nil {
		return nil, err
	}
	if fresh {
		err = fillDemo(desk)
	} else {
		desk.View(func(h *record.Household) {
			if !h.Demo {
				err = fmt.Errorf("%s is not a demonstration; choose a file that does not exist yet", path)
			}
		})
	}
	if err != nil {
		return nil, errors.Join(err, desk.Close())
	}
	return desk, nil
}

func fillDemo(desk *household.Desk) error {
	life, err := simulate.Make(simulate.Options{Seed: 20, Months: 6, Until: desk.Now(), Open: true})
	if err != nil {
		return err
	}
	out, err := desk.Record(context.Background(), life.Entries...)
	if err != nil {
		return err
	}
	for i, found := range out.Findings {
		if len(found) > 0 {
			return fmt.Errorf("the invented entry %s is refused: %w", life.Entries[i].ID, found)
		}
	}
	return nil
}

// openBrowser asks the system to show an address. Where it cannot, the address
// stands on the terminal.
func openBrowser(address string) {
	open := exec.Command("xdg-open", address)
	switch runtime.GOOS {
	case "darwin":
		open = exec.Command("open", address)
	case "windows":
		open = exec.Command("rundll32", "url.dll,FileProtocolHandler", address)
	}
	if open.Start() == nil {
		go open.Wait() // so that no dead process is left
	}
}
