package main

import (
	"bytes"
	"cmp"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"syscall"
	"unicode"
	"unicode/utf8"

	"golang.org/x/term"
)

// A passphrase is never taken from the command line or from a variable: other
// users of the computer can see the one, and every program that is started sees
// the other. It is typed, or stands in a file.

// passphraseFlag declares the flag that names the file.
func (p *place) passphraseFlag(fs *flag.FlagSet) {
	fs.StringVar(&p.passphraseFile, "passphrase-file", "", "a `FILE` that holds the passphrase of a sealed record; else EBBLINE_PASSPHRASE_FILE, else it is asked for")
}

// passphrase gives the passphrase of the record: from the file that was named,
// else from the person at the terminal.
func (p *place) passphrase() ([]byte, error) {
	if p.given != nil {
		return bytes.Clone(p.given), nil
	}
	if p.passphraseNamed() {
		return passphraseIn(cmp.Or(p.passphraseFile, os.Getenv("EBBLINE_PASSPHRASE_FILE")))
	}
	typed, err := askHidden("Passphrase of the record: ")
	if errors.Is(err, errNoTerminal) {
		return nil, errors.New("the record is sealed: name a file that holds its passphrase with -passphrase-file or EBBLINE_PASSPHRASE_FILE, or run this in a terminal")
	}
	return typed, err
}

// passphraseNamed says that somebody named a file of the passphrase.
func (p *place) passphraseNamed() bool {
	return p.passphraseFile != "" || os.Getenv("EBBLINE_PASSPHRASE_FILE") != ""
}

const (
	fewestLetters = 12
	mostBytes     = 1000
)

// passphraseIn reads a file of one line. Whoever can read the file can open the
// record, so it may not be everybody.
func passphraseIn(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("the file of the passphrase cannot be read: %w", err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if runtime.GOOS != "windows" && info.Mode().IsRegular() && info.Mode().Perm()&0o007 != 0 {
		return nil, refusal{fmt.Sprintf("%s can be read by every user of this computer. Take that right away (chmod 600) and try again.", name)}
	}
	text, err := io.ReadAll(io.LimitReader(f, mostBytes+3))
	if err != nil {
		return nil, fmt.Errorf("the file of the passphrase cannot be read: %w", err)
	}
	text = bytes.TrimSuffix(bytes.TrimSuffix(text, []byte("\n")), []byte("\r"))
	switch {
	case len(text) == 0:
		return nil, refusal{name + " is empty; it has to hold the passphrase, in one line."}
	case bytes.ContainsAny(text, "\r\n"):
		return nil, refusal{name + " holds more than one line; it has to hold the passphrase alone."}
	case len(text) > mostBytes:
		return nil, refusal{fmt.Sprintf("%s holds more than %d bytes; it has to hold the passphrase alone.", name, mostBytes)}
	}
	return text, nil
}

// fit says what is against a new passphrase. What another keyboard could not
// type again is not among it: that is for the person to know.
func fit(passphrase []byte) error {
	letters := utf8.RuneCount(passphrase)
	switch {
	case !utf8.Valid(passphrase) || bytes.ContainsFunc(passphrase, unicode.IsControl):
		return refusal{"The passphrase holds signs that cannot be typed again. Take letters, figures, spaces and marks."}
	case letters < fewestLetters:
		return refusal{fmt.Sprintf("The passphrase has %s; it needs %d or more. Five words taken by chance are easier to keep than a short riddle.", count(letters, "letter", "letters"), fewestLetters)}
	case len(passphrase) > mostBytes:
		return refusal{fmt.Sprintf("The passphrase has more than %d bytes.", mostBytes)}
	}
	return nil
}

var errNoTerminal = errors.New("there is no terminal to ask at")

// terminalNames are what the terminal of a program is called, for reading and
// for writing; standard input may be something else.
func terminalNames() (in, out string) {
	if runtime.GOOS == "windows" {
		return "CONIN$", "CONOUT$"
	}
	return "/dev/tty", "/dev/tty"
}

// askHidden asks at the terminal for a line that is not shown.
func askHidden(words string) ([]byte, error) {
	from, to := terminalNames()
	in, err := os.OpenFile(from, os.O_RDWR, 0)
	if err != nil {
		return nil, errNoTerminal
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_RDWR, 0)
	if err != nil {
		return nil, errNoTerminal
	}
	defer out.Close()
	before, err := term.GetState(int(in.Fd()))
	if err != nil {
		return nil, errNoTerminal
	}
	// Ended in the middle, the program must not leave a terminal that shows
	// nothing.
	ended, done := make(chan os.Signal, 1), make(chan struct{})
	signal.Notify(ended, os.Interrupt, syscall.SIGTERM)
	defer signal.Stop(ended)
	defer close(done)
	go func() {
		select {
		case <-ended:
			term.Restore(int(in.Fd()), before)
			fmt.Fprintln(out)
			os.Exit(exitFailed)
		case <-done:
		}
	}()
	if _, err := io.WriteString(out, words); err != nil {
		return nil, err
	}
	typed, err := term.ReadPassword(int(in.Fd()))
	fmt.Fprintln(out)
	if errors.Is(err, io.EOF) {
		return nil, errors.New("nothing was typed")
	}
	return typed, err
}

// askNew asks at the terminal for a new passphrase, twice, after saying words.
func askNew(words string) ([]byte, error) {
	first, err := askHidden(words + "\nNew passphrase: ")
	if errors.Is(err, errNoTerminal) {
		return nil, errors.New("there is no terminal to ask at: name a file that holds the new passphrase with -new-passphrase-file")
	}
	if err != nil {
		return nil, err
	}
	if err := fit(first); err != nil {
		return nil, err
	}
	again, err := askHidden("The same again: ")
	defer clear(again)
	if err != nil {
		return nil, err
	}
	if !bytes.Equal(first, again) {
		return nil, refusal{"The two were not the same; nothing was changed."}
	}
	return first, nil
}
