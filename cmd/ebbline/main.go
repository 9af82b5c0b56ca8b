// Command ebbline is the program of a person who runs their own haemodialysis
// at home: it serves the pages, and does from the command line what a script
// or a technician needs. Each verb is one file.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// The exit statuses. A script may rely on them.
const (
	exitDone    = 0
	exitFailed  = 1 // the request was understood but could not be carried out
	exitRefused = 2 // the request or its input was not accepted; nothing was done
)

// A terminal is what a verb reads from and writes to.
type terminal struct {
	in     io.Reader
	out    bytes.Buffer // reaches standard output when the verb succeeds, or calls show
	stdout io.Writer
	err    io.Writer
}

// show writes what was gathered so far; a verb that fails before that leaves
// nothing on standard output.
func (t *terminal) show() error {
	_, err := t.out.WriteTo(t.stdout)
	return err
}

// A verb is one thing that the program does. setUp declares the verb's flags
// and returns what carries it out.
type verb struct {
	name  string
	args  string // what follows the name, for the line of usage
	short string // one line for the list
	long  string // for "help VERB"
	setUp func(fs *flag.FlagSet) func(t *terminal, args []string) error
}

// run carries out one command line and returns the exit status.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	t := &terminal{in: stdin, stdout: stdout, err: stderr}
	err := dispatch(t, args)
	if err == nil {
		err = t.show()
	}
	return say(stderr, err)
}

func dispatch(t *terminal, args []string) error {
	if len(args) == 0 {
		return &usageError{words: "Say what to do.", list: true}
	}
	name, rest := args[0], args[1:]
	switch name {
	case "-h", "-help", "--help":
		name = "help"
	case "-version", "--version":
		name = "version"
	}
	v, ok := findVerb(name)
	if !ok {
		return &usageError{words: fmt.Sprintf("There is no command %q.", name), list: true}
	}
	fs := flag.NewFlagSet(v.name, flag.ContinueOnError)
	fs.SetOutput(io.Discard) // worded here
	do := v.setUp(fs)
	words, err := parse(fs, rest)
	switch {
	case errors.Is(err, flag.ErrHelp):
		v.help(&t.out)
		return nil
	case err != nil:
		return &usageError{verb: v.name, words: sentence(err.Error())}
	}
	return do(t, words)
}

// parse reads flags wherever they stand: the flag package alone stops at the
// first word, and a flag behind it would be taken for a word. After "--" all
// are words.
func parse(fs *flag.FlagSet, args []string) (words []string, err error) {
	for {
		if err := fs.Parse(args); err != nil {
			return nil, err
		}
		rest := fs.Args()
		if len(rest) == 0 {
			return words, nil
		}
		if read := len(args) - len(rest); read > 0 && args[read-1] == "--" {
			return append(words, rest...), nil
		}
		words, args = append(words, rest[0]), rest[1:]
	}
}

// A usageError is a command line that cannot be understood.
type usageError struct {
	verb  string // whose help to point to; empty for the program's
	words string
	list  bool // print the list of commands
}

func (e *usageError) Error() string { return e.words }

// A refusal is input that is not accepted, one sentence for each reason.
type refusal []string

func (r refusal) Error() string { return strings.Join(r, "\n") }

// An absence is a request that keeps the rules, but names what this record does
// not hold. The same words may be right tomorrow, so it is no refusal.
type absence string

func (a absence) Error() string { return string(a) }

// say words an error for a person and returns the exit status.
func say(w io.Writer, err error) int {
	var usage *usageError
	var refused refusal
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &usage):
		fmt.Fprintln(w, usage.words)
		switch {
		case usage.list:
			fmt.Fprintln(w)
			listVerbs(w)
		case usage.verb != "":
			fmt.Fprintf(w, "`ebbline help %s` says how.\n", usage.verb)
		}
		return exitRefused
	case errors.As(err, &refused):
		for _, one := range refused {
			fmt.Fprintln(w, oneLine(one))
		}
		return exitRefused
	}
	fmt.Fprintln(w, sentence(err.Error()))
	return exitFailed
}

// oneLine keeps a sentence on its line whatever was quoted in it.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r == '\u2028' || r == '\u2029' {
			return ' '
		}
		return r
	}, s)
}

// sentence gives an error of a library a capital and an end.
func sentence(s string) string {
	if s == "" {
		return s
	}
	if c := s[0]; c >= 'a' && c <= 'z' {
		s = strings.ToUpper(s[:1]) + s[1:]
	}
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}
