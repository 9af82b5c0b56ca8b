package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// TestExitStatusOfEveryVerb: the status means the same whatever the verb is. A
// line that breaks the rules is 2; one that keeps them and names what is not
// there is 1, be it the record, a session or a person; what is done is 0.
func TestExitStatusOfEveryVerb(t *testing.T) {
	there := filepath.Join(t.TempDir(), "house.ebb")
	if code, _, complaint := ran(t, "", "record", "-file", there, "../../docs/examples/household.jsonl"); code != exitDone {
		t.Fatalf("the examples: %d, %s", code, complaint)
	}
	if code, _, complaint := ran(t, "", "record", "-file", there, "../../docs/examples/session.jsonl"); code != exitDone {
		t.Fatalf("the examples: %d, %s", code, complaint)
	}
	nowhere := filepath.Join(t.TempDir(), "nowhere.ebb")
	want := func(status int, args ...string) {
		t.Helper()
		code, out, complaint := ran(t, "", args...)
		if code != status || status != exitDone && (out != "" || complaint == "") {
			t.Errorf("ebbline %s: exit %d, want %d; %q on standard output, %q on standard error", strings.Join(args, " "), code, status, out, complaint)
		}
	}

	for _, v := range verbs {
		want(exitRefused, v.name, "--no-such-flag")
		want(exitRefused, v.name, "a", "b", "c")
	}

	// Those that read a record, with none there, and with an id that is nobody's.
	for name, args := range map[string][]string{
		"show": nil, "sheet": {"2026-03-02"}, "dose": nil, "week": nil, "due": nil, "water": nil, "shelf": nil, "order": nil, "recall": nil,
		"calendar": nil, "verify": nil, "copy": {filepath.Join(t.TempDir(), "copy.ebb")}, "export": nil,
	} {
		want(exitFailed, append([]string{name, "-file", nowhere}, args...)...)
	}
	for _, name := range []string{"dose", "week", "due", "water", "shelf", "order", "recall", "calendar"} {
		want(exitFailed, name, "-file", there, "--person", "p-nobody-here")
		want(exitRefused, name, "-file", there, "--on", "2026-02-30")
		want(exitRefused, name, "-file", there, "--on", "yesterday")
	}
	want(exitFailed, "sheet", "-file", there, "--blank", "--person", "p-nobody-here")

	// A session: by a date that is one, by a word that could be an id, by neither.
	for _, verb := range [][]string{{"sheet", "-file", there}, {"show", "-file", there, "session"}} {
		for name, status := range map[string]int{
			"2026-03-02": exitDone, "s-2026-03-02": exitDone,
			"2026-03-03": exitFailed, "1999-12-31": exitFailed, "s-2026-03-03": exitFailed, "no-such-session": exitFailed, "tonight": exitRefused,
			"2026-02-30": exitRefused, "2026-3-2": exitRefused, "02.03.2026": exitRefused, "20260302": exitRefused, "2. March": exitRefused, "": exitRefused,
		} {
			want(status, append(append([]string{}, verb...), name)...)
		}
	}
	want(exitFailed, "record", "-file", there, "no-such-file.jsonl")
}
