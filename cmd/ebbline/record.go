package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
)

var recordVerb = verb{
	name:  "record",
	args:  "FILE.jsonl | -",
	short: "add entries, one JSON object a line, by the same rules as the pages",
	long: `
Reads entries from a file, or from standard input when it is named -, and adds
all of them or none. ` + "`ebbline schema`" + ` describes an entry, and docs/entries.md
explains each kind. Sending the same entries again does no harm: an id that is
there already with the same values counts as saved. When an entry was written
down is noted by this program; what the sender says about that is not used.

What stands against an entry is said in one sentence a line, and the exit status
is 2. A value that is asked about is accepted when it is typed a second time:

  "again": {"weight_kg": "63.9"}`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		file := fileFlag(fs)
		return func(t *terminal, args []string) error { return runRecord(t, args, file) }
	},
}

func runRecord(t *terminal, args []string, file *place) error {
	if len(args) != 1 {
		return &usageError{verb: "record", words: "Name one file of entries, or - for standard input."}
	}
	path, err := file.path()
	if err != nil {
		return err
	}
	in := t.in
	if args[0] != "-" {
		f, err := os.Open(args[0])
		if err != nil {
			return err
		}
		defer f.Close()
		in = f
	}
	sent, err := readEntries(in)
	if err != nil {
		return err
	}
	if !exists(path) {
		// What is refused must not leave an empty record behind.
		if err := rehearse(sent); err != nil {
			return err
		}
	}
	fresh, err := sent.into(path, file.passphrase)
	if err != nil {
		return err
	}
	fmt.Fprintf(&t.out, "Saved: %s", count(fresh, "entry", "entries"))
	if again := len(sent.entries) - fresh; again > 0 {
		fmt.Fprintf(&t.out, "; %s there already", count(again, "was", "were"))
	}
	fmt.Fprintln(&t.out, ".")
	return nil
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// A batch is what was sent, with the line that each entry stood on.
type batch struct {
	entries []record.Entry
	lines   []int
}

// longestLine bounds one entry, far above any honest one.
const longestLine = 1 << 20

// readEntries reads one entry a line. A blank line is passed over.
func readEntries(r io.Reader) (batch, error) {
	var sent batch
	var bad refusal
	lines := bufio.NewScanner(r)
	lines.Buffer(nil, longestLine)
	n := 0
	for lines.Scan() {
		n++
		raw := bytes.TrimSpace(lines.Bytes())
		if n == 1 {
			raw = bytes.TrimPrefix(raw, []byte("\ufeff")) // some editors put it before the first line
		}
		if len(raw) == 0 {
			continue
		}
		e, err := record.ReadEntry(raw)
		var found record.Findings
		switch {
		case errors.As(err, &found):
			bad = append(bad, sentences(n, e, found)...)
		case err != nil:
			return batch{}, err
		}
		e.Written = time.Time{} // noted by the desk, whatever the sender says
		sent.entries = append(sent.entries, e)
		sent.lines = append(sent.lines, n)
	}
	switch err := lines.Err(); {
	case errors.Is(err, bufio.ErrTooLong):
		bad = append(bad, fmt.Sprintf("line %d: is longer than 1 MiB; accepted is one entry a line", n+1))
	case err != nil:
		return batch{}, fmt.Errorf("the entries cannot be read: %w", err)
	}
	if len(bad) > 0 {
		return batch{}, bad
	}
	if len(sent.entries) == 0 {
		return batch{}, refusal{"line 1: there is no entry; accepted is one JSON object a line"}
	}
	return sent, nil
}

// into adds the batch to the record at a path and says how many entries were
// not there before.
func (b batch) into(path string, passphrase func() ([]byte, error)) (fresh int, err error) {
	desk, err := openDesk(path, passphrase)
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, desk.Close()) }()
	before := entriesIn(desk)
	out, err := desk.Record(context.Background(), b.entries...)
	var unsaved *household.NotSavedError
	switch {
	case errors.As(err, &unsaved):
		return 0, fmt.Errorf("NOT SAVED – USE PAPER. %w", unsaved.Err)
	case err != nil:
		return 0, err
	}
	if bad := b.against(out.Findings); len(bad) > 0 {
		return 0, bad
	}
	return entriesIn(desk) - before, nil
}

// against words what was found about the entries. Of a session whose opening
// was not accepted only that is said, not that all the rest hangs in the air.
func (b batch) against(all []record.Findings) refusal {
	var bad refusal
	unopened := map[string]bool{}
	for i, found := range all {
		e := b.entries[i]
		if len(found) == 0 || unopened[e.Session] {
			continue
		}
		if e.Kind == "session_opened" {
			unopened[e.Session] = true
		}
		bad = append(bad, sentences(b.lines[i], e, found)...)
	}
	return bad
}

func entriesIn(desk *household.Desk) (n int) {
	desk.View(func(h *record.Household) { n = h.Entries() })
	return n
}

// rehearse adds the batch to a record that is thrown away.
func rehearse(b batch) error {
	folder, err := os.MkdirTemp("", "ebbline-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	_, err = b.into(filepath.Join(folder, "rehearsal.ebb"), nil)
	return err
}

// sentences words what was found about one entry: the line, the key, what is
// wrong, and for a value that is asked about, how to answer.
func sentences(line int, e record.Entry, found record.Findings) []string {
	var list []string
	for _, one := range found {
		s := fmt.Sprintf("line %d: %s: %s", line, one.Field, one.Words)
		if one.Step == record.Ask {
			s += fmt.Sprintf(`; to answer, add "again": {%q: %q}`, one.Field, typed(e, one.Field))
		}
		list = append(list, s)
	}
	return list
}

// typed gives the value of an entry as it would be typed again.
func typed(e record.Entry, key string) string {
	kind, ok := record.Find(e.Kind)
	if !ok {
		return ""
	}
	text, _ := kind.Typed(e.Body, key)
	return text
}
